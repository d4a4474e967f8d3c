#!/usr/bin/env bash
# "Let me hear your chords" and what comes of it, live: the real window under Xvfb, PulseAudio with two null sinks, and
# takes of one player made outside our synthesiser. First the player's chords are played into the microphone, with no key
# pressed in between; then a pass from which the round trip is found; then one with another chord in bar 2 and a string
# that does not ring in bars 3 and 4. Last the worst bar is heard again.
#
# usage: chords.sh SIXRUNG MAKE-TAKES FOLDER-FOR-PICTURES
# Needs: xvfb xdotool imagemagick pulseaudio pulseaudio-utils libasound2-plugins fluidsynth fluid-soundfont-gm python3.
# Exit: 0 all right, 1 something not learned, not told or not heard again, 3 inconclusive (sound was lost on its way).
# What to see: each picture should tell a beginner what to do next.
set -euo pipefail
sixrung=$(realpath "$1") make_takes=$(realpath "$2")
mkdir -p "$3"
pictures=$(realpath "$3")
source "$(dirname "$0")/room.sh"

lesson=$work/three-by-the-gate.lesson.ron
cat > "$lesson" <<'L'
// Three shapes and one strum, round and round.
Lesson(
    version: 1,
    title: "Three by the Gate",
    tempo: 126,
    beat: "quarter",
    meter: "4/4",
    key: "D major",
    shapes: [
        (name: "D", frets: "xx0232", fingers: "---132"),
        (name: "A", frets: "x02220", fingers: "--123-"),
        (name: "G", frets: "320033", fingers: "21--34"),
    ],
    patterns: [(name: "plain", grid: "eighths", strokes: "D - D> U - U D> U")],
    sections: [
        (
            name: "Round",
            entries: [
                (chord: "D", pattern: "plain"),
                (chord: "A", pattern: "plain"),
                (chord: "G", pattern: "plain", times: 2),
                (chord: "D", pattern: "plain", times: 2),
                (chord: "A", pattern: "plain", times: 2),
            ],
        ),
    ],
    form: ["Round"],
)
L
"$sixrung" check "$lesson"
player=(--player-seed 5 --condition quiet)
"$make_takes" --out "$work/learn" --learn "$lesson" "${player[@]}" >/dev/null
take() { "$make_takes" --out "$work/$1" --lesson "$lesson" --section Round --bpm 76 --faults "$2" --seed "$3" --bias-ms=0 --lead-s 1 "${player[@]}" >/dev/null; }
take first none 11
take faulty wrong_chord:7,muted_string:13 13

# The strokes of each chord when the page asks for them; then the two passes where the player would play them.
python3 - "$work" <<'P'
import glob, json, sys
from takes import RATE, lay, read, write
work, bar = sys.argv[1], 4 * 60 / 76

learn, truth = read(glob.glob(f"{work}/learn/*.wav")[0]), json.load(open(glob.glob(f"{work}/learn/*.json")[0]))
out, marks = [0.0] * round(4.0 * RATE), []
for chord in truth["shapes"]:
    for slow in True, False:
        times = [s["played_s"] for s in truth["strokes"] if s["chord"] == chord and s["slow"] == slow]
        marks.append(len(out) / RATE)
        part = learn[round((times[0] - 0.1) * RATE):round((times[-1] + 1.3) * RATE)]
        fade = RATE // 5
        part[-fade:] = [s * (1 - i / fade) for i, s in enumerate(part[-fade:])]
        out += part + [0.0] * round((2.2 if slow else 3.4) * RATE)
write(f"{work}/chords.wav", out)
print(" ".join(f"{mark:.1f}" for mark in marks + [len(out) / RATE]), file=open(f"{work}/marks", "w"))
out = []
for number, name in enumerate(["first", "faulty"]):
    lay(out, (number * 11 + 1) * bar - 1, read(f"{work}/{name}/take.wav")[:round((1 + 8.5 * bar) * RATE)])
write(f"{work}/evening.wav", out)
P
read -r first_slow first_turn second_slow _ _ _ all < "$work/marks"

picture() { import -window root "$pictures/$1.png"; }
# Waits until so many seconds after `began`.
until_s() { python3 -c "import sys, time; time.sleep(max(0, float(sys.argv[1]) + float(sys.argv[2]) - time.time()))" "$began" "$1"; }

journal "$work/data" hear.first no
"$sixrung" "$lesson" --data "$work/data" 2>"$work/log" &
app=$!
sleep 12 # a stream's time stamps settle in its first ten seconds
xdotool windowfocus "$(xdotool search --name Sixrung | head -1)"
picture 1-before
xdotool key k
began=$(date +%s.%N)
paplay --device=guitar "$work/chords.wav" &
until_s "$(python3 -c "print($first_slow - 2)")"; picture 2-fingers
until_s "$(python3 -c "print($first_slow + 4)")"; picture 3-slow-strokes
until_s "$(python3 -c "print($first_turn + 3)")"; picture 4-in-turn
until_s "$(python3 -c "print($second_slow - 1.5)")"; picture 5-next-chord
until_s "$(python3 -c "print($all + 1)")"; picture 6-end
echo "learned:"; kept "select guitar, lesson from learned order by lesson" | tee "$work/learned"
[ "$(grep -c shape "$work/learned")" = 3 ] && grep -q directions "$work/learned" || { echo "not all of it was learned"; exit 1; }
xdotool key space
sleep 1
xdotool key space
sleep 0.15
paplay --device=guitar "$work/evening.wav" &
began=$(date +%s.%N)
until_s 33; picture 7-round-trip
until_s 66; picture 8-result
echo "kept:"; kept | tee "$work/kept"
if grep -q gap "$work/kept"; then echo "inconclusive: sound was lost on its way"; exit 3; fi
grep -q not_clean "$work/kept" || { echo "the pass with another chord was not told"; exit 1; }

# Each voice is heard from the speakers, and lasts twice as long slowly.
hear() {
  parecord --device=speaker.monitor --rate=48000 --channels=1 --format=float32le --file-format=wav "$work/$1.wav" &
  recorder=$!
  sleep 0.5; xdotool key $2; sleep 1.5; picture "$3"; sleep "$4"
  kill $recorder; wait $recorder 2>/dev/null || true
}
hear you y 9-you 4
hear lesson g 10-lesson 4
hear both w 11-both 4
xdotool key z
hear slow w 12-both-slowly 8
python3 - "$work" <<'P'
import math, struct, sys
lengths = {}
for name in ["you", "lesson", "both", "slow"]:
    data = open(f"{sys.argv[1]}/{name}.wav", "rb").read()
    at = data.index(b"data") + 8
    samples = struct.unpack(f"<{(len(data) - at) // 4}f", data[at:at + (len(data) - at) // 4 * 4])
    heard = [i for i, s in enumerate(samples) if abs(s) > 1e-3]
    loud = math.sqrt(sum(s * s for s in samples) / max(1, len(heard)))
    lengths[name] = (heard[-1] - heard[0]) / 48000 if heard else 0
    print(f"{name}: {lengths[name]:.2f} s, {20 * math.log10(loud + 1e-9):.1f} dB")
if min(lengths.values()) < 2 or not 1.6 < lengths["slow"] / lengths["both"] < 2.4:
    sys.exit("not all of it was heard again")
print("right: chords learned, the pass told, its worst bar heard again")
P
