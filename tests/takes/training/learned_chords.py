#!/usr/bin/env python3
"""Fits how far what was learned of a player's chords speaks for another one, beside what the trees say without it.

    cargo run --release -p sixrung-takes --example describe_takes -- onsets A TAKES...
    python3 learned_chords.py A B...

TAKES are of players with learning takes (`make-takes --takes-a-player`) that the chord trees never saw. Logistic
regression; prints the weights that stand in `chord/decide.rs`, and how well the odds tell takes that were left out,
with what was learned and without.
"""

import argparse
import json
from pathlib import Path

import numpy as np
from described import CONDITIONS
from sklearn.linear_model import LogisticRegression
from sklearn.metrics import roc_auc_score

TREES = Path(__file__).resolve().parents[3] / "crates/listen/src/chord/other.txt"
LEAST_ODDS, MOST_ODDS = -8.0, 8.0
# Players are left out in so many parts.
PARTS = 5


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


def features(odds, learned):
    """As `chord/decide.rs` has them: the trees' odds, and by how much another chord explains the span better, against
    how badly all is explained."""
    misfit = np.maximum(np.minimum(learned[:, 3], learned[:, 4]), 0.1)
    better = [np.clip(learned[:, at] / (10 * misfit), -3, 3) for at in (0, 1, 2)]
    return np.column_stack([np.clip(odds, LEAST_ODDS, MOST_ODDS), *better, misfit])


def main():
    parser = argparse.ArgumentParser(description=__doc__.splitlines()[0])
    parser.add_argument("described", nargs="+", type=Path)
    parser.add_argument("--a-player", type=int, default=6, help="takes in a row by one player")
    options = parser.parse_args()
    odds, learned, other, take, condition = spans(options.described, trees(TREES))
    rows = features(odds, learned)
    model = LogisticRegression(C=1.0, max_iter=1000)
    told = np.zeros(len(odds))
    for part in range(PARTS):
        left_out = take // options.a_player % PARTS == part
        told[left_out] = model.fit(rows[~left_out], other[~left_out]).decision_function(rows[left_out])
    for here in np.unique(condition):
        mine = condition == here
        print(CONDITIONS[here], *(f"AUC {roc_auc_score(other[mine], of[mine]):.4f}" for of in (odds, told)))
    for name, of in (("without", odds), ("with", told)):
        for limit in (-2.5, -1.0, 0.0, 1.0):
            said = of >= limit
            print(f"{name}, odds {limit}: {(said & other).sum()}/{other.sum()} others, {(said & ~other).sum()}/{(~other).sum()} as asked")
    model.fit(rows, other)
    print("weights", np.round(model.coef_[0], 3), "and", np.round(model.intercept_[0], 3))


if __name__ == "__main__":
    main()
