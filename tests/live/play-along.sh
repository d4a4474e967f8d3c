#!/usr/bin/env bash
# The whole loop, live: the real window under Xvfb, PulseAudio with two null sinks, and takes made outside our
# synthesiser played into the microphone. Three passes: one from which the round trip is found, one clean, one with five
# planted mistakes. Then the program is killed in the middle of the fourth, started again, and asked what it kept.
#
# usage: play-along.sh SIXRUNG MAKE-TAKES [FOLDER FOR PICTURES]
# Needs: xvfb xdotool imagemagick pulseaudio pulseaudio-utils libasound2-plugins fluidsynth fluid-soundfont-gm python3.
# Exit: 0 all right, 1 a wrong verdict or a pass lost, 3 inconclusive (every try had gaps).
set -euo pipefail
sixrung=$(realpath "$1") make_takes=$(realpath "$2") pictures=${3:-}
here=$(cd "$(dirname "$0")" && pwd)
lesson=$here/../../assets/lessons/lantern-on-the-quay.lesson.ron
source "$(dirname "$0")/room.sh"

take() { "$make_takes" --out "$work/$1" --lesson "$lesson" --section Verse --bpm 76 --faults "$2" --seed "$3" --bias-ms=0 --lead-s 1 --condition quiet >/dev/null; }
take first none 11
take clean none 12
take faulty missed:5,late:20,missed:30,late:38,missed:41 13
# One bar of count-in, eight of playing, two of rest, at 76 beats a minute: the takes lie where the player would play.
python3 - "$work" <<'P'
import sys
from takes import RATE, lay, read, write
work, bar, out = sys.argv[1], 4 * 60 / 76, []
for number, name in enumerate(["first", "clean", "faulty", "clean"]):
    lay(out, (number * 11 + 1) * bar - 1, read(f"{work}/{name}/take.wav")[:round((1 + 8.5 * bar) * RATE)])
write(f"{work}/evening.wav", out)
P

picture() { if [ -n "$pictures" ]; then import -window root "$pictures/$1.png"; fi; }

for try in 1 2 3; do
  rm -rf "$work/data"
  journal "$work/data" hear.first no
  "$sixrung" "$lesson" --data "$work/data" 2>"$work/log" &
  app=$!
  sleep 12 # a stream's time stamps settle in its first ten seconds
  xdotool windowfocus "$(xdotool search --name Sixrung | head -1)"
  xdotool key space
  sleep 0.15
  paplay --device=guitar "$work/evening.wav" &
  sleep 8; picture playing
  sleep 23; picture first-result
  sleep 70; picture faulty-result
  sleep 12 # in the middle of the fourth pass
  kill -9 $app; wait $app 2>/dev/null || true; kill %paplay 2>/dev/null || true
  "$sixrung" "$lesson" --data "$work/data" 2>>"$work/log" &
  app=$!
  sleep 4; picture started-again
  kill $app; wait $app 2>/dev/null || true
  echo "try $try, kept:"; kept | tee "$work/kept"
  if grep -q gap "$work/kept"; then continue; fi
  python3 - "$work/kept" <<'P'
import sys
rows = [line.split()[0] for line in open(sys.argv[1])]
wanted = ["not_judged", "clean", "not_clean"]
if rows != wanted:
    sys.exit(f"kept {rows}, wanted {wanted}")
print("right: the round trip found, the clean pass clean, the faulty one not, and all three kept through kill -9")
P
  exit 0
done
echo "inconclusive: every try had gaps in its sound"
exit 3
