#!/usr/bin/env bash
# The learner's own recording, live: the program renders its own demo as one, opens it in the window, takes the beats it
# finds, plays it on its page and then along with a pass; pictures of each step, and what the speakers played.
#
# usage: recording.sh SIXRUNG FOLDER
# Needs: xvfb xdotool imagemagick pulseaudio pulseaudio-utils libasound2-plugins. The machine must not be busy.
set -euo pipefail
sixrung=$(realpath "$1") pictures=$2
source "$(dirname "$0")/room.sh"
mkdir -p "$pictures"

"$sixrung" render lantern-on-the-quay --bpm 124 --count-in --out "$work/an evening take.wav"
journal "$work/data" hear.first no
"$sixrung" --data "$work/data" 2>"$work/log" &
window=$!
until xdotool search --name Sixrung >/dev/null 2>&1; do sleep 0.5; done
sleep 4
xdotool windowfocus "$(xdotool search --name Sixrung | head -1)"
shot() { import -window root "$pictures/recording-$1.png"; }

xdotool key r; sleep 2; shot empty
# The field for the file's name.
xdotool mousemove 300 198 click 1; sleep 1
xdotool type --delay 20 "$work/an evening take.wav"; xdotool key Return
sleep 0.7; shot reading
sleep 12; shot read
# Its beats, by the link that offers them.
xdotool mousemove 270 596 click 1; sleep 1; xdotool key space; sleep 4; shot playing
for tap in 1 2 3 4 5 6; do xdotool key Return; sleep 0.48; done; shot tapped
xdotool key space; sleep 1; xdotool key Left; sleep 1; xdotool key a; sleep 1; xdotool key bracketright; sleep 3; shot anchor
xdotool key t; sleep 1; shot dark
xdotool key t t t; sleep 6
xdotool key Escape; sleep 1; shot stand
parecord --device=speaker.monitor --file-format=wav "$work/out.wav" & recorder=$!
xdotool key space; sleep 14; shot pass
kill $recorder || true
cp "$work/out.wav" "$pictures/recording-pass.wav" || true
ps -o rss= -p $window | awk '{printf "%.0f MB resident while it plays\n", $1 / 1024}'
cat "$work/log" | tail -5
