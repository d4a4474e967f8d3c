#!/usr/bin/env python3
"""Grows the trees by which the ear tells whether another chord than the one asked for was played over a span.

    python3 chord_trees.py A B... --out ../../../crates/listen/src/chord --head "seeds 36000, 37000, 39500"

A and B as for `strum_trees.py`. A third of the takes is left out first, to say how well takes that were not seen are
told apart; then all are used. A faulty string is no other chord.
"""

import argparse
from pathlib import Path

import numpy as np
from described import fit, read, tell, write

SETTINGS = {"max_iter": 120, "learning_rate": 0.06, "max_leaf_nodes": 6, "min_samples_leaf": 25, "l2_regularization": 5.0}
# Other chords are few: they weigh more, and the odds are set right again.
OTHER_WEIGHT = 3.0


def spans(passes):
    """Descriptions, whether another chord was played, conditions and takes; another chord held that can't be heard is left out."""
    rows = []
    for line in passes:
        for span in line["spans"]:
            truth = span["truth"]
            if truth["pitched"] > 0 and truth["wrong"] == (truth["played"] != truth["chord"]):
                rows.append((span["described"], truth["wrong"], line["condition"], line["take"]))
    described, other, condition, take = zip(*rows, strict=True)
    return np.array(described), np.array(other), np.array(condition), np.array(take)


def main():
    parser = argparse.ArgumentParser(description=__doc__.splitlines()[0])
    parser.add_argument("described", nargs="+", type=Path)
    parser.add_argument("--out", type=Path, required=True, help="folder for other.txt")
    parser.add_argument("--head", required=True, help="which takes, for the file's first line")
    options = parser.parse_args()
    described, other, condition, take = spans(read(options.described)[1])
    weight = np.where(other, OTHER_WEIGHT, 1.0)
    left_out = take % 3 == 0
    model = fit(described[~left_out], other[~left_out], weight[~left_out], **SETTINGS)
    odds = model.decision_function(described[left_out]) - np.log(OTHER_WEIGHT)
    tell("other", odds, other[left_out], condition[left_out])
    for limit in (-2.5, -1.0, 0.0, 1.0):
        caught, false = (odds >= limit) & other[left_out], (odds >= limit) & ~other[left_out]
        print(f"odds {limit}: caught {caught.sum()}/{other[left_out].sum()}, false {false.sum()}/{(~other[left_out]).sum()}")
    head = f"{options.head}, {other.sum()} of {len(other)} spans another chord; {SETTINGS}"
    write(fit(described, other, weight, **SETTINGS), options.out / "other.txt", head, -np.log(OTHER_WEIGHT))


if __name__ == "__main__":
    main()
