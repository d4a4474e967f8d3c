#!/usr/bin/env python3
"""Grows the trees that say of each expected stroke whether it was played and whether it was a fault, and of what lies
between them whether it was a stroke.

    python3 slot_trees.py A B... --odds odds.npz --out ../../../crates/listen/src/evidence --head "seeds 36000, 37000"

A, B and the odds as for `strum_trees.py`: each pass is described by the odds of trees that never saw its take. Half of
the passes is left out first, to say how well what was not seen is told apart; then all are used.
"""

import argparse
from pathlib import Path

import numpy as np
from described import fit, read, tell, write
from slots import Pass

SETTINGS = {"max_iter": 150, "learning_rate": 0.06, "max_leaf_nodes": 8, "min_samples_leaf": 40, "l2_regularization": 3.0}
EXTRA_SETTINGS = {**SETTINGS, "max_iter": 100, "learning_rate": 0.08, "max_leaf_nodes": 6, "min_samples_leaf": 30}
# As the ear decides it.
PLAYED_ODDS = 2.0
# An extra stroke is one that was played so near, in seconds.
NEAR_S = 0.030


def grow(name, rows, yes, condition, of_pass, settings, options):
    """Grows one file of trees; the odds by trees that were grown on the other half of the passes."""
    odds, weight = np.zeros(len(yes)), np.ones(len(yes))
    for half in (of_pass % 2 == 0, of_pass % 2 == 1):
        odds[~half] = fit(rows[half], yes[half], weight[half], **settings).decision_function(rows[~half])
    tell(name, odds, yes, condition)
    write(fit(rows, yes, weight, **settings), options.out / f"{name}.txt", f"{options.head}; {settings}")
    return odds


def main():
    parser = argparse.ArgumentParser(description=__doc__.splitlines()[0])
    parser.add_argument("described", nargs="+", type=Path)
    parser.add_argument("--odds", type=Path, required=True, help="what strum_trees.py kept")
    parser.add_argument("--out", type=Path, required=True, help="folder for played.txt, fault.txt and extra.txt")
    parser.add_argument("--head", required=True, help="which takes, for each file's first line")
    options = parser.parse_args()
    rows, lines = read(options.described)
    odds = np.load(options.odds)
    passes = [Pass(line, rows, odds["stroke"], odds["first"]) for line in lines if line["strokes"] and line["onsets"]]
    slots = [one.slots() for one in passes]
    of_pass = np.repeat(np.arange(len(passes)), [len(rows) for rows in slots])
    condition = np.array([one.line["condition"] for one in passes])
    slots = np.concatenate(slots)
    played = np.array([stroke["played"] is not None for one in passes for stroke in one.strokes])
    fault = np.array([stroke["fault"] is not None for one in passes for stroke in one.strokes])
    odds = grow("played", slots, played, condition[of_pass], of_pass, SETTINGS, options)
    is_played = odds >= PLAYED_ODDS
    for limit in (0.0, 0.5, 1.0, 1.5, 2.0, 2.5):
        real = condition[of_pass] < 5
        missed, heard = (played & (odds < limit))[real].sum(), (~played & (odds >= limit))[real].sum()
        print(f"odds {limit}: {missed}/{played[real].sum()} played not heard, {heard}/{(~played)[real].sum()} misses heard")
    grow("fault", slots, fault, condition[of_pass], of_pass, SETTINGS, options)
    for here in np.unique(condition):
        mine = condition[of_pass] == here
        missed, heard = (played & ~is_played)[mine].sum(), (~played & is_played)[mine].sum()
        print(f"condition {here}: {missed}/{played[mine].sum()} played not heard, {heard}/{(~played)[mine].sum()} misses heard")
    found = [one.extras(is_played[of_pass == index]) for index, one in enumerate(passes)]
    of_pass = np.repeat(np.arange(len(passes)), [len(times) for _, times in found])
    described = np.array([row for rows, _ in found for row in rows])
    is_near = lambda at_s, line: any(abs(at_s - other) < NEAR_S for other in line["extras"])  # noqa: E731
    extra = np.array([is_near(at_s, one.line) for one, (_, times) in zip(passes, found, strict=True) for at_s in times])
    odds = grow("extra", described, extra, condition[of_pass], of_pass, EXTRA_SETTINGS, options)
    of_all = sum(len(one.line["extras"]) for one in passes if one.line["pass"] == 0)
    for limit in (-1.0, -0.5, 0.0, 0.5):
        said = odds >= limit
        print(f"odds {limit}: {(said & extra).sum()} of {of_all} extra strokes heard, {(said & ~extra).sum()} not there")


if __name__ == "__main__":
    main()
