"""What `--example describe_takes` wrote, read back; and trees written as the ear reads them."""

import json
from pathlib import Path

import numpy as np
from sklearn.ensemble import HistGradientBoostingClassifier
from sklearn.metrics import roc_auc_score

HEAD = 5  # numbers before a description: take, condition, pass, seconds, milliseconds after a first string
FEATURES = 106
PLACE_HEAD, PLACE_FEATURES = 5, 38  # take, condition, pass, whether it was played, whether it was a fault
EXTRA_HEAD, EXTRA_FEATURES = 4, 20  # take, condition, pass, whether it was a stroke nobody asked for
SLOT_S = 99  # where in a description the slot's length stands
CONDITIONS = ["quiet", "room", "own", "sing6", "sing0", "nobody plays", "sines"]


def read(names):
    """All onsets' rows, and all passes, each with the range of its rows."""
    rows, passes, takes, start = [], [], 0, 0
    for name in names:
        here = rows_of(name, ".onsets", HEAD + FEATURES)
        lines = [json.loads(line) for line in Path(name).with_suffix(".jsonl").read_text().splitlines()]
        for line in lines:
            line["rows"] = slice(start, start + line["onsets"])
            start += line["onsets"]
            line["take"] += takes
        here[:, 0] += takes
        takes = max(line["take"] for line in lines) + 1
        rows.append(here)
        passes += lines
    rows = np.concatenate(rows)
    assert start == len(rows), f"{start} onsets told of, {len(rows)} described"
    return rows, passes


def rows_of(name, kind, width):
    return np.fromfile(Path(name).with_suffix(kind), "<f4").reshape(-1, width)


def read_places(names, kind, width):
    """Rows of `.places` or `.extras`, and how many each name has; takes counted on from name to name."""
    parts, takes = [rows_of(name, kind, width) for name in names], 0
    for part in parts:
        part[:, 0] += takes
        takes = part[:, 0].max() + 1
    return np.concatenate(parts), [len(part) for part in parts]


def keep(names, kind, counts, numbers):
    """Writes numbers beside the descriptions they are of."""
    for name, part in zip(names, np.split(numbers, np.cumsum(counts)[:-1]), strict=True):
        part.astype("<f4").tofile(Path(name).with_suffix(kind))


def fit(described, yes, weight, **settings):
    used = weight > 0
    model = HistGradientBoostingClassifier(random_state=1, early_stopping=False, **settings)
    return model.fit(described[used], yes[used], weight[used])


def tell(name, odds, yes, condition):
    """How well what was not fitted is told apart: AUC by condition, or the share said yes where none is."""
    parts = []
    for here in np.unique(condition):
        mine = condition == here
        both = yes[mine].any() and not yes[mine].all()
        figure = f"AUC {roc_auc_score(yes[mine], odds[mine]):.4f}" if both else f"{(odds[mine] > 0).mean():.4f} yes"
        parts.append(f"{CONDITIONS[here]} {figure}")
    print(f"{name}: {', '.join(parts)}", flush=True)


def write(model, path, head, odds=0.0):
    """One line a tree; the baseline, moved by `odds`, is a tree of one leaf."""
    lines = [f"# {path.stem}: made by tests/takes/training: {head}", f"{model._baseline_prediction.item() + odds:.5f}"]
    for (tree,) in model._predictors:
        lines.append(
            " ".join(
                f"{node['value']:.5f}"
                if node["is_leaf"]
                else f"{node['feature_idx']}:{node['num_threshold']:.6g}:{node['left']}:{node['right']}"
                for node in tree.nodes
            )
        )
    path.write_text("\n".join(lines) + "\n")
