#!/usr/bin/env python3
"""Judges a folder of made takes with `sixrung judge` and says how often it was right.

    make-takes --out TAKES --count 24 --seed 100
    python3 -m pip install -r requirements.txt
    python3 score.py TAKES --sixrung ../../target/release/sixrung --peers

Prints markdown: the target table, strum F at 25 and 50 ms (mir_eval), timing errors, verdicts and chords against the
truth stored beside each take, strings and directions where players were learned, and with --peers other onset
detectors on the same takes. Exit 0 when every take could be run.
"""

import argparse
import sys
import tempfile
from concurrent.futures import ThreadPoolExecutor
from pathlib import Path

from scoring import peers
from scoring.chords import chord_table, pair_table
from scoring.hands import direction_table, string_table
from scoring.judging import How, judge, learn, truths
from scoring.strums import strum_table
from scoring.targets import target_table
from scoring.verdicts import verdict_table, wrong_list


def report(takes, options, learned):
    lines = [*target_table(takes, learned), "", *strum_table(takes), "", *verdict_table(takes)]
    if any(take.truth.get("spans") for take in takes):
        lines += ["", *chord_table(takes)]
        if options.pairs:
            lines += ["", *pair_table(takes)]
    if learned:
        here = [take for take in takes if take.truth.get("learn")]
        lines += ["", *string_table(here), "", *direction_table(here)]
    if options.peers:
        lines += ["", *peers.peer_table(takes, peers.listen(takes))]
    names = [take.path.stem for take in takes]
    return "\n".join([*lines, "", "Wrong verdicts:", *wrong_list(names, takes)])


def judge_all(how, paths, jobs):
    with ThreadPoolExecutor(jobs) as pool:
        return list(pool.map(lambda path: judge(how, path), paths))


def parse(arguments):
    parser = argparse.ArgumentParser(description=__doc__.splitlines()[0])
    parser.add_argument("takes", type=Path, help="folder that make-takes filled")
    parser.add_argument("--sixrung", default="sixrung", help="the program under test")
    parser.add_argument("--starts", choices=["given", "found", "both"], default="given", help="pass --starts-at or not")
    parser.add_argument("--played", choices=["given", "kept", "both"], default="given", help="pass --played or not")
    parser.add_argument("--learned", choices=["yes", "no", "both"], default="no", help="learn players first or not")
    parser.add_argument("--conditions", type=lambda text: text.split(","), help="only these, with commas")
    parser.add_argument("--peers", action="store_true", help="run other onset detectors too")
    parser.add_argument("--pairs", action="store_true", help="list chords asked for against chords played")
    parser.add_argument("--jobs", type=int, default=2, help="takes judged at once")
    options = parser.parse_args(arguments)
    options.paths = truths(options.takes)
    if options.conditions:
        wanted = [f'"condition": "{name}"' for name in options.conditions]
        options.paths = [path for path in options.paths if any(text in path.read_text() for text in wanted)]
    if not options.paths:
        parser.error(f"no takes in {options.takes}")
    return options


def main(arguments=None):
    options = parse(arguments)
    both = {"given": [True], "found": [False], "kept": [False], "yes": [True], "no": [False], "both": [True, False]}
    with tempfile.TemporaryDirectory() as folder:
        kept = Path(folder)
        if options.learned != "no":
            players, refused = learn(How(options.sixrung, learned_in=kept), options.paths)
            print(f"{players - len(refused)} of {players} players learned", *refused.values(), sep="\n", end="\n\n")
        for with_start in both[options.starts]:
            for with_played in both[options.played]:
                for learned in both[options.learned]:
                    how = How(options.sixrung, with_start, with_played, kept if learned else None)
                    takes = judge_all(how, options.paths, options.jobs)
                    print(f"## Start of the pass {'given' if with_start else 'found'}", end="")
                    print("" if with_played else ", our own sound not given", end="")
                    print(", players learned\n" if learned else "\n")
                    print(report(takes, options, learned) + "\n")


if __name__ == "__main__":
    try:
        main()
    except RuntimeError as error:
        sys.exit(str(error))
