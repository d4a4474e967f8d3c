#!/usr/bin/env python3
"""An open G strum of ours beside the sound font's: two spectrograms and the level of each octave over time.

    cargo run --release -p sixrung-audio --example notes -- NOTES
    python3 strum_picture.py NOTES PICTURE.png

The other strum is fluidsynth playing the steel guitar of Debian's fluid-soundfont-gm, dry, the same strings as far
apart. Needs fluidsynth, librosa and matplotlib.
"""

import argparse
import struct
import subprocess
import tempfile
from pathlib import Path

import librosa
import matplotlib
import numpy as np

import sf2
from figures import centroid, octave, onset

matplotlib.use("Agg")
import matplotlib.pyplot as plt  # noqa: E402

RATE = 48_000
SECONDS = 4
OPEN_G = [43, 47, 50, 55, 59, 67]
SPREAD_MS = 4
VELOCITY = 102
STEEL = 25  # General MIDI, counted from 0
OCTAVES = [125, 250, 500, 1000, 2000, 4000, 8000]


def midi():
    """One strum, a channel a string, 1000 ticks a quarter of a second."""
    track = b"\0\xff\x51\x03" + (250_000).to_bytes(3, "big")
    track += b"".join(bytes([0, 0xC0 | channel, STEEL]) for channel in range(6))
    for channel, key in enumerate(OPEN_G):
        track += bytes([SPREAD_MS * 4 if channel else 0, 0x90 | channel, key, VELOCITY])
    track += b"\xff\x00"  # 16,256 ticks: longer than the picture
    track += b"\xff\x2f\0"
    return b"MThd\0\0\0\6\0\0\0\1" + struct.pack(">H", 1000) + b"MTrk" + struct.pack(">I", len(track)) + track


def sampled():
    """The sound font's strum, mono."""
    with tempfile.TemporaryDirectory() as folder:
        score, sound = Path(folder) / "strum.mid", Path(folder) / "strum.raw"
        score.write_bytes(midi())
        command = ["fluidsynth", "-ni", "-q", "-R", "0", "-C", "0", "-r", str(RATE), "-T", "raw", "-O", "float"]
        subprocess.run([*command, "-F", sound, sf2.FONT, score], check=True)
        return np.fromfile(sound, "<f4").astype(float).reshape(-1, 2).mean(axis=1)


def levelled(sound):
    """From its onset on, at a root mean square of a tenth over its first second."""
    sound = sound[onset(sound, RATE) :][: SECONDS * RATE]
    return sound / np.sqrt((sound[:RATE] ** 2).mean()) * 0.1


def octave_levels(sound, centre, hop=960):
    band = octave(sound, RATE, centre)
    frames = band[: len(band) // hop * hop].reshape(-1, hop)
    return 10 * np.log10((frames**2).mean(axis=1) + 1e-12)


def main():
    parser = argparse.ArgumentParser(description=__doc__.splitlines()[0])
    parser.add_argument("notes", type=Path)
    parser.add_argument("picture", type=Path)
    options = parser.parse_args()
    ours = np.fromfile(options.notes / "strum.f32", "<f4").astype(float)
    strums = {"ours": levelled(ours), "sound font": levelled(sampled())}
    figure, axes = plt.subplots(2, 2, figsize=(16, 10))
    for axis, (name, sound) in zip(axes[0], strums.items(), strict=True):
        power = np.abs(librosa.stft(sound, n_fft=4096, hop_length=256)) ** 2
        image = librosa.display.specshow(
            10 * np.log10(power + 1e-9), sr=RATE, hop_length=256, x_axis="time", y_axis="log", ax=axis, vmin=-60, vmax=30
        )
        axis.set(title=name, ylim=(60, 12_000))
        figure.colorbar(image, ax=axis, format="%.0f dB")
    for axis, (name, sound) in zip(axes[1], strums.items(), strict=True):
        for centre in OCTAVES:
            levels = octave_levels(sound, centre)
            axis.plot(np.arange(len(levels)) * 0.02, levels, label=f"{centre} Hz")
        axis.set(title=f"{name}: level of each octave", xlabel="s", ylabel="dB", ylim=(-100, -10))
        axis.grid(alpha=0.3)
        axis.legend(loc="upper right")
    figure.tight_layout()
    figure.savefig(options.picture, dpi=70)
    print("| | " + " | ".join(f"{at} s" for at in (0.01, 0.05, 0.1, 0.3, 1.0, 2.0)) + " |  (centroid, Hz)")
    for name, sound in strums.items():
        print(f"| {name} | " + " | ".join(f"{centroid(sound, RATE, at):.0f}" for at in (0.01, 0.05, 0.1, 0.3, 1.0, 2.0)) + " |")
    print("level of each octave in dB at 0.02, 0.1, 0.5, 1, 2, 3 s: ours, sound font, difference")
    for centre in OCTAVES:
        rows = [octave_levels(sound, centre)[[1, 5, 25, 50, 100, 150]] for sound in strums.values()]
        cells = [" ".join(f"{level:6.1f}" for level in row) for row in [*rows, rows[0] - rows[1]]]
        print(f"{centre:5} Hz: " + "  |  ".join(cells))


if __name__ == "__main__":
    main()
