#!/usr/bin/env bash
# The very first start, live: the real window under Xvfb, an empty journal, no lesson named. One key is pressed; the part is
# heard, then a take made outside our synthesiser is played into the microphone. Says when the window was there, and how
# long after the key the first verdict was kept; pictures in order.
#
# usage: first-run.sh SIXRUNG MAKE-TAKES FOLDER
# Needs: xvfb xdotool imagemagick pulseaudio pulseaudio-utils libasound2-plugins fluidsynth fluid-soundfont-gm python3.
# Exit: 0 told within a minute after the key, 1 not, 3 inconclusive (sound was lost on its way).
set -euo pipefail
sixrung=$(realpath "$1") make_takes=$(realpath "$2") pictures=$3
here=$(cd "$(dirname "$0")" && pwd)
lesson=$here/../../assets/lessons/lantern-on-the-quay.lesson.ron
source "$here/room.sh"
mkdir -p "$pictures"

take() { "$make_takes" --out "$work/$1" --lesson "$lesson" --section Verse --bpm 76 --faults none --seed "$2" --bias-ms=0 --lead-s 1 --condition quiet >/dev/null; }
take first 21
take second 22
# A bar counted in and four heard, a bar counted in and four played, two of rest, a bar counted in and four played.
python3 - "$work" <<'P'
import sys
from takes import RATE, lay, read, write
work, bar, out = sys.argv[1], 4 * 60 / 76, []
for bars, name in [(6, "first"), (13, "second")]:
    # The four bars, and the hand that stops the strings after them.
    part = read(f"{work}/{name}/take.wav")[:round((1 + 4.05 * bar) * RATE)]
    part[-4800:] = [sample * (1 - place / 4800) for place, sample in enumerate(part[-4800:])]
    # The count-in after what was heard comes a few frames of the window later than the bar says: a player follows it.
    lay(out, bars * bar + 0.2 - 1, part)
write(f"{work}/player.wav", out)
P
picture() { import -window root "$pictures/$1.png"; }
now() { date +%s.%N; }
# Waits until so many seconds after the key.
until_s() { python3 -c "import sys, time; time.sleep(max(0, float(sys.argv[1]) + float(sys.argv[2]) - time.time()))" "$began" "$1"; }

started=$(now)
"$sixrung" --data "$work/data" 2>"$work/log" &
until xdotool search --name Sixrung >/dev/null 2>&1; do sleep 0.1; done
python3 -c "print(f'window after {$(now) - $started:.1f} s')"
# A stream's time stamps settle in its first ten seconds: about as long as a newcomer looks.
sleep 11
picture 1-first-look
xdotool windowfocus "$(xdotool search --name Sixrung | head -1)"
xdotool key space
began=$(now)
sleep 0.15
paplay --device=guitar "$work/player.wav" &
until_s 2; picture 2-counted-in
until_s 9; picture 3-heard-first
until_s 25; picture 4-playing
until_s 35; picture 5-getting-to-know
for _ in $(seq 400); do
  if [ "$(kept 2>/dev/null | wc -l)" -ge 2 ]; then break; fi
  sleep 0.1
done
told=$(python3 -c "print(f'{$(now) - $began:.1f}')")
sleep 0.5; picture 6-told
echo "kept:"; kept
echo "told $told s after the key"
if kept | grep -q gap; then exit 3; fi
python3 -c "import sys; sys.exit(0 if $told <= 60 else 1)"
