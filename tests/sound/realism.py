#!/usr/bin/env python3
"""Our plucked strings beside recorded ones: a table of figures, and which lie outside the bands asked for.

    cargo run --release -p sixrung-audio --example notes -- NOTES [nylon]
    python3 realism.py NOTES [--nylon] [--fretted]

The recorded ones are samples of the Debian package fluid-soundfont-gm (MIT); its names are an octave high. Nobody
recorded fretted ones: their B is held against the recorded open one's times 2^(fret/6), their attack and slope against
the same bands, and what lies outside is told without failing.
Needs numpy. Exit 1 when a figure lies outside its band.
"""

import argparse
import sys
from pathlib import Path

import numpy as np

import sf2
from figures import BANDS, MOMENTS_S, figures

RATE = 48_000
STRINGS = [(6, "E2", 40, "E3"), (5, "A2", 45, "A3"), (4, "D3", 50, "D4"),
           (3, "G3", 55, "G4"), (2, "B3", 59, "B4"), (1, "E4", 64, "E5")]  # fmt: skip
# Realism bands, a proposal of ours: as ratios to the recorded string, or in the figure's own unit.
B_BAND, RATIO_BAND, ATTACK_MS = (0.65, 1.35), (0.6, 1.6), (2, 25)
# What the slopes of the recorded ones lie in; and the strings of which B can be asked: enough partials stand out.
SLOPE_DB = {"Steel ": (-11, -8), "Nylon ": (-17, -12)}
B_ASKED = {"Steel ": ("E2", "A2", "D3", "G3"), "Nylon ": ("E2", "A2")}


def hertz(key):
    return 440 * 2 ** ((key - 69) / 12)


def ours(folder, string, fret):
    return np.fromfile(folder / f"string{string}-fret{fret}.f32", "<f4").astype(float)


def within(value, band):
    return band[0] <= value <= band[1]


def row(name, found):
    cells = [name, f"{found['B']:.1e}", f"{found['attack']:.1f}"]
    cells += [f"{value:.0f}" for value in found["centroid"]] + [f"{value:.1f}" for value in found["t60"]]
    return "| " + " | ".join([*cells, f"{found['slope']:.1f}"]) + " |"


def outside(name, material, found, real):
    """What lies outside its band, in words."""
    said = []
    if name in B_ASKED[material] and not within(found["B"] / real["B"], B_BAND):
        said.append(f"{name}: B {found['B'] / real['B']:.2f} times the recorded one")
    pairs = zip(MOMENTS_S, found["centroid"], real["centroid"], strict=True)
    said += [f"{name}: centroid at {1000 * at:.0f} ms {a / b:.2f} times" for at, a, b in pairs if not within(a / b, RATIO_BAND)]
    if not within(found["attack"], ATTACK_MS):
        said.append(f"{name}: attack {found['attack']:.1f} ms")
    if not within(found["slope"], SLOPE_DB[material]):
        said.append(f"{name}: slope {found['slope']:.1f} dB an octave")
    return said


def medians(all_found):
    return [float(np.median([found["t60"][index] for found in all_found])) for index in range(len(BANDS))]


def main():
    parser = argparse.ArgumentParser(description=__doc__.splitlines()[0])
    parser.add_argument("notes", type=Path)
    parser.add_argument("--nylon", action="store_true", help="nylon strings")
    parser.add_argument("--fretted", action="store_true", help="frets 1 to 5 too")
    options = parser.parse_args()
    material = "Nylon " if options.nylon else "Steel "
    recorded = sf2.notes(prefix=material)
    head = ["", "B", "attack ms", *(f"centroid {1000 * at:.0f} ms" for at in MOMENTS_S)]
    print("| " + " | ".join([*head, *(f"T60 {band} Hz" for band in BANDS), "dB/oct"]) + " |")
    print("|---" * (len(head) + len(BANDS) + 1) + "|")
    found, real, said, said_fretted = [], [], [], []
    for string, name, key, sample in STRINGS:
        real.append(figures(*recorded[material + sample], hertz(key)))
        found.append(figures(ours(options.notes, string, 0), RATE, hertz(key)))
        print(row(f"{name} recorded", real[-1]), row(f"{name} ours", found[-1]), sep="\n")
        said += outside(name, material, found[-1], real[-1])
        if options.fretted:
            for fret in range(1, 6):
                fretted = figures(ours(options.notes, string, fret), RATE, hertz(key + fret))
                print(row(f"{name} fret {fret}", fretted))
                shorter = real[-1] | {"B": real[-1]["B"] * 2 ** (fret / 6), "centroid": fretted["centroid"]}
                said_fretted += [f"fret {fret}, {told}" for told in outside(name, material, fretted, shorter)]
    for band, our, their in zip(BANDS, medians(found), medians(real), strict=True):
        print(f"T60 median at {band} Hz: {our:.1f} s, recorded {their:.1f} s, ratio {our / their:.2f}")
        if not within(our / their, RATIO_BAND):
            said.append(f"T60 median at {band} Hz {our / their:.2f} times")
    if options.fretted:
        print(f"\nof {5 * len(STRINGS)} fretted notes, outside a band:", *(said_fretted or ["nothing"]), sep="\n")
    print("\noutside its band:", *(said or ["nothing"]), sep="\n")
    return 1 if said else 0


if __name__ == "__main__":
    sys.exit(main())
