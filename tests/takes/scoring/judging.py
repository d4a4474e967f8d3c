"""Runs the judge on takes, and keeps what it said beside the truth."""

import json
import os
import subprocess
from dataclasses import dataclass
from pathlib import Path

import numpy as np

JUDGED = {0: "clean", 10: "not_clean", 11: "not_judged"}


@dataclass(frozen=True)
class How:
    """How takes are judged."""

    sixrung: str
    with_start: bool = True
    with_played: bool = True
    learned_in: Path | None = None  # where what was learned of each player is kept; None: nothing is learned


@dataclass
class Scored:
    """A take's truth and what the judge said of it."""

    truth: dict
    said: dict
    path: Path | None = None
    cpu_s: float = 0.0
    length_s: float = 0.0

    def played(self):
        """When strums were really heard, in seconds, sorted."""
        strokes = [stroke["played_s"] for stroke in self.truth["strokes"]]
        extras = [extra["played_s"] for extra in self.truth["extras"]]
        return np.array(sorted(time for time in strokes + extras if time is not None))

    def heard(self, latency_s=0.0):
        """When the judge heard strums, in seconds, sorted."""
        strokes = [stroke["heard_s"] for stroke in self.said.get("strokes", [])]
        extras = [extra["heard_s"] for extra in self.said.get("extras", [])]
        return np.array(sorted(time - latency_s for time in strokes + extras if time is not None))

    def by_place(self):
        """Pairs of a stroke's truth and its finding, by pass, bar and slot."""
        findings = {place(stroke): stroke for stroke in self.said.get("strokes", [])}
        return [(stroke, findings[place(stroke)]) for stroke in self.truth["strokes"] if place(stroke) in findings]

    def spans(self):
        """Each span's truth with its strokes' findings; nothing of a take that was not judged."""
        places = [place(stroke) for stroke in self.truth["strokes"]]
        findings = {place(stroke): stroke for stroke in self.said.get("strokes", [])}
        for span in self.truth.get("spans", []):
            first = places.index(place(span))
            found = [findings[at] for at in places[first : first + span["strokes"]] if at in findings]
            if found:
                yield span, found


def place(stroke):
    return stroke["pass"], stroke["bar"], stroke["slot"]


def run(words):
    """Runs a program; its exit code, what it printed and the processor time it took, in seconds."""
    with subprocess.Popen([str(word) for word in words], stdout=subprocess.PIPE, stderr=subprocess.PIPE) as process:
        out, err = process.stdout.read(), process.stderr.read()
        _, status, usage = os.wait4(process.pid, 0)
        process.returncode = os.waitstatus_to_exitcode(status)
    return process.returncode, out.decode(), err.decode(), usage.ru_utime + usage.ru_stime


def command(how, truth_path, truth):
    """The judge's command line for one take."""
    folder = truth_path.parent
    words = [how.sixrung, "judge", folder / truth["lesson"], truth_path.with_suffix(".wav")]
    words += ["--section", truth["section"], "--bpm", f"{truth['bpm']:g}", "--passes", truth["passes"]]
    words += ["--arrangement", truth["arrangement"], "--level", truth["level"], "--json"]
    if how.with_start:
        words += ["--starts-at", f"{truth['starts_at_s']:.6f}"]
    if how.with_played and truth.get("played"):
        words += ["--played", folder / truth["played"]]
    learned = how.learned_in and truth.get("learn") and how.learned_in / (truth["learn"] + ".learned")
    if learned and learned.exists():
        words += ["--learned", learned]
    return words


def learn(how, truth_paths):
    """Lets the program learn every player once, from the learning takes beside the takes; takes of a player it could
    not learn are judged without. What it said of those, by learning take."""
    learned, refused = {}, {}
    for path in truth_paths:
        truth = json.loads(path.read_text())
        if truth.get("learn"):
            learned[truth["learn"]] = path.parent / truth["lesson"]
    for name, lesson in learned.items():
        take = truth_paths[0].parent / name
        words = [how.sixrung, "learn", lesson, take, "--out", how.learned_in / (name + ".learned")]
        code, _, err, _ = run(words)
        if code not in (0, 1) or (code == 1 and not err.strip()):
            raise RuntimeError(f"{' '.join(map(str, words))}: exit {code}\n{err.strip()}")
        if code == 1:
            refused[name] = err.strip().splitlines()[0]
    return len(learned), refused


def judge(how, truth_path):
    """Runs the judge on one take; raises RuntimeError when it neither judges nor says why not."""
    truth = json.loads(truth_path.read_text())
    words = command(how, truth_path, truth)
    code, out, err, cpu_s = run(words)
    if code not in JUDGED:
        raise RuntimeError(f"{' '.join(map(str, words))}: exit {code}\n{err.strip()}")
    said = json.loads(out)
    if said["verdict"] != JUDGED[code]:
        raise RuntimeError(f"{truth_path}: verdict {said['verdict']} with exit {code}")
    return Scored(truth, said, truth_path, cpu_s, length_s(truth_path.with_suffix(".wav")))


def length_s(wav):
    """Takes are mono, of 16 bits, at 48 kHz; 0 where there is no sound file."""
    return (wav.stat().st_size - 44) / 2 / 48_000 if wav.exists() else 0.0


def truths(folder):
    """The takes' truths, learning takes left out."""
    return sorted(path for path in folder.glob("*.json") if not path.name.endswith(".learn.json"))
