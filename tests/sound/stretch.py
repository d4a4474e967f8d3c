#!/usr/bin/env python3
"""Holds `sixrung stretch` to its targets, measured apart from the program's own tests.

A click train is made here, stretched by the program at five speeds, read back with soundfile and measured with numpy:
how long it became, how far each click lies from where it belongs, how much longer a click became (the shortest stretch
that holds nine tenths of its energy). Run it as `stretch.py path/to/sixrung`; needs numpy and soundfile.
Exit code 1 when a target is missed.
"""

import subprocess
import sys
import tempfile
from pathlib import Path

import numpy as np
import soundfile

SPEEDS = [0.5, 0.6, 0.7, 0.85, 1.0]
JITTER_MS = 0.1
SMEAR = 1.2


def click(rate):
    t = np.arange(int(0.012 * rate)) / rate
    return 0.8 * np.cos(2 * np.pi * 2000 * t) * np.exp(-t / 0.0015)


def train(rate, seconds=30.0, bpm=97.0, first=0.4):
    sound = np.zeros(int(seconds * rate))
    one = click(rate)
    places = np.round((first + np.arange(0, seconds - 1.5, 60.0 / bpm)) * rate).astype(int)
    for place in places:
        sound[place : place + len(one)] += one
    return sound, places


def width(samples):
    energy = np.concatenate([[0.0], np.cumsum(samples**2)])
    wanted = 0.9 * energy[-1]
    ends = np.searchsorted(energy, energy + wanted)
    fits = ends < len(energy)
    return np.min((ends - np.arange(len(energy)))[fits])


def offset(sound, place, one, rate):
    """Frames from where a click belongs to where it is most like itself, between samples by a parabola."""
    base, reach = int(np.floor(place)), int(0.004 * rate)
    piece = sound[base - reach : base + reach + len(one)]
    likeness = np.correlate(piece, one, "valid")
    top = int(np.argmax(likeness))
    part = 0.0
    if 0 < top < len(likeness) - 1:
        low, mid, high = likeness[top - 1 : top + 2]
        part = 0.5 * (low - high) / (low - 2 * mid + high)
    return top - reach + part - (place - base)


def measure(program, folder, rate, speed):
    sound, places = train(rate)
    source, target = folder / "in.wav", folder / "out.wav"
    soundfile.write(source, np.stack([sound, sound], 1), rate, subtype="FLOAT")
    subprocess.run([program, "stretch", source, "--speed", str(speed), "--out", target], check=True, capture_output=True)
    slowed, read_rate = soundfile.read(target)
    assert read_rate == rate
    slowed = slowed[:, 0]
    one, own = click(rate), width(click(rate))
    offsets = np.array([offset(slowed, place / speed, one, rate) for place in places]) * 1000 / rate
    around = int(0.02 * rate)
    smears = [width(slowed[int(place / speed) - around : int(place / speed) + around]) / own for place in places]
    ppm = (len(slowed) / (len(sound) / speed) - 1) * 1e6
    return ppm, np.max(np.abs(offsets)), np.max(np.abs(offsets - np.median(offsets))), np.max(smears), len(places)


def main():
    program = sys.argv[1]
    failed = False
    print("rate   speed  clicks  duration ppm  worst ms  jitter ms  smear")
    with tempfile.TemporaryDirectory() as name:
        for rate in (44_100, 48_000):
            for speed in SPEEDS:
                ppm, worst, jitter, smear, count = measure(program, Path(name), rate, speed)
                print(f"{rate:6} {speed:5}  {count:6}  {ppm:12.3f}  {worst:8.4f}  {jitter:9.4f}  {smear:5.2f}")
                # Half a frame is what a whole number of frames allows.
                failed |= abs(ppm) > 0.5 / (30 * rate) * 1e6 or jitter > JITTER_MS or smear > SMEAR
    sys.exit(1 if failed else 0)


if __name__ == "__main__":
    main()
