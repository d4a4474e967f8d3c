#!/usr/bin/env python3
"""Fits the trees by which the ear tells a stroke's first string from everything else that rises suddenly.

    cargo run --release -p sixrung-takes --example describe_onsets -- onsets.f32 TAKES...
    python3 strum_trees.py onsets.f32 ../../../crates/listen/src/evidence "seeds 31000, 32000"

Gradient boosting by scikit-learn; every condition weighs the same. Half of the takes are left out first, to say how
well takes that were not seen are told apart; then all are used.
"""

import argparse
from pathlib import Path

import numpy as np
from sklearn.ensemble import HistGradientBoostingClassifier
from sklearn.metrics import roc_auc_score

FEATURES = 74
CONDITIONS = ["quiet", "room", "own", "sing6", "sing0", "nobody plays", "sines"]
SETTINGS = {"max_iter": 150, "learning_rate": 0.12, "max_leaf_nodes": 8, "l2_regularization": 1.0}
# What is asked: is here a stroke (its later strings and the pick's touch are neither yes nor no)? And: is this its
# first string (they are no, but to mistake them weighs less)?
ASKED = {"stroke": (12.0, 0.0), "first": (6.0, 0.3)}


def read(path):
    """Take numbers, conditions, milliseconds after a stroke's first string and descriptions."""
    rows = np.fromfile(path, "<f4").reshape(-1, 3 + FEATURES)
    return rows[:, 0].astype(int), rows[:, 1].astype(int), rows[:, 2], rows[:, 3:]


def fit(described, yes, weight, condition):
    weight = weight.copy()
    for here in np.unique(condition):
        weight[condition == here] /= weight[condition == here].mean()
    return HistGradientBoostingClassifier(random_state=1, **SETTINGS).fit(described, yes, weight)


def tell(model, described, yes, condition):
    """How well takes that were not fitted are told apart: AUC, and strokes found at 5 false ones in 100."""
    odds = model.decision_function(described)
    for here in np.unique(condition):
        mine = condition == here
        if not yes[mine].any():
            print(f"{CONDITIONS[here]}: {(odds[mine] > 0).mean():.4f} taken for strokes")
            continue
        strokes, others = odds[mine & yes], np.sort(odds[mine & ~yes])[::-1]
        limit = others[min(len(others) - 1, int(0.05 * len(strokes)))]
        print(f"{CONDITIONS[here]}: AUC {roc_auc_score(yes[mine], odds[mine]):.4f}, found {(strokes > limit).mean():.3f}")


def lines(model):
    """One line a tree; the baseline is a tree of one leaf."""
    yield f"{model._baseline_prediction.item():.5f}"
    for (tree,) in model._predictors:
        nodes = tree.nodes
        yield " ".join(
            f"{node['value']:.5f}"
            if node["is_leaf"]
            else f"{node['feature_idx']}:{node['num_threshold']:.5g}:{node['left']}:{node['right']}"
            for node in nodes
        )


def main():
    parser = argparse.ArgumentParser(description=__doc__.splitlines()[0])
    parser.add_argument("described", type=Path)
    parser.add_argument("out", type=Path, help="folder for stroke.txt and first.txt")
    parser.add_argument("made_from", help="which takes, for each file's first line")
    options = parser.parse_args()
    take, condition, off_ms, described = read(options.described)
    for name, (near_ms, beside_weight) in ASKED.items():
        yes = np.abs(off_ms) < near_ms
        weight = np.where(np.isnan(off_ms) | yes, 1.0, beside_weight)
        for part in (take % 2 == 1, weight > 0):
            chosen = part & (weight > 0)
            model = fit(described[chosen], yes[chosen], weight[chosen], condition[chosen])
            left_out = (weight > 0) & ~part
            if left_out.any():
                print(f"{name}:")
                tell(model, described[left_out], yes[left_out], condition[left_out])
        head = f"# {name}: made by tests/takes/training/strum_trees.py from {take.max() + 1} takes: {options.made_from}; {SETTINGS}\n"
        (options.out / f"{name}.txt").write_text(head + "\n".join(lines(model)) + "\n")


if __name__ == "__main__":
    main()
