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
import struct, sys, wave
work, bar, rate = sys.argv[1], 4 * 60 / 76, 48000
out = []
for bars, name in [(6, "first"), (13, "second")]:
    with open(f"{work}/{name}/take.wav", "rb") as file:
        data = file.read()
    at = data.index(b"data")
    samples = data[at + 8:at + 8 + struct.unpack("<I", data[at + 4:at + 8])[0]]
    bits = struct.unpack("<H", data[34:36])[0]
    read = [value / 32768 for value in struct.unpack(f"<{len(samples) // 2}h", samples)] if bits == 16 else list(
        struct.unpack(f"<{len(samples) // 4}f", samples))
    # The count-in after what was heard comes a few frames of the window later than the bar says: a player follows it.
    start = round((bars * bar + 0.2) * rate) - rate
    out += [0.0] * (start - len(out))
    # The four bars, and the hand that stops the strings after them.
    part = read[:round((1 + 4.05 * bar) * rate)]
    part[-4800:] = [sample * (1 - place / 4800) for place, sample in enumerate(part[-4800:])]
    out = out[:start] + part
with wave.open(f"{work}/player.wav", "wb") as file:
    file.setnchannels(1), file.setsampwidth(2), file.setframerate(rate)
    file.writeframes(b"".join(struct.pack("<h", max(-32767, min(32767, round(s * 32767)))) for s in out))
P
kept() { python3 - "$work/data/journal.sqlite" <<'P'
import sqlite3, sys
db = sqlite3.connect(f"file:{sys.argv[1]}?mode=ro", uri=True)
for row in db.execute("select verdict, ifnull(reason, ''), in_time, expected from passes order by id"):
    print(*row)
P
}
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
