#!/usr/bin/env bash
# Calibration, live: what goes to the speakers comes back into the microphone, at once and through a delay of the sound
# server's, and `sixrung calibrate` measures it; beside it stands what crates/devices' own loopback example measures on
# the same devices. Then the window's page, before and after.
#
# usage: calibrate.sh SIXRUNG LOOPBACK-EXAMPLE [FOLDER-FOR-PICTURES]
# Needs: xvfb xdotool imagemagick pulseaudio pulseaudio-utils libasound2-plugins. The machine must not be busy.
set -euo pipefail
sixrung=$(realpath "$1") loopback=$(realpath "$2") pictures=${3:-}
source "$(dirname "$0")/room.sh"

both() {
  echo "$1: the example, after ten seconds:"
  "$loopback" 25 2>/dev/null | grep -E "^ *[12][0-9]\.[0-9]+ heard" | awk '{sum += $3; square += $3 * $3} END {
    mean = sum / NR; printf "  %.2f ms, spread %.2f, %d clicks\n", mean, sqrt(square / NR - mean * mean), NR}'
  for again in 1 2; do "$sixrung" calibrate --data "$work/data" --json || echo "  exit $?"; done
}
pactl load-module module-remap-source source_name=joined master=speaker.monitor >/dev/null
pactl set-default-source joined
both "joined at once"
pactl set-default-source mic
pactl load-module module-loopback source=speaker.monitor sink=guitar latency_msec=60 >/dev/null
sleep 5
both "through a delay of the server's, asked for 60 ms"
pactl unload-module module-loopback
echo "not joined:"
"$sixrung" calibrate --data "$work/data" || echo "  exit $?"

if [ -n "$pictures" ]; then
  mkdir -p "$pictures"
  pactl set-default-source joined
  "$sixrung" --data "$work/window" 2>"$work/log" &
  sleep 12
  xdotool windowfocus "$(xdotool search --name Sixrung | head -1)"
  xdotool key e
  sleep 2; import -window root "$pictures/calibrate-before.png"
  # The first link of the page.
  xdotool mousemove 110 262 click 1
  sleep 5; import -window root "$pictures/calibrate-measuring.png"
  sleep 9; import -window root "$pictures/calibrate-after.png"
fi
