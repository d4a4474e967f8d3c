#!/usr/bin/env bash
# The change drill, live: the real window under Xvfb, PulseAudio with two null sinks, and a drill of 30 changes, two of
# them botched first, made outside our synthesiser and played into the microphone. What the journal then holds is held
# against the drill's truth: how many changes, which were botched, and how long each took.
#
# usage: changes.sh SIXRUNG MAKE-TAKES FOLDER-FOR-PICTURES
# Needs: xvfb xdotool imagemagick pulseaudio pulseaudio-utils libasound2-plugins fluidsynth fluid-soundfont-gm python3.
# Exit: 0 all right, 1 a count or a time is wrong, 3 inconclusive (sound was lost on its way).
set -euo pipefail
sixrung=$(realpath "$1") make_takes=$(realpath "$2")
mkdir -p "$3"
pictures=$(realpath "$3")
source "$(dirname "$0")/room.sh"
lesson=$(realpath "$(dirname "$0")/../takes/drill/open-shapes.lesson.ron")
from=G to=D

"$make_takes" --out "$work/drill" --drill "$lesson" --from $from --to $to --changes 30 --botched 2 --count 1 \
  --condition quiet --seed 5 >/dev/null
take=$work/drill/drill-0000.wav truth=$work/drill/drill-0000.json

# Holds a list of [seconds, botched] against the truth: 15 ms either way a stroke, so 30 a change.
compare() { python3 - "$truth" "$1" "$2" <<'P'
import json, sys
truth, heard, what = json.load(open(sys.argv[1]))["changes"], json.load(open(sys.argv[2])), sys.argv[3]
errors = sorted(abs(took - change["took_s"]) * 1000 for (took, _), change in zip(heard, truth))
botched = [sum(b for _, b in heard), sum(change["botched"] for change in truth)]
print(f"{what}: {len(heard)} of {len(truth)} changes, {botched[0]} of {botched[1]} botched, error median "
      f"{errors[len(errors) // 2]:.1f} ms, worst {errors[-1]:.1f} ms" if errors else f"{what}: no change")
same = len(heard) == len(truth) and all(b == c["botched"] for (_, b), c in zip(heard, truth))
sys.exit(0 if same and errors[-1] <= 30 else 1)
P
}

# The file itself, without a window: what is heard live can be no better.
"$sixrung" changes "$lesson" "$take" --from $from --to $to --json > "$work/file.json"
python3 -c 'import json, sys; print(json.dumps([[c["took_s"], c["botched"]] for c in json.load(sys.stdin)["changes"]]))' \
  < "$work/file.json" > "$work/file.list"
compare "$work/file.list" file

# The same, live: a lesson of these two shapes, its page of changes, the drill played into the microphone.
cat > "$work/two.lesson.ron" <<'L'
Lesson(
    version: 1,
    title: "Two by the Door",
    tempo: 80,
    meter: "4/4",
    shapes: [
        (name: "G", frets: "320003", fingers: "21---3"),
        (name: "D", frets: "xx0232", fingers: "---132"),
    ],
    patterns: [(name: "one", grid: "eighths", strokes: "D - - - - - - -")],
    sections: [(name: "Round", entries: [(chord: "G", pattern: "one"), (chord: "D", pattern: "one")])],
    form: ["Round"],
)
L
picture() { import -window root "$pictures/$1.png"; }
"$sixrung" "$work/two.lesson.ron" --data "$work/data" 2>"$work/log" &
app=$!
sleep 12 # a stream's time stamps settle in its first ten seconds
xdotool windowfocus "$(xdotool search --name Sixrung | head -1)"
xdotool key f; sleep 1; xdotool key 2; sleep 2
picture 1-before
seconds=$(python3 -c 'import sys, wave; w = wave.open(sys.argv[1]); print(round(w.getnframes() / w.getframerate()))' "$take" 2>/dev/null || echo 60)
paplay --device=guitar "$take" &
played=$!
sleep $((seconds / 4))
picture 2-slow
sleep $((seconds / 2))
picture 3-on
wait "$played" || true
sleep 4
picture 4-after
xdotool key ctrl+q
wait "$app" || true
python3 - "$work/data/journal.sqlite" > "$work/live.list" <<'P'
import json, sqlite3, sys
db = sqlite3.connect(f"file:{sys.argv[1]}?mode=ro", uri=True)
print(json.dumps([[ms / 1000, botched] for ms, botched in db.execute("SELECT took_ms, botched FROM changes ORDER BY id")]))
P
compare "$work/live.list" live
