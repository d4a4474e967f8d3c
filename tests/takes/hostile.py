#!/usr/bin/env python3
"""Judges what is no clean playing, against the demo lessons' sections, and says how often it was called clean.

    python3 -m pip install -r requirements.txt
    python3 hostile.py --sixrung ../../target/release/sixrung --count 300 --seed 1

Silence, noise, hum, tones, applause, speech (espeak-ng, where it is installed), drums at their own pace and drums on
every stroke, our own click alone, our own part too late or at another tempo, clipped squares, a telephone, numbers
that are no sound. Prints each sound as it was judged, then a table of kinds and verdicts. Exit 0 when none was called clean and none failed.
"""

import argparse
import json
import re
import shutil
import subprocess
import sys
import tempfile
import wave
from collections import Counter, defaultdict
from pathlib import Path

import numpy as np
from scipy.signal import butter, sosfilt

RATE = 48_000
LESSONS = Path(__file__).resolve().parent / "../../assets/lessons"
WORDS = "the boat is late and the lamp is lit so come along and count to four then turn the page and sing again"


def sections():
    for path in sorted(LESSONS.glob("*.lesson.ron")):
        text = path.read_text()
        # A section's name stands on a line of its own.
        for name in re.findall(r'^\s+name: "([^"]+)",$', text, re.M):
            yield path, name


def render(sixrung, lesson, section, percent, parts, folder):
    """Our own sound, from the first beat on."""
    out = folder / "own.wav"
    words = [sixrung, "render", lesson, "--section", section, "--percent", percent, "--parts", parts, "--out", out]
    subprocess.run([str(word) for word in words], check=True, capture_output=True)
    return read(out)


def read(path):
    data = Path(path).read_bytes()
    form = data.index(b"fmt ") + 8
    kind, channels, rate = np.frombuffer(data[form : form + 8], dtype="<u2,<u2,<u4")[0].item()
    bits = int.from_bytes(data[form + 14 : form + 16], "little")
    at = data.index(b"data", form)
    size = int.from_bytes(data[at + 4 : at + 8], "little")
    body = data[at + 8 : at + 8 + size]
    if bits == 16:
        sound = np.frombuffer(body[: len(body) // 2 * 2], dtype="<i2") / 32768
    elif bits == 24:
        raw = np.frombuffer(body[: len(body) // 3 * 3], dtype=np.uint8).reshape(-1, 3).astype(np.int32)
        sound = ((raw[:, 0] << 8 | raw[:, 1] << 16 | raw[:, 2] << 24) >> 8) / 8388608
    else:
        sound = np.frombuffer(body[: len(body) // 4 * 4], dtype="<f4").astype(float)
    return np.mean(sound.reshape(-1, channels), axis=1) if channels > 1 else sound


def write(path, sound):
    """As floats: numbers that are no sound stay so."""
    body = sound.astype("<f4").tobytes()
    head = b"RIFF" + (36 + len(body)).to_bytes(4, "little") + b"WAVEfmt " + (16).to_bytes(4, "little")
    head += (3).to_bytes(2, "little") + (1).to_bytes(2, "little") + RATE.to_bytes(4, "little")
    head += (4 * RATE).to_bytes(4, "little") + (4).to_bytes(2, "little") + (32).to_bytes(2, "little")
    path.write_bytes(head + b"data" + len(body).to_bytes(4, "little") + body)


def band(sound, low, high):
    return sosfilt(butter(2, [low, high], "band", fs=RATE, output="sos"), sound)


def hits(times, length, make):
    sound = np.zeros(length)
    for time in times:
        at = int(time * RATE)
        if 0 <= at < length:
            one = make()[: length - at]
            sound[at : at + len(one)] += one
    return sound


class Maker:
    """Makes one kind after the other, for a section of `length` frames whose own part is `part`, its click `click`."""

    def __init__(self, dice, part, click, strokes):
        self.dice, self.part, self.click, self.strokes = dice, part, click, strokes
        self.length = len(part) + RATE
        self.time = np.arange(self.length) / RATE

    def noise(self):
        return self.dice.normal(0, 1, self.length)

    def burst(self, seconds, low, high):
        time = np.arange(int(seconds * 5 * RATE)) / RATE
        return band(self.dice.normal(0, 1, len(time)) * np.exp(-time / seconds), low, high)

    def kick(self):
        time = np.arange(int(0.25 * RATE)) / RATE
        return np.exp(-time / 0.07) * np.sin(2 * np.pi * (50 * time - 6 * np.exp(-time / 0.02)))

    def drum(self):
        return [self.kick, lambda: self.burst(0.06, 200, 6000), lambda: 0.4 * self.burst(0.02, 6000, 14000)][
            self.dice.integers(3)
        ]()

    def silence(self):
        return np.zeros(self.length)

    def white(self):
        return self.noise() * self.dice.uniform(0.001, 0.3)

    def pink(self):
        spectrum = np.fft.rfft(self.noise())
        spectrum /= np.sqrt(np.maximum(np.arange(len(spectrum)), 1))
        sound = np.fft.irfft(spectrum, self.length)
        return sound / np.abs(sound).max() * self.dice.uniform(0.02, 0.7)

    def hum(self):
        hertz = self.dice.choice([50, 60])
        return sum(0.3 / k * np.sin(2 * np.pi * hertz * k * self.time) for k in (1, 2, 3, 5, 7))

    def tone(self):
        hertz = self.dice.uniform(80, 1500)
        fade = np.exp(-self.time / self.dice.uniform(0.5, 30))
        return 0.3 * fade * sum(np.sin(2 * np.pi * hertz * k * self.time) / k for k in range(1, 5))

    def applause(self):
        rate = self.dice.uniform(3, 300)
        times = np.cumsum(self.dice.exponential(1 / rate, int(rate * self.length / RATE) + 10))
        return 0.2 * hits(times, self.length, lambda: self.burst(0.008, 700, self.dice.uniform(2000, 5000)))

    def drums(self):
        beat = 60 / self.dice.uniform(70, 170) / 2
        times = np.arange(0, self.length / RATE, beat) + self.dice.uniform(0, beat)
        return 0.3 * hits(times, self.length, self.drum)

    def drums_on_strokes(self):
        return 0.3 * hits(self.strokes + self.dice.normal(0, 0.01, len(self.strokes)), self.length, self.drum)

    def speech(self):
        words = WORDS.split()
        self.dice.shuffle(words)
        with tempfile.NamedTemporaryFile(suffix=".wav") as file:
            voice = self.dice.choice(["en+m3", "en+f3", "en+m7", "en+f1"])
            speed = str(self.dice.integers(100, 200))
            text = " ".join(words * 4)
            subprocess.run(["espeak-ng", "-v", voice, "-s", speed, "-w", file.name, text], check=True)
            said = read(file.name)
        said = np.interp(np.arange(self.length) * 22050 / RATE, np.arange(len(said)), said, right=0)
        return 0.5 * said / np.abs(said).max()

    def telephone_speech(self):
        said = band(self.speech(), 300, 3400)
        return np.round(said * 100) / 100

    def own_click(self):
        return np.pad(self.click, (0, RATE))[: self.length]

    def part_late(self):
        slot = np.min(np.diff(self.strokes)) if len(self.strokes) > 1 else 0.5
        late = int((0.12 + 0.25 * slot) * RATE) if slot > 0.3 else int(0.5 * slot * RATE)
        return np.pad(self.part, (late, RATE))[: self.length]

    def part_at_another_tempo(self):
        share = self.dice.choice([0.8, 0.87, 1.15, 1.25])
        place = np.arange(int(len(self.part) / share)) * share
        return np.pad(np.interp(place, np.arange(len(self.part)), self.part), (0, self.length))[: self.length]

    def square(self):
        hertz = self.dice.uniform(40, 400)
        return np.sign(np.sin(2 * np.pi * hertz * self.time)) * (1 + 0.2 * (np.sin(5 * self.time) > 0))

    def no_numbers(self):
        sound = np.pad(self.part, (0, RATE))[: self.length].copy()
        sound[self.dice.integers(RATE, len(self.part), 20)] = self.dice.choice([np.nan, np.inf, -np.inf])
        return sound

    def hard_clipped_noise(self):
        return np.clip(self.pink() * 50, -1, 1)


KINDS = [name for name in vars(Maker) if not name.startswith("_") and name not in ("noise", "burst", "kick", "drum")]

# Our own part in the wrong place; of fewer strokes it may be as right as any.
OUT_OF_PLACE = ("part_late", "part_at_another_tempo")
FEWEST_STROKES = 4


def strokes(sixrung, lesson, section, percent, part, folder):
    """When strokes are expected, by what the judge itself says of the part."""
    write(folder / "part.wav", part)
    words = [sixrung, "judge", lesson, folder / "part.wav", "--section", section, "--percent", percent]
    words += ["--starts-at", "0", "--json"]
    done = subprocess.run([str(word) for word in words], capture_output=True, text=True, check=False)
    return np.array([stroke["expected_s"] for stroke in json.loads(done.stdout)["strokes"]])


def main():
    parser = argparse.ArgumentParser(description=__doc__.splitlines()[0])
    parser.add_argument("--sixrung", default="sixrung", help="the program under test")
    parser.add_argument("--count", type=int, default=300, help="how many sounds, the kinds in turn")
    parser.add_argument("--seed", type=int, default=1, help="the same seed gives the same sounds")
    options = parser.parse_args()
    kinds = [kind for kind in KINDS if shutil.which("espeak-ng") or "speech" not in kind]
    if len(kinds) < len(KINDS):
        print("espeak-ng is not installed: no speech", file=sys.stderr)
    places, table, bad = list(sections()), defaultdict(Counter), []
    with tempfile.TemporaryDirectory() as name:
        folder, kept = Path(name), {}
        for index in range(options.count):
            dice = np.random.default_rng([options.seed, index])
            lesson, section = places[dice.integers(len(places))]
            percent = int(dice.choice([60, 75, 100]))
            key = lesson, section, percent
            if key not in kept:
                part = render(options.sixrung, *key, "strum", folder)
                click = render(options.sixrung, *key, "click", folder)
                kept[key] = part, click, strokes(options.sixrung, *key, part, folder)
            kind = kinds[index % len(kinds)]
            if kind in OUT_OF_PLACE and len(kept[key][2]) < FEWEST_STROKES:
                continue
            sound = getattr(Maker(dice, *kept[key]), kind)()
            write(folder / "take.wav", sound)
            words = [options.sixrung, "judge", lesson, folder / "take.wav", "--section", section]
            words += ["--percent", percent, "--json"]
            # Late is only what is late after a given start.
            given = dice.random() < 0.8 or kind in OUT_OF_PLACE
            words += ["--starts-at", "0"] if given else []
            done = subprocess.run([str(word) for word in words], capture_output=True, text=True, check=False)
            said = {0: "clean", 10: "not clean", 11: "not judged"}.get(done.returncode, f"exit {done.returncode}")
            reason = json.loads(done.stdout).get("reason") if done.returncode == 11 else None
            said_why = said if reason is None else f"{said}: {reason}"
            table[kind][said_why] += 1
            print(f"{index + 1}/{options.count} {kind}, {lesson.name} {section} {percent} %: {said_why}", flush=True)
            if said == "clean" or said.startswith("exit"):
                bad.append(f"{kind}: {lesson.name} {section} {percent} %: {said} {done.stderr.strip()[:200]}")
    print("| kind | what became of it |\n|---|---|")
    for kind in kinds:
        print(f"| {kind.replace('_', ' ')} | {', '.join(f'{count} {said}' for said, count in table[kind].most_common())} |")
    print(f"\n{sum(sum(of.values()) for of in table.values())} sounds, {len(places)} sections: {len(bad)} clean or failed")
    print("\n".join(bad))
    return 1 if bad else 0


if __name__ == "__main__":
    sys.exit(main())
