"""Whether wrong chords were caught, span by span."""

from collections import Counter, defaultdict

from .shares import share, table

FINDINGS = ("right", "wrong", "unsure")


def finding(found):
    """What was said of a span, and as which chord it was heard: the same is said of each of its strokes."""
    said = {stroke["chord_finding"] for stroke in found}
    named = [stroke["sounded_like"] for stroke in found if stroke.get("sounded_like")]
    return next((word for word in ("wrong", "right") if word in said), "unsure"), named[0] if named else None


def spans(takes):
    """(take, truth, said, named) of every span that has a pitch; another chord held that can't be heard is left out."""
    for take in takes:
        for span, found in take.spans():
            if span["pitched"] > 0 and span["wrong"] == (span["played"] != span["chord"]):
                yield take, span, *finding(found)


def counts(takes):
    """Counter of (kind of span, finding), kinds: wrong, right, string (the right chord with a faulty string), and of
    (named, whether it was the chord played) for the wrong ones caught."""
    counter = Counter()
    for _, span, said, named in spans(takes):
        kind = "wrong" if span["wrong"] else "string" if span["string_fault"] else "right"
        counter[kind, said] += 1
        counter[kind, "all"] += 1
        if kind == "wrong" and said == "wrong":
            counter["named", named is not None and named == span["played"]] += 1
            counter["named", "any"] += named is not None
    return counter


def chord_table(takes):
    conditions = sorted({take.truth["condition"] for take in takes})
    by = [("all", takes), *((name, [t for t in takes if t.truth["condition"] == name]) for name in conditions)]
    rows = []
    for name, here in by:
        count = counts(here)
        wrong, right, string = (count[kind, "all"] for kind in ("wrong", "right", "string"))
        rows.append([
            name,
            share(count["wrong", "wrong"], wrong),
            share(count["wrong", "unsure"], wrong),
            share(count["right", "wrong"], right),
            share(count["right", "unsure"], right),
            share(count["string", "wrong"], string),
            share(count["named", True], count["wrong", "wrong"]),
        ])  # fmt: skip
    head = ["spans", "wrong chord caught", "wrong, unsure", "false wrong", "right, unsure"]
    return table([*head, "faulty string, false wrong", "caught and rightly named"], rows)


def pair_table(takes):
    """Each chord asked for against each chord played; also in time played right."""
    pairs = defaultdict(Counter)
    for _, span, said, named in spans(takes):
        pair = pairs[span["chord"], span["played"]]
        pair[said] += 1
        pair["named"] += named is not None and named == span["played"] and said == "wrong"
    order = sorted(pairs, key=lambda pair: (pair[0], pair[0] != pair[1], pair[1]))
    rows = []
    for asked, played in order:
        pair = pairs[asked, played]
        named = "–" if asked == played else pair["named"]
        rows.append([asked, played, sum(pair[word] for word in FINDINGS), *(pair[word] for word in FINDINGS), named])
    return table(["asked", "played", "spans", "said right", "said wrong", "unsure", "rightly named"], rows)
