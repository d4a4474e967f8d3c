#!/usr/bin/env python3
"""Loudness and true peak of every demo at every rung, by two meters: libebur128 in its Rust port, which the program carries
(`render --measure`), and pyloudnorm, which knows nothing of it. Wanted: −18 ± 1 LUFS, at most −1 dBTP, meters within 0.1 LU.

usage: loudness.py SIXRUNG    needs: numpy soundfile pyloudnorm
"""

import json
import pathlib
import subprocess
import sys
import tempfile

import pyloudnorm
import soundfile

sixrung = sys.argv[1]
lessons = sorted(pathlib.Path(__file__).parents[2].glob("assets/lessons/*.lesson.ron"))
worst, loudest, apart, count = 0.0, -99.0, 0.0, 0
with tempfile.TemporaryDirectory() as folder:
    out = f"{folder}/out.wav"
    for lesson in lessons:
        for percent in (50, 55, 60, 67, 74, 82, 90, 100):
            for parts in ("strum", "click,strum", "click,strum,bass,brushes"):
                call = [sixrung, "render", str(lesson), "--out", out, "--percent", str(percent), "--parts", parts]
                told = json.loads(subprocess.run([*call, "--measure", "--json"], check=True, capture_output=True).stdout)
                sound, rate = soundfile.read(out)
                other = pyloudnorm.Meter(rate).integrated_loudness(sound)
                lufs, peak = told["loudness_lufs"], told["true_peak_dbtp"]
                worst, apart = max(worst, abs(lufs + 18)), max(apart, abs(lufs - other))
                loudest, count = max(loudest, peak), count + 1
                print(f"{lesson.name[:-11]:24} {percent:3} % {parts:25} {lufs:6.2f} LUFS {other:6.2f} {peak:6.2f} dBTP")
print(f"{count} renderings: at most {worst:.2f} LU from -18; true peak at most {loudest:.2f} dBTP; meters {apart:.3f} LU apart")
sys.exit(0 if worst <= 1 and loudest <= -1 and apart <= 0.1 else 1)
