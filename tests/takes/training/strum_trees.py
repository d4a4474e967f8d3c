#!/usr/bin/env python3
"""Grows the trees by which the ear tells a stroke's first string from everything else that rises suddenly.

    cargo run --release -p sixrung-takes --example describe_takes -- onsets A TAKES...
    python3 strum_trees.py A B... --out ../../../crates/listen/src/evidence --head "seeds 36000, 37000"

Gradient boosting by scikit-learn. Each half of the takes is also told by trees grown on the other half: A.odds holds
those odds, and `slot_trees.py` goes on from them. Then all takes are used.
"""

import argparse
from concurrent.futures import ProcessPoolExecutor
from functools import partial
from pathlib import Path

import numpy as np
from described import FEATURES, HEAD, SLOT_S, fit, keep, read, rows_of, tell, write

SETTINGS = {"max_iter": 160, "learning_rate": 0.12, "max_leaf_nodes": 16, "min_samples_leaf": 60, "l2_regularization": 3.0}
# What is asked: is here a stroke (its later strings and the pick's touch are neither yes nor no)? And: is this its
# first string (they are no, but to mistake them weighs less)?
ASKED = {"stroke": (12.0, 0.0), "first": (6.0, 0.3)}
# A stroke's strings follow its first within this, in milliseconds, and half a slot: a slow sweep of the takes.
SWEEP_MS = 95.0
# Takes with a voice, and fast ones, weigh more: they are the hard ones.
SUNG, SUNG_WEIGHT = (3, 4), 1.5
FAST_SLOT_S, FAST_WEIGHT = 0.13, 1.5
# Of onsets that hardly rise and lie far from any stroke, a third is enough.
EASY_RISE_DB, EASY_SHARE = 4.0, 0.34


def asked(rows, near_ms, beside_weight):
    """What is true, and what to mistake it weighs."""
    off_ms, slot_s = rows[:, 4], rows[:, HEAD + SLOT_S]
    yes = np.abs(off_ms) < near_ms
    beside = off_ms < np.minimum(SWEEP_MS, 500 * slot_s + 12)
    weight = np.where(yes, 1.0, np.where(beside, beside_weight, 1.0))
    condition = rows[:, 1].astype(int)
    fitted = weight.copy()
    for here in np.unique(condition):
        mine = condition == here
        fitted[mine] *= (SUNG_WEIGHT if here in SUNG else 1.0) / fitted[mine].mean()
    fitted[slot_s < FAST_SLOT_S] *= FAST_WEIGHT
    easy = np.isnan(off_ms) & (rows[:, HEAD] < EASY_RISE_DB)
    kept = np.random.default_rng(1).random(len(rows)) < EASY_SHARE
    fitted[easy] *= kept[easy] / EASY_SHARE
    return yes, weight, fitted


def main():
    parser = argparse.ArgumentParser(description=__doc__.splitlines()[0])
    parser.add_argument("described", nargs="+", type=Path)
    parser.add_argument("--out", type=Path, required=True, help="folder for stroke.txt and first.txt")
    parser.add_argument("--head", required=True, help="which takes, for each file's first line")
    options = parser.parse_args()
    with ProcessPoolExecutor(len(ASKED)) as pool:
        odds = np.column_stack(list(pool.map(partial(grow, options), ASKED)))
    keep(options.described, ".odds", [len(rows_of(name, ".onsets", HEAD + FEATURES)) for name in options.described], odds)


def grow(options, name):
    """Grows the trees of one question; the odds by trees that were grown on the other half of the takes."""
    rows, _ = read(options.described)
    described, condition = rows[:, HEAD:], rows[:, 1].astype(int)
    odd_take = rows[:, 0].astype(int) % 2 == 1
    yes, weight, fitted = asked(rows, *ASKED[name])
    odds = np.zeros(len(rows))
    for half in (odd_take, ~odd_take):
        odds[~half] = fit(described[half], yes[half], fitted[half], **SETTINGS).decision_function(described[~half])
    told = weight > 0
    tell(name, odds[told], yes[told], condition[told])
    write(fit(described, yes, fitted, **SETTINGS), options.out / f"{name}.txt", f"{options.head}; {SETTINGS}")
    return odds


if __name__ == "__main__":
    main()
