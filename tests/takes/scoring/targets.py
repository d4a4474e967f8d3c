"""The figures that were aimed at, and those that were reached."""

import numpy as np

from . import chords, hands
from .shares import share, table
from .strums import errors_ms, f_measures, latency_s, misses
from .verdicts import verdict_counts

SUNG = ("sing6", "sing0")


def target_table(takes, learned):
    """Rows of quantity, target, figure and whether it was reached; nothing where there is nothing to count."""
    removed = latency_s(takes)
    rows = []

    def of(*conditions):
        return [take for take in takes if take.truth["condition"] in conditions]

    def add(name, target, figure, reached):
        rows.append([name, target, figure, "yes" if reached else "**no**"])

    def rate(name, limit, hits, total, most=True):
        if total:
            reached = hits / total <= limit if most else hits / total >= limit
            add(name, f"{'≤' if most else '≥'} {100 * limit:g} %", share(hits, total), reached)

    def f_score(window_s, limit, *conditions):
        here = of(*conditions)
        if here:
            score = f_measures(here, window_s, removed)
            name = f"strum F{1000 * window_s:g}*, {' and '.join(conditions)} ({len(here)} takes)"
            add(name, f"≥ {limit}", f"{score:.3f}", score >= limit)

    for limit, conditions in [(0.97, ["quiet"]), (0.95, ["room"]), (0.94, ["own"]), (0.92, SUNG)]:
        f_score(0.025, limit, *conditions)
    f_score(0.050, 0.98, "quiet", "room", "own")
    for condition, limit in [("quiet", 2), ("room", 4)]:
        errors = errors_ms(of(condition), removed)
        if len(errors):
            add(f"timing error, median, {condition}", f"≤ {limit} ms", f"{np.median(errors):.1f} ms", np.median(errors) <= limit)
            p95 = np.percentile(errors, 95)
            add(f"timing error, p95, {condition}", "≤ 15 ms", f"{p95:.1f} ms", p95 <= 15)
    for name, limit, here in [("", 0.05, takes), (", singing", 0.08, of(*SUNG))]:
        cleans, of_clean = verdict_counts(here, "clean")
        others, of_other = verdict_counts(here, "not_clean")
        if not name:
            rate("false clean, of takes not clean", 0.02, of_other["clean"], others)
        rate(f"false not clean, of clean takes{name}", limit, of_clean["not_clean"], cleans)
    rate("planted miss heard as played", 0.05, *misses(takes))
    chord_rows(rate, takes, of(*SUNG))
    if learned:
        hand_rows(rate, [take for take in takes if take.truth.get("learn")])
    length_s = sum(take.length_s for take in takes)
    if length_s:
        cpu = sum(take.cpu_s for take in takes) / length_s
        add("CPU, whole program / length of the takes", "≤ .01", f"{cpu:.4f}", cpu <= 0.01)
    return table(["quantity", "target", "reached (95 % interval)", "met"], rows)


def chord_rows(rate, takes, sung):
    count = chords.counts(takes)
    rate("wrong chord caught, by span", 0.95, count["wrong", "wrong"], count["wrong", "all"], most=False)
    rate("false wrong chord, by span", 0.004, count["right", "wrong"], count["right", "all"])
    rate("unsure of the chord, by span", 0.10, count["right", "unsure"], count["right", "all"])
    count = chords.counts(sung)
    rate("false wrong chord, singing (never)", 0.0, count["right", "wrong"], count["right", "all"])


def hand_rows(rate, takes):
    count = hands.string_counts(takes)
    for fault, least, most in [("wrong_fret", 0.90, 0.03), ("muted_string", 0.70, 0.05)]:
        name = fault.replace("_", " ")
        rate(f"{name} named, learned", least, count[fault, "caught"], count[fault, "all"], most=False)
        rate(f"{name}, false alarm a span", most, count["none", fault], count["none", "all"])
    count = hands.direction_counts(takes)
    rate("direction right, of those told", 0.92, count["right"], count["told"], most=False)
    rate("direction, false alarm", 0.01, count["false alarm"], count["asked"])
