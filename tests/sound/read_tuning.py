#!/usr/bin/env python3
"""Our notes read by other people's pitch trackers: librosa's and aubio's YIN.

    cargo run --release -p sixrung-audio --example notes -- NOTES
    python3 read_tuning.py NOTES

Stiff strings have partials above the harmonics of the first, and a tracker of periods reads between them: what is
tuned is the first partial, so it alone is let through (0.6 to 1.5 times its frequency, by FFT). For the trackers' own
error they read made tones of exactly the pitch asked for in the same way. Needs librosa and aubio. Exit 1 when our
notes are further off than that and 0.2 cent.
"""

import argparse
import sys
from pathlib import Path

import aubio
import librosa
import numpy as np

RATE = 48_000
OPEN = [(6, 40), (5, 45), (4, 50), (3, 55), (2, 59), (1, 64)]


def hertz(key):
    return 440 * 2 ** ((key - 69) / 12)


def tone(key):
    """Two seconds of a harmonic tone."""
    at = np.arange(2 * RATE) / RATE
    numbers = range(1, min(30, int(RATE / 2.5 / hertz(key))))
    return 0.2 * sum(np.sin(2 * np.pi * number * hertz(key) * at) / number**2 for number in numbers) * np.exp(-at)


def first_partial(sound, key):
    spectrum = np.fft.rfft(sound)
    hertz_of = np.fft.rfftfreq(len(sound), 1 / RATE)
    spectrum[(hertz_of < 0.6 * hertz(key)) | (hertz_of > 1.5 * hertz(key))] = 0
    inside = np.fft.irfft(spectrum, len(sound))
    return inside[RATE // 4 : -RATE // 4]


def by_librosa(sound, key):
    low, high = hertz(key - 4), hertz(key + 4)
    return float(np.median(librosa.yin(sound, fmin=low, fmax=high, sr=RATE, frame_length=8192)))


def by_aubio(sound, _):
    reader = aubio.pitch("yin", 8192, 1024, RATE)
    reader.set_unit("Hz")
    reader.set_silence(-90)
    sound = sound.astype(np.float32)
    found = [reader(sound[at : at + 1024])[0] for at in range(0, len(sound) - 1024, 1024)]
    return float(np.median(found[10:]))


def cents(found, key):
    return 1200 * np.log2(found / hertz(key))


def main():
    parser = argparse.ArgumentParser(description=__doc__.splitlines()[0])
    parser.add_argument("notes", type=Path)
    options = parser.parse_args()
    readers = {"librosa YIN": by_librosa, "aubio YIN": by_aubio}
    off = {name: ([], []) for name in readers}
    for string, open_key in OPEN:
        for fret in range(6):
            key = open_key + fret
            sound = np.fromfile(options.notes / f"string{string}-fret{fret}.f32", "<f4").astype(float)
            sound = sound[int(0.2 * RATE) : int(2.2 * RATE)]
            for name, read in readers.items():
                off[name][0].append(cents(read(first_partial(sound, key), key), key))
                off[name][1].append(cents(read(first_partial(tone(key), key), key), key))
    failed = False
    print("| cents off, 36 notes | median | largest |\n|---|---|---|")
    for name, (ours, made) in off.items():
        for whose, found in (("our notes", ours), ("made tones: its own error", made)):
            print(f"| {name}, {whose} | {np.median(found):+.2f} | {max(found, key=abs):+.2f} |")
        failed |= np.abs(ours).max() > np.abs(made).max() + 0.2
    return 1 if failed else 0


if __name__ == "__main__":
    sys.exit(main())
