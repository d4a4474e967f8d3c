#!/usr/bin/env python3
"""The tuner against strings of known pitch, real notes, and the period measures of aubio and librosa.

    cargo build --release -p sixrung-listen --example tuner
    apt-get install aubio-tools fluid-soundfont-gm
    python3 -m pip install -r requirements.txt
    python3 tuner_table.py --tuner ../../target/release/examples/tuner --seed 500

Prints markdown. Synthetic strings are stiff (Fletcher 1964), plucked at a point, every partial with its own decay, and
their truth is exact. Real notes are the raw steel and nylon samples of open strings inside FluidR3_GM.sf2, as recorded.
A real string has no one pitch: its partials lie up to 9 cents apart from the law and drift while it rings. So two truths
of the whole note stand side by side: its first partial alone, and the stiff string nearest to its first eight.
The truth is always the first partial: a period measure that follows the whole wave lies sharp of it by nature.
"""

import argparse
import os
import struct
import subprocess
import tempfile
import wave
from dataclasses import dataclass

import numpy as np

RATE = 44_100
LEAD_S = 0.4
NAMES = "E2 A2 D3 G3 B3 E4"
KEYS = [40, 45, 50, 55, 59, 64]
# String, stiffness and T60 of the first partial as measured on FluidR3's open steel strings.
STIFFNESS = [1.11e-4, 4.0e-5, 3.5e-5, 2.75e-5, 6.5e-5, 2.0e-5]
T60_S = [12.0, 6.0, 9.0, 8.0, 7.0, 6.0]


def hertz(key):
    return 440.0 * 2 ** ((key - 69) / 12)


@dataclass
class Clip:
    """A note: its sound with a quiet lead, where it starts, the string, and the truth of its first partial."""

    sound: np.ndarray
    rate: int
    starts_s: float
    string: int
    truth_hz: float
    name: str = ""

    def truth_cents(self):
        return 1200 * np.log2(self.truth_hz / hertz(KEYS[self.string]))


def stiff_string(dice, string, snr_db):
    """One plucked stiff string, detuned by up to a semitone's half, in white noise over the whole band."""
    offset = dice.uniform(-50, 50)
    stiffness = STIFFNESS[string] * dice.uniform(0.5, 1.5)
    first = hertz(KEYS[string]) * 2 ** (offset / 1200)
    base = first / np.sqrt(1 + stiffness)
    time = np.arange(int(2.5 * RATE)) / RATE
    place = dice.uniform(0.08, 0.3)
    sound = np.zeros_like(time)
    for number in range(1, 60):
        partial = number * base * np.sqrt(1 + stiffness * number**2)
        if partial > 0.45 * RATE:
            break
        level = abs(np.sin(np.pi * number * place)) / number * 10 ** (dice.normal(0, 3) / 20)
        if number == 1:
            level *= 10 ** (dice.uniform(-12, 0) / 20)
        t60 = T60_S[string] / (1 + 0.1 * number + (partial / 1500) ** 2)
        sound += level * np.exp(-6.91 * time / t60) * np.sin(2 * np.pi * partial * time + dice.uniform(0, 2 * np.pi))
    sound *= np.minimum(1, time / 0.004) * 0.2 / np.abs(sound).max()
    power = np.mean(sound[: RATE] ** 2)
    sound = np.concatenate([np.zeros(int(LEAD_S * RATE)), sound])
    deviation = np.sqrt(power * 10 ** (-snr_db / 10)) if np.isfinite(snr_db) else 1e-5
    sound += dice.normal(0, deviation, len(sound))
    return Clip(sound, RATE, LEAD_S, string, first)


def sound_font_samples(path, words):
    """The samples of a sound font whose names hold one of `words`: name, rate, key, samples (SoundFont 2.04 §7.10)."""
    data = open(path, "rb").read()
    smpl, shdr = data.find(b"smpl") + 8, data.find(b"shdr")
    size = struct.unpack("<I", data[shdr + 4 : shdr + 8])[0]
    for at in range(shdr + 8, shdr + 8 + size - 46, 46):
        name, start, end, _, _, rate, key, cents, _, kind = struct.unpack("<20sIIIIIBbHH", data[at : at + 46])
        name = name.split(b"\0")[0].decode("latin1").strip()
        # One channel of a pair is enough: mono and left.
        if kind in (1, 4) and any(word in name.lower() for word in words):
            yield name, rate, key, np.frombuffer(data, "<i2", end - start, smpl + 2 * start) / 32768


def whole_note(sound, rate, string, start_s):
    """First partial of the whole note in hertz, two ways: a line through the phase of partial 1 alone, and through
    those of partials 1 to 8 the stiff string that misses them least, each weighed by its power."""
    sound = sound[int((start_s + 0.05) * rate) :]
    time = np.arange(len(sound)) / rate
    near, powers, partials = hertz(KEYS[string]), [], []
    width = int(rate * 0.1)
    smooth = np.hanning(width) / np.hanning(width).sum()
    padded = np.fft.rfft(sound * np.hanning(len(sound)), 8 * len(sound))
    grid = np.fft.rfftfreq(8 * len(sound), 1 / rate)
    for number in range(1, 9):
        around = np.abs(grid / (number * near) - 1) < 0.02
        peak = grid[around][np.argmax(np.abs(padded[around]))]
        slow = np.convolve(sound * np.exp(-2j * np.pi * peak * time), smooth, "valid")[:: rate // 200]
        when = np.arange(len(slow)) * (rate // 200) / rate
        slope = np.polyfit(when, np.unwrap(np.angle(slow)), 1, w=np.abs(slow))[0]
        partials.append(peak + slope / 2 / np.pi)
        powers.append(np.mean(np.abs(slow) ** 2))
    number = np.arange(1, 9)
    heights, squares = (np.array(partials) / number) ** 2, number**2
    slope, height = np.polyfit(squares, heights, 1, w=np.sqrt(powers))
    slope = max(slope, 0.0)
    height = np.average(heights - slope * squares, weights=powers)
    return partials[0], np.sqrt(height + slope)


def real_notes(path, words, dice, snr_db, by_first):
    for name, rate, _, sound in sound_font_samples(path, words):
        # The sample's label is an octave above what it sounds: open strings only, and long enough to follow.
        label = name.split("(")[0].split()[-1]
        opens = [f"{open_string[0]}{int(open_string[1]) + 1}" for open_string in NAMES.split()]
        if label not in opens or len(sound) < 1.5 * rate:
            continue
        string = opens.index(label)
        sound = sound[: int(2.5 * rate)]
        start = np.argmax(np.abs(sound) > 0.05 * np.abs(sound).max()) / rate
        alone, law = whole_note(sound, rate, string, start)
        lead = int(LEAD_S * rate)
        power = np.mean(sound[:rate] ** 2)
        deviation = np.sqrt(power * 10 ** (-snr_db / 10)) if np.isfinite(snr_db) else 1e-5
        padded = np.concatenate([np.zeros(lead), sound]) + dice.normal(0, deviation, lead + len(sound))
        yield Clip(padded, rate, LEAD_S + start, string, alone if by_first else law, name)


def ours(tuner):
    def run(clip):
        words = [tuner, str(clip.rate), NAMES]
        raw = clip.sound.astype("<f4").tobytes()
        lines = subprocess.run(words, input=raw, stdout=subprocess.PIPE, check=True).stdout.decode().splitlines()
        readings = [line.split() for line in lines]
        times = np.array([float(words[0]) for words in readings])
        # What is said of another string is as far off as the strings are apart.
        cents = np.array(
            [
                float(words[2]) + 100 * (KEYS[int(words[1])] - KEYS[clip.string]) if len(words) >= 4 else np.nan
                for words in readings
            ]
        )
        return times, cents

    return run


def aubio(method):
    def run(clip):
        with tempfile.NamedTemporaryFile(suffix=".wav") as file:
            with wave.open(file.name, "wb") as out:
                out.setparams((1, 2, clip.rate, 0, "NONE", ""))
                out.writeframes((np.clip(clip.sound, -1, 1) * 32767).astype("<i2").tobytes())
            words = ["aubiopitch", "-p", method, "-u", "freq", "-r", "0", "-B", "4096", "-H", "512", "-i", file.name]
            lines = subprocess.run(words, stdout=subprocess.PIPE, check=True).stdout.decode().split("\n")
        pairs = np.array([[float(word) for word in line.split()] for line in lines if line.strip()])
        return against(clip, pairs[:, 0] + 512 / clip.rate, pairs[:, 1])

    return run


def librosa_yin(name):
    import librosa

    def run(clip):
        arguments = {"fmin": 60, "fmax": 500, "sr": clip.rate, "frame_length": 4096, "hop_length": 512}
        found = getattr(librosa, name)(clip.sound.astype(np.float32), **arguments)
        found = found[0] if name == "pyin" else found
        # A centred frame is known when its end has been heard.
        times = np.arange(len(found)) * 512 / clip.rate + 2048 / clip.rate
        return against(clip, times, found)

    return run


def against(clip, times, found_hz):
    with np.errstate(divide="ignore", invalid="ignore"):
        cents = 1200 * np.log2(np.where(found_hz > 0, found_hz, np.nan) / hertz(KEYS[clip.string]))
    return times, cents


def score(run, clips):
    """Errors of all readings from 250 ms on, the share of that time something is read, notes with a reading more than
    a semitone off counted apart, and the times within 2 cents."""
    errors, firsts, wrong, signed, read = [], [], 0, [], []
    for clip in clips:
        times, cents = run(clip)
        since = times - clip.starts_s
        off = cents - clip.truth_cents()
        late = (since >= 0.25) & (since <= 1.9) & (times < len(clip.sound) / clip.rate)
        wrong += int(np.any(np.abs(off[late & np.isfinite(off)]) > 100))
        read.append(np.mean(np.isfinite(off[late])))
        sane = late & (np.abs(off) < 100)
        errors.extend(np.abs(off[sane]))
        signed.extend(off[sane])
        near = np.where((since > 0) & (np.abs(off) <= 2))[0]
        firsts.append(since[near[0]] if len(near) else np.inf)
    if not errors:
        return "– | – | – | – | – | – | –"
    late_p95 = np.sort(firsts)[int(np.ceil(0.95 * len(firsts))) - 1]
    return (
        f"{np.median(errors):.2f} | {np.percentile(errors, 95):.2f} | {np.median(signed):+.2f} | "
        f"{1000 * np.median(firsts):.0f} | {1000 * late_p95:.0f} | {wrong}/{len(clips)} | "
        f"{100 * np.mean(read):.0f}"
    )


def main():
    parser = argparse.ArgumentParser(description=__doc__.splitlines()[0])
    parser.add_argument("--tuner", required=True)
    parser.add_argument("--seed", type=int, default=500)
    parser.add_argument("--each", type=int, default=6, help="synthetic notes a string and condition")
    parser.add_argument("--sound-font", default="/usr/share/sounds/sf2/FluidR3_GM.sf2")
    parser.add_argument("--peers", action=argparse.BooleanOptionalAction, default=True)
    arguments = parser.parse_args()
    os.environ.setdefault("OMP_NUM_THREADS", "1")
    readers = [("ours", ours(arguments.tuner))]
    if arguments.peers:
        readers += [("aubio yin", aubio("yin")), ("aubio yinfft", aubio("yinfft"))]
        readers += [("librosa yin", librosa_yin("yin")), ("librosa pyin", librosa_yin("pyin"))]
    sets = []
    for name, snr_db in [("clean", np.inf), ("20 dB", 20), ("10 dB", 10)]:
        dice = np.random.default_rng([arguments.seed, int(min(snr_db, 99))])
        clips = [stiff_string(dice, string, snr_db) for string in range(6) for _ in range(arguments.each)]
        sets.append((f"stiff strings, {name}", clips))
    for kind, words in [("steel", ["steel"]), ("nylon", ["nylon"])]:
        for name, snr_db in [("as recorded", np.inf), ("20 dB", 20)]:
            for against_what, by_first in [("partial 1", True), ("stiff string", False)]:
                dice = np.random.default_rng([arguments.seed, 7, int(min(snr_db, 99))])
                clips = list(real_notes(arguments.sound_font, words, dice, snr_db, by_first))
                sets.append((f"real {kind}, {name}, against its {against_what}", clips))
    print("| notes | count | reader | median ¢ | p95 ¢ | bias ¢ | within 2 ¢, median ms | p95 ms | notes misread | % of the time read |")
    print("|---|---|---|---|---|---|---|---|---|---|")
    for name, clips in sets:
        for reader, run in readers:
            print(f"| {name} | {len(clips)} | {reader} | {score(run, clips)} |", flush=True)


if __name__ == "__main__":
    main()
