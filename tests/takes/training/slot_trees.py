#!/usr/bin/env python3
"""Grows the trees that say of each expected stroke whether it was played and whether it was a fault, and of what lies
between them whether it was a stroke.

    cargo run --release -p sixrung-takes --example describe_takes -- places A TAKES...
    python3 slot_trees.py places A B... --out ../../../crates/listen/src/evidence --head "seeds 36000, 37000"
    cargo run --release -p sixrung-takes --example describe_takes -- extras A TAKES...
    python3 slot_trees.py extras A B... --out ../../../crates/listen/src/evidence --head "seeds 36000, 37000"

A, B and the odds as for `strum_trees.py`: each pass is described by the odds of trees that never saw its take. Half of
the takes is left out first, to say how well what was not seen is told apart, and what was played by trees that never saw
it (A.played, which the extras are described by); then all are used.
"""

import argparse
from pathlib import Path

import numpy as np
from described import EXTRA_FEATURES, EXTRA_HEAD, PLACE_FEATURES, PLACE_HEAD, fit, keep, read_places, tell, write

SETTINGS = {"max_iter": 150, "learning_rate": 0.06, "max_leaf_nodes": 8, "min_samples_leaf": 40, "l2_regularization": 3.0}
EXTRA_SETTINGS = {**SETTINGS, "max_iter": 100, "learning_rate": 0.08, "max_leaf_nodes": 6, "min_samples_leaf": 30}
# As the ear decides it.
PLAYED_ODDS = 2.75
REAL = 5  # conditions from here on are nobody playing and sines


def grow(name, rows, yes, takes, condition, settings, options):
    """Grows one file of trees; the odds by trees that were grown on the other half of the takes."""
    odds, weight = np.zeros(len(yes)), np.ones(len(yes))
    for half in (takes % 2 == 0, takes % 2 == 1):
        odds[~half] = fit(rows[half], yes[half], weight[half], **settings).decision_function(rows[~half])
    tell(name, odds, yes, condition)
    write(fit(rows, yes, weight, **settings), options.out / f"{name}.txt", f"{options.head}; {settings}")
    return odds


def places(options):
    rows, counts = read_places(options.described, ".places", PLACE_HEAD + PLACE_FEATURES)
    takes, condition = rows[:, 0].astype(int), rows[:, 1].astype(int)
    played, fault, described = rows[:, 3] > 0, rows[:, 4] > 0, rows[:, PLACE_HEAD:]
    odds = grow("played", described, played, takes, condition, SETTINGS, options)
    real = condition < REAL
    for limit in (1.0, 1.5, 2.0, 2.5, 3.0):
        missed, heard = (played & (odds < limit))[real].sum(), (~played & (odds >= limit))[real].sum()
        print(f"odds {limit}: {missed}/{played[real].sum()} played not heard, {heard}/{(~played)[real].sum()} misses heard")
    for here in np.unique(condition):
        mine, is_played = condition == here, odds >= PLAYED_ODDS
        missed, heard = (played & ~is_played)[mine].sum(), (~played & is_played)[mine].sum()
        print(f"condition {here}: {missed}/{played[mine].sum()} played not heard, {heard}/{(~played)[mine].sum()} misses heard")
    keep(options.described, ".played", counts, odds)
    grow("fault", described, fault, takes, condition, SETTINGS, options)


def extras(options):
    rows, _ = read_places(options.described, ".extras", EXTRA_HEAD + EXTRA_FEATURES)
    takes, condition, extra = rows[:, 0].astype(int), rows[:, 1].astype(int), rows[:, 3] > 0
    odds = grow("extra", rows[:, EXTRA_HEAD:], extra, takes, condition, EXTRA_SETTINGS, options)
    for limit in (-1.0, -0.5, 0.0, 0.5):
        said = odds >= limit
        print(f"odds {limit}: {(said & extra).sum()} of {extra.sum()} extra strokes heard, {(said & ~extra).sum()} not there")


def main():
    parser = argparse.ArgumentParser(description=__doc__.splitlines()[0])
    parser.add_argument("what", choices=["places", "extras"])
    parser.add_argument("described", nargs="+", type=Path)
    parser.add_argument("--out", type=Path, required=True, help="folder for played.txt, fault.txt and extra.txt")
    parser.add_argument("--head", required=True, help="which takes, for each file's first line")
    options = parser.parse_args()
    {"places": places, "extras": extras}[options.what](options)


if __name__ == "__main__":
    main()
