#!/usr/bin/env python3
"""Judges a folder of made takes with `sixrung judge` and says how often it was right.

    make-takes --out TAKES --count 24 --seed 100
    python3 -m pip install -r requirements.txt
    python3 score.py TAKES --sixrung ../../target/release/sixrung

Prints markdown: strum F at 25 and 50 ms (mir_eval.onset.f_measure), timing errors, and verdicts against the truth
stored beside each take, with the start of the pass given and without. Exit 0 when every take could be run.
"""

import argparse
import json
import math
import subprocess
import sys
import warnings
from concurrent.futures import ThreadPoolExecutor
from dataclasses import dataclass
from pathlib import Path

import mir_eval
import numpy as np

JUDGED = {0: "clean", 10: "not_clean", 11: "not_judged"}
WINDOWS_S = (0.025, 0.050)


@dataclass
class Scored:
    """A take's truth and what the judge said of it."""

    truth: dict
    said: dict

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


def place(stroke):
    return stroke["pass"], stroke["bar"], stroke["slot"]


def command(sixrung, truth_path, truth, with_start):
    """The judge's command line for one take."""
    words = [sixrung, "judge", truth_path.parent / truth["lesson"], truth_path.with_suffix(".wav")]
    words += ["--section", truth["section"], "--bpm", f"{truth['bpm']:g}", "--passes", truth["passes"]]
    words += ["--arrangement", truth["arrangement"], "--level", truth["level"], "--json"]
    if with_start:
        words += ["--starts-at", f"{truth['starts_at_s']:.6f}"]
    return [str(word) for word in words]


def judge(sixrung, truth_path, with_start):
    """Runs the judge on one take; raises RuntimeError when it neither judges nor says why not."""
    truth = json.loads(truth_path.read_text())
    words = command(sixrung, truth_path, truth, with_start)
    run = subprocess.run(words, capture_output=True, text=True, check=False)
    if run.returncode not in JUDGED:
        raise RuntimeError(f"{' '.join(words)}: exit {run.returncode}\n{run.stderr.strip()}")
    said = json.loads(run.stdout)
    if said["verdict"] != JUDGED[run.returncode]:
        raise RuntimeError(f"{truth_path}: verdict {said['verdict']} with exit {run.returncode}")
    return Scored(truth, said)


def latency_s(takes):
    """One constant for the whole set: the median of heard minus played, strokes matched by their place."""
    offsets = [
        found["heard_s"] - stroke["played_s"]
        for take in takes
        for stroke, found in take.by_place()
        if found["heard_s"] is not None and stroke["played_s"] is not None
    ]
    return float(np.median(offsets)) if offsets else 0.0


def f_measures(takes, window_s, removed_s):
    with warnings.catch_warnings():
        warnings.simplefilter("ignore")  # mir_eval warns of takes in which nothing was heard; they count as 0
        scores = [mir_eval.onset.f_measure(take.played(), take.heard(removed_s), window_s)[0] for take in takes]
    return float(np.mean(scores)) if scores else math.nan


def errors_ms(takes, removed_s):
    """How far off matched strums are (mir_eval's matching at 50 ms)."""
    errors = []
    for take in takes:
        played, heard = take.played(), take.heard(removed_s)
        pairs = mir_eval.util.match_events(played, heard, WINDOWS_S[-1])
        errors += [abs(heard[j] - played[i]) * 1000 for i, j in pairs]
    return np.array(errors)


def misses(takes):
    """Planted misses, and how many of them were heard all the same."""
    pairs = [pair for take in takes for pair in take.by_place() if pair[0]["planted"] == "missed"]
    return sum(found["heard_s"] is not None for _, found in pairs), len(pairs)


def wilson(hits, total, z=1.959964):
    """Wilson's 95 % interval for a share (Wilson 1927, JASA 22)."""
    if total == 0:
        return 0.0, 1.0
    share, z2 = hits / total, z * z
    middle = (share + z2 / (2 * total)) / (1 + z2 / total)
    half = z / (1 + z2 / total) * math.sqrt(share * (1 - share) / total + z2 / (4 * total * total))
    return max(0.0, middle - half), min(1.0, middle + half)


def share(hits, total):
    low, high = wilson(hits, total)
    return f"{hits}/{total}" + (f" ({100 * hits / total:.1f} %, {100 * low:.1f}–{100 * high:.1f})" if total else "")


def groups(takes):
    """Everything, then each condition and guitar."""
    yield "all", takes
    for condition in sorted({take.truth["condition"] for take in takes}):
        for program in sorted({take.truth["program"] for take in takes}):
            here = [t for t in takes if (t.truth["condition"], t.truth["program"]) == (condition, program)]
            if here:
                yield f"{condition}, {program}", here


def verdict_counts(takes, truth):
    """How many takes of this truth there are, and what the judge said of them."""
    said = [take.said["verdict"] for take in takes if take.truth["verdict"] == truth]
    return len(said), {verdict: said.count(verdict) for verdict in JUDGED.values()}


def strum_table(takes):
    removed = latency_s(takes)
    lines = [
        f"One latency removed where marked *: {1000 * removed:.1f} ms.",
        "",
        "| takes | n | F25* | F50* | F25 | F50 | median error ms* | p95 ms* | planted miss heard |",
        "|---|---|---|---|---|---|---|---|---|",
    ]
    for name, here in groups(takes):
        scores = [f_measures(here, window, off) for off in (removed, 0.0) for window in WINDOWS_S]
        errors = errors_ms(here, removed)
        spread = [f"{np.percentile(errors, q):.1f}" if len(errors) else "–" for q in (50, 95)]
        cells = [name, str(len(here)), *(f"{score:.3f}" for score in scores), *spread, share(*misses(here))]
        lines.append("| " + " | ".join(cells) + " |")
    return lines


def verdict_table(takes):
    lines = [
        "| takes | right | false clean | false not clean | not judged, truth clean | not judged, truth not clean |",
        "|---|---|---|---|---|---|",
    ]
    for name, here in groups(takes):
        cleans, of_clean = verdict_counts(here, "clean")
        others, of_other = verdict_counts(here, "not_clean")
        cells = [
            name,
            share(of_clean["clean"] + of_other["not_clean"], cleans + others),
            share(of_other["clean"], others),
            share(of_clean["not_clean"], cleans),
            share(of_clean["not_judged"], cleans),
            share(of_other["not_judged"], others),
        ]
        lines.append("| " + " | ".join(cells) + " |")
    return lines


def wrong_list(names, takes):
    lines = []
    for name, take in zip(names, takes, strict=True):
        truth, said = take.truth, take.said
        if truth["verdict"] != said["verdict"]:
            what = f"{truth['lesson']} {truth['section']} {truth['bpm']:g} bpm, {truth['condition']}, {truth['program']}"
            lines.append(f"- {name}: {what}: truth {truth['verdict']}, said {said['verdict']} ({said.get('reason')})")
    return lines or ["- none"]


def report(names, takes):
    return "\n".join([*strum_table(takes), "", *verdict_table(takes), "", "Wrong verdicts:", *wrong_list(names, takes)])


def main(arguments=None):
    parser = argparse.ArgumentParser(description=__doc__.splitlines()[0])
    parser.add_argument("takes", type=Path, help="folder that make-takes filled")
    parser.add_argument("--sixrung", default="sixrung", help="the program under test")
    parser.add_argument("--starts", choices=["given", "found", "both"], default="both", help="pass --starts-at or not")
    parser.add_argument("--jobs", type=int, default=2, help="takes judged at once")
    options = parser.parse_args(arguments)
    paths = sorted(options.takes.glob("*.json"))
    if not paths:
        parser.error(f"no takes in {options.takes}")
    modes = {"given": [True], "found": [False], "both": [True, False]}[options.starts]
    for with_start in modes:
        with ThreadPoolExecutor(options.jobs) as pool:
            takes = list(pool.map(lambda path: judge(options.sixrung, path, with_start), paths))
        print(f"## Start of the pass {'given' if with_start else 'found'}\n")
        print(report([path.stem for path in paths], takes) + "\n")


if __name__ == "__main__":
    try:
        main()
    except RuntimeError as error:
        sys.exit(str(error))
