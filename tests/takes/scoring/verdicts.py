"""Whether passes were called what they were."""

from .judging import JUDGED
from .shares import share, table
from .strums import groups


def verdict_counts(takes, truth):
    """How many takes of this truth there are, and what the judge said of them."""
    said = [take.said["verdict"] for take in takes if take.truth["verdict"] == truth]
    return len(said), {verdict: said.count(verdict) for verdict in JUDGED.values()}


def verdict_table(takes):
    rows = []
    for name, here in groups(takes):
        cleans, of_clean = verdict_counts(here, "clean")
        others, of_other = verdict_counts(here, "not_clean")
        rows.append([
            name,
            share(of_clean["clean"] + of_other["not_clean"], cleans + others),
            share(of_other["clean"], others),
            share(of_clean["not_clean"], cleans),
            share(of_clean["not_judged"], cleans),
            share(of_other["not_judged"], others),
        ])  # fmt: skip
    head = ["takes", "right", "false clean", "false not clean", "not judged, truth clean"]
    return table([*head, "not judged, truth not clean"], rows)


def wrong_list(names, takes):
    lines = []
    for name, take in zip(names, takes, strict=True):
        truth, said = take.truth, take.said
        if truth["verdict"] != said["verdict"]:
            what = f"{truth['lesson']} {truth['section']} {truth['bpm']:g} bpm, {truth['condition']}, {truth['program']}"
            lines.append(f"- {name}: {what}: truth {truth['verdict']}, said {said['verdict']} ({said.get('reason')})")
    return lines or ["- none"]
