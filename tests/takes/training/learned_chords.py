#!/usr/bin/env python3
"""Says how well other chords are told with what was learned of a player beside the trees, and without.

    cargo run --release -p sixrung-takes --example describe_takes -- onsets A TAKES...
    python3 learned_chords.py A B...

TAKES are of players with learning takes (`make-takes --takes-a-player`) that the chord trees never saw. The rule is that
of `chord/decide.rs`; its weight was chosen by hand on what this prints.
"""

import argparse
import json
from pathlib import Path

import numpy as np
from described import CONDITIONS
from sklearn.metrics import roc_auc_score

TREES = Path(__file__).resolve().parents[3] / "crates/listen/src/chord/other.txt"
# As `chord/decide.rs` has them.
LEAST_ODDS, MOST_ODDS = -6.0, 4.0
BETTER_BY, LEAST_MISFIT, MOST_TIMES = 20.0, 0.5, 2.0


def trees(path):
    lines = [line for line in path.read_text().splitlines() if not line.startswith("#")]
    return [[[float(part) for part in node.split(":")] for node in line.split(" ")] for line in lines]


def log_odds(forest, row):
    total = 0.0
    for tree in forest:
        node = tree[0]
        while len(node) > 1:
            feature, limit, left, right = node
            node = tree[int(left if row[int(feature)] <= limit else right)]
        total += node[0]
    return total


def spans(names, forest):
    """Odds by the trees, what was learned, whether another chord was played, take and condition of each span."""
    rows, takes = [], 0
    for name in names:
        lines = [json.loads(line) for line in Path(name).with_suffix(".jsonl").read_text().splitlines()]
        for line in lines:
            for span in line["spans"]:
                truth = span["truth"]
                if span["learned"] and truth["pitched"] > 0 and truth["wrong"] == (truth["played"] != truth["chord"]):
                    odds = log_odds(forest, span["described"])
                    rows.append((odds, span["learned"], truth["wrong"], line["take"] + takes, line["condition"]))
        takes += max(line["take"] for line in lines) + 1
    odds, learned, other, take, condition = zip(*rows, strict=True)
    return np.array(odds), np.array(learned), np.array(other), np.array(take), np.array(condition)


def together(odds, learned, weight):
    misfit = np.maximum(np.minimum(learned[:, 3], learned[:, 4]), LEAST_MISFIT)
    times = np.clip(learned[:, 1] / (BETTER_BY * misfit), -MOST_TIMES, MOST_TIMES)
    return np.clip(odds, LEAST_ODDS, MOST_ODDS) + weight * times


def main():
    parser = argparse.ArgumentParser(description=__doc__.splitlines()[0])
    parser.add_argument("described", nargs="+", type=Path)
    parser.add_argument("--weight", type=float, default=2.0, help="of what was learned")
    options = parser.parse_args()
    odds, learned, other, _, condition = spans(options.described, trees(TREES))
    told = together(odds, learned, options.weight)
    for here in np.unique(condition):
        mine = condition == here
        print(CONDITIONS[here], *(f"AUC {roc_auc_score(other[mine], of[mine]):.4f}" for of in (odds, told)))
    for name, of in (("without", odds), ("with", told)):
        for limit in (-2.5, -1.0, 0.0, 1.0):
            said = of >= limit
            print(f"{name}, odds {limit}: {(said & other).sum()}/{other.sum()} others, {(said & ~other).sum()}/{(~other).sum()} as asked")


if __name__ == "__main__":
    main()
