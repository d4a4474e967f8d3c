#!/usr/bin/env bash
# The tuner, live: the real window under Xvfb, and a recorded A string, 20 cents flat, played into the microphone.
#
# usage: tuner.sh SIXRUNG FOLDER-FOR-PICTURES
# Needs: xvfb xdotool imagemagick pulseaudio pulseaudio-utils libasound2-plugins fluid-soundfont-gm, python3 with numpy.
# What to see: `nothing` asks for a string; `flat` says A2, some 20 cents flat, tighten it.
set -euo pipefail
sixrung=$(realpath "$1") pictures=$2
mkdir -p "$pictures"
here=$(cd "$(dirname "$0")" && pwd)
source "$(dirname "$0")/room.sh"

# The sound font's own A string, slowed by 20 cents.
PYTHONPATH=$here/../takes python3 - "$work/string.wav" <<'P'
import sys, wave
import numpy as np
from tuner_table import sound_font_samples
font = "/usr/share/sounds/sf2/FluidR3_GM.sf2"
name, rate, key, sound = next(found for found in sound_font_samples(font, ["steel a3"]))
sound = sound[: 4 * rate]
at = np.arange(0, len(sound) - 1, 2 ** (-20 / 1200))
sound = np.interp(at, np.arange(len(sound)), sound)
with wave.open(sys.argv[1], "wb") as out:
    out.setparams((1, 2, rate, 0, "NONE", ""))
    out.writeframes((0.5 * sound / np.abs(sound).max() * 32767).astype("<i2").tobytes())
P

"$sixrung" --data "$work/data" 2>"$work/log" &
sleep 12
xdotool windowfocus "$(xdotool search --name Sixrung | head -1)"
xdotool key u
sleep 2; import -window root "$pictures/tuner-nothing.png"
paplay --device=guitar "$work/string.wav" &
for moment in 1 2 3 4; do sleep 1; import -window root "$pictures/tuner-flat-$moment.png"; done; cat "$work/log"
