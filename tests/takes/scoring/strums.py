"""When strums were heard: F-measures and timing errors, by mir_eval."""

import math
import warnings

import mir_eval
import numpy as np

from .shares import share, table

WINDOWS_S = (0.025, 0.050)


def latency_s(takes):
    """One constant for the whole set: the median of heard minus played, strokes matched by their place."""
    offsets = [
        found["heard_s"] - stroke["played_s"]
        for take in takes
        for stroke, found in take.by_place()
        if found["heard_s"] is not None and stroke["played_s"] is not None
    ]
    return float(np.median(offsets)) if offsets else 0.0


def f_measure(played, heard, window_s):
    with warnings.catch_warnings():
        warnings.simplefilter("ignore")  # mir_eval warns of takes in which nothing was heard; they count as 0
        return mir_eval.onset.f_measure(played, heard, window_s)[0]


def f_measures(takes, window_s, removed_s):
    scores = [f_measure(take.played(), take.heard(removed_s), window_s) for take in takes]
    return float(np.mean(scores)) if scores else math.nan


def errors_of(played, heard):
    """How far off matched strums are, in milliseconds (mir_eval's matching at 50 ms)."""
    return [abs(heard[j] - played[i]) * 1000 for i, j in mir_eval.util.match_events(played, heard, WINDOWS_S[-1])]


def errors_ms(takes, removed_s):
    return np.array([error for take in takes for error in errors_of(take.played(), take.heard(removed_s))])


def misses(takes):
    """Planted misses, and how many of them were heard all the same."""
    pairs = [pair for take in takes for pair in take.by_place() if pair[0]["planted"] == "missed"]
    return sum(found["heard_s"] is not None for _, found in pairs), len(pairs)


def groups(takes):
    """Everything, then each condition and guitar, then each engine where there are several."""
    yield "all", takes
    for condition in sorted({take.truth["condition"] for take in takes}):
        for program in sorted({take.truth["program"] for take in takes}):
            here = [t for t in takes if (t.truth["condition"], t.truth["program"]) == (condition, program)]
            if here:
                yield f"{condition}, {program}", here
    engines = sorted({take.truth.get("engine", "fluid") for take in takes})
    for engine in engines if len(engines) > 1 else []:
        yield f"{engine} notes", [take for take in takes if take.truth.get("engine", "fluid") == engine]


def strum_table(takes):
    removed = latency_s(takes)
    rows = []
    for name, here in groups(takes):
        scores = [f_measures(here, window, off) for off in (removed, 0.0) for window in WINDOWS_S]
        errors = errors_ms(here, removed)
        spread = [f"{np.percentile(errors, q):.1f}" if len(errors) else "–" for q in (50, 95)]
        rows.append([name, len(here), *(f"{score:.3f}" for score in scores), *spread, share(*misses(here))])
    head = ["takes", "n", "F25*", "F50*", "F25", "F50", "median error ms*", "p95 ms*", "planted miss heard"]
    return [f"One latency removed where marked *: {1000 * removed:.1f} ms.", "", *table(head, rows)]
