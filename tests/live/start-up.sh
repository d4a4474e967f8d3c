#!/usr/bin/env bash
# How long the window takes to its first frame, and what it costs at rest and while it plays.
#
# usage: start-up.sh SIXRUNG [STARTS]
# Needs: xvfb xdotool imagemagick pulseaudio libasound2-plugins. Without a graphics card the processor draws: the
# figures are the worst case. Say what else the machine was doing.
set -euo pipefail
sixrung=$(realpath "$1") starts=${2:-5}
source "$(dirname "$0")/room.sh"

now_ms() { date +%s%3N; }
# A pixel of the margin: black until the first frame is there.
drawn() { [ "$(import -window root -crop 1x1+4+400 -depth 8 rgb:- | od -An -tu1 | tr -s ' ')" != " 0 0 0" ]; }
ticks() { awk '{print $14 + $15}' "/proc/$1/stat"; }

for start in $(seq "$starts"); do
  sync
  began=$(now_ms)
  "$sixrung" lantern-on-the-quay --data "$work/data" 2>"$work/log" &
  app=$!
  until drawn; do :; done
  echo "start $start: first frame after $(( $(now_ms) - began )) ms (told apart to about 60 ms)"
  if [ "$start" != "$starts" ]; then kill $app; wait $app 2>/dev/null || true; sleep 1; fi
done
sleep 3
share() { before=$(ticks $app); sleep 20; after=$(ticks $app); echo "$1: $(( (after - before) * 5 / $(getconf CLK_TCK) )) % of one core over 20 s"; }
share "at rest, silent microphone"
xdotool windowfocus "$(xdotool search --name Sixrung | head -1)"
xdotool key space
sleep 2
share "playing"
