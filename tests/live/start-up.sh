#!/usr/bin/env bash
# How long the window takes to its first frame, and what it costs at rest and while it plays.
#
# usage: start-up.sh SIXRUNG [STARTS]
# Needs: xvfb xdotool imagemagick pulseaudio libasound2-plugins. Without a graphics card the processor draws: the
# figures are the worst case. Say what else the machine was doing.
set -euo pipefail
sixrung=$(realpath "$1") starts=${2:-5}
work=$(mktemp -d)
trap 'kill $(jobs -p) 2>/dev/null || true; rm -rf "$work"' EXIT
export DISPLAY=:18 ALSA_CONFIG_PATH=$work/asound.conf
cat > "$work/rooms.pa" <<P
load-module module-native-protocol-unix auth-anonymous=1 socket=$work/pulse.sock
load-module module-null-sink sink_name=speaker rate=48000 channels=2 format=float32le norewinds=1
load-module module-null-sink sink_name=guitar rate=48000 channels=1 format=float32le norewinds=1
load-module module-remap-source source_name=mic master=guitar.monitor
set-default-sink speaker
set-default-source mic
P
cat > "$ALSA_CONFIG_PATH" <<P
</usr/share/alsa/alsa.conf>
pcm.!default { type pulse server "unix:$work/pulse.sock" }
ctl.!default { type pulse server "unix:$work/pulse.sock" }
P
pulseaudio -n -F "$work/rooms.pa" --exit-idle-time=-1 --use-pid-file=no --realtime=no --high-priority=no 2>/dev/null &
Xvfb $DISPLAY -screen 0 1280x800x24 2>/dev/null &
sleep 2

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
