#!/usr/bin/env python3
"""Beats proposed for a recording, beside librosa's, scored by mir_eval.

Loops of drums under a ringing chord are made here from seeds: even ones, and ones whose players drift. Our proposals
come from `cargo run --release -p sixrung --example beats`, built before. "Told" is the tempo a lesson would name, 4 % off:
librosa takes such a word as where to look (`start_bpm`) or as a fact (`bpm`). Untold, half or twice the tempo counts as
wrong here, though it is no fact of the sound. Run it as `beats.py path/to/beats`; needs numpy, soundfile, librosa, mir_eval.
"""

import subprocess
import sys
import tempfile
from pathlib import Path

import librosa
import mir_eval
import numpy as np
import soundfile

RATE = 44_100
SEEDS = range(12)


def beats(rng, seconds):
    """Times of beats, and the tempo they begin at."""
    bpm = rng.uniform(62, 168)
    drift = rng.choice([0.0, 0.0, 0.06, -0.06])
    at, times = rng.uniform(0.3, 2.0), []
    while at < seconds:
        times.append(at + rng.normal(0, 0.004))
        at += 60 / (bpm * (1 + drift * at / seconds))
    return np.array(times), bpm


def add(sound, at, piece):
    start = int(at * RATE)
    piece = piece[: max(0, len(sound) - start)]
    sound[start : start + len(piece)] += piece


def drums(rng, times, seconds):
    sound = np.zeros(int((seconds + 1) * RATE))
    t = np.arange(int(0.25 * RATE)) / RATE
    low = 0.8 * np.sin(2 * np.pi * (50 * t + 2.8 * (1 - np.exp(-t / 0.04)))) * np.exp(-t / 0.08)
    for index, at in enumerate(times):
        if index % 2 == 0:
            add(sound, at, low)
        else:
            add(sound, at, 0.4 * rng.uniform(-1, 1, len(t)) * np.exp(-t / 0.05))
        if index + 1 < len(times) and rng.uniform() < 0.8:
            add(sound, (at + times[index + 1]) / 2, 0.12 * rng.uniform(-1, 1, len(t)) * np.exp(-t / 0.012))
    whole = np.arange(len(sound)) / RATE
    for hertz in (146.83, 185.0, 220.0):
        sound += 0.08 * np.sin(2 * np.pi * hertz * whole) * np.minimum(1, whole / 0.5)
    return sound


def score(wanted, found, window):
    return mir_eval.beat.f_measure(wanted, np.sort(found), f_measure_threshold=window)


def proposed(program, path, *told):
    ran = subprocess.run([program, path, *told], check=True, capture_output=True, text=True)
    return np.array([float(line) for line in ran.stdout.split()])


def librosas(sound, **told):
    return librosa.beat.beat_track(y=sound, sr=RATE, units="time", **told)[1]


def main():
    program = sys.argv[1]
    names = ["ours, told", "ours, untold", "librosa, start_bpm", "librosa, bpm", "librosa, untold"]
    rows = []
    print("seed    bpm  F within 25 ms of: " + " | ".join(names))
    with tempfile.TemporaryDirectory() as name:
        for seed in SEEDS:
            rng = np.random.default_rng(seed)
            times, bpm = beats(rng, 40.0)
            sound = drums(rng, times, 40.0)
            path = Path(name) / "loop.wav"
            soundfile.write(path, 0.5 * sound, RATE)
            told = bpm * rng.choice([0.96, 1.04])
            found = [
                proposed(program, path, f"{told:.2f}"),
                proposed(program, path),
                librosas(sound, start_bpm=told),
                librosas(sound, bpm=told),
                librosas(sound),
            ]
            rows.append([[score(times, one, window) for one in found] for window in (0.025, 0.070)])
            print(f"{seed:4} {bpm:6.1f}  " + "  ".join(f"{value:.3f}" for value in rows[-1][0]))
    for window, mean in zip((25, 70), np.mean(rows, axis=0)):
        print(f"mean, {window} ms  " + "  ".join(f"{value:.3f}" for value in mean))


if __name__ == "__main__":
    main()
