#!/usr/bin/env bash
# Whether the click stands on its frame, live: the real window plays the click alone, pass after pass, a rung faster about
# once a minute; what the sound server was given is recorded from its monitor, where no sample is lost as long as nothing
# stands still. Every click's first sample is held against the tempo, and every count-in against the pass before it.
#
# usage: clicks.sh SIXRUNG [SECONDS]
# Needs: xvfb xdotool pulseaudio pulseaudio-utils libasound2-plugins python3 with numpy.
# Exit: 0 all clicks within half a sample, 1 some are not, 3 inconclusive (too little was heard).
set -euo pipefail
sixrung=$(realpath "$1") seconds=${2:-600} python=${PYTHON:-python3}
source "$(dirname "$0")/room.sh"

# A journal with the guitar turned off, and nothing played before the passes.
journal "$work/data" volume.guitar -48 hear.first no
"$sixrung" lantern-on-the-quay --data "$work/data" 2>>"$work/log" &
sleep 12
xdotool windowfocus "$(xdotool search --name Sixrung | head -1)"
parecord --device=speaker.monitor --rate=48000 --channels=2 --format=float32le --raw "$work/heard.raw" &
recorder=$!
sleep 1
xdotool key space
end=$((SECONDS + seconds))
while [ $SECONDS -lt $end ]; do sleep 55; xdotool key plus; done
kill $recorder; wait $recorder 2>/dev/null || true
"$python" - "$work/heard.raw" <<'P'
import sys
import numpy as np

RATE = 48000
heard = np.abs(np.fromfile(sys.argv[1], dtype="<f4").reshape(-1, 2)).max(axis=1)
loud = np.flatnonzero(heard > 1e-6)
# A click is at most 0.4 s long, and silence follows: its first sample is the first after 50 ms of nothing.
at = loud[np.flatnonzero(np.diff(loud, prepend=-RATE) > RATE // 20)]
gaps = np.diff(at)
# A pass with its count-in is a run of equal gaps: a rest, or a pass that a key ended, begins another.
steps = np.abs(np.diff(gaps)) > 2 * RATE // 1000
groups = np.split(at, np.flatnonzero(np.append(True, steps) & np.append(steps, True)) + 1)
errors, starts, worst = [], [], 0.0
tempos = []
for group in groups:
    if len(group) < 8:
        continue
    # Whole beats a minute are what rungs are; the group's own mean says which.
    bpm = round(60 * RATE * (len(group) - 1) / (group[-1] - group[0]))
    spacing = 60 * RATE / bpm
    off = group - group[0] - spacing * np.arange(len(group))
    worst = max(worst, (off.max() - off.min()) / 2)
    errors.extend(np.diff(group) - spacing)
    starts.append((group[0], spacing, len(group)))
    tempos.append(bpm)
errors = np.array(errors)
print(f"{len(at)} clicks in {len(heard) / RATE:.0f} s, {len(starts)} passes with their count-ins, tempi {sorted(set(tempos))}")
print(f"every click against its pass's tempo: at most {worst:.3f} samples off")
counts, edges = np.histogram(errors, bins=np.arange(-2.0, 2.01, 0.25))
print("interval errors in samples:", {f"{edge:+.2f}": int(count) for edge, count in zip(edges, counts) if count},
      f"beyond: {int((np.abs(errors) >= 2).sum())}")
between = []
for (start, spacing, clicks), (following, _, _) in zip(starts, starts[1:]):
    beats = (following - start) / spacing
    # Whole passes only: one that a key ended is followed by a count-in of its own.
    if clicks == max(clicks for _, _, clicks in starts):
        between.append((beats - round(beats)) * spacing)
whole = [off for off in between if abs(off) <= 20]
print(f"{len(whole)} of {len(between)} count-ins on the beats of the pass before, at most {max(map(abs, whole), default=0):.3f} samples off; the others follow a key")
if len(starts) < 2:
    sys.exit(3)
sys.exit(0 if worst <= 0.5 + 1e-6 and max(map(abs, whole), default=0) <= 1 else 1)
P
