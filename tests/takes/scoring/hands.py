"""Single strings and directions, after learning."""

from collections import Counter

from .judging import place
from .shares import share, table

FAULTS = {"wrong_fret": "wrong_fret", "muted_string": "dead", "open_string": "should_be_muted"}
OTHER = {"down": "up", "up": "down"}


def string_counts(takes):
    """Counter of (fault, what) over spans: all, caught (that string and that fault), some (some fault on that string);
    and of false alarms in spans without any mistake of the left hand."""
    counter = Counter()
    for take in takes:
        faults = {}
        for hand in take.truth["hands"]:
            if hand["fault"] in FAULTS and hand["struck"]:
                faults[place(hand)] = (hand["fault"], hand["string"])
        for span, found in take.spans():
            truth = {faults[place(stroke)] for stroke in found if place(stroke) in faults and stroke["heard_s"]}
            said = {(one["string"], one["finding"]) for stroke in found for one in stroke["strings"]}
            for fault, string in truth:
                counter[fault, "all"] += 1
                counter[fault, "caught"] += (string, FAULTS[fault]) in said
                counter[fault, "some"] += any(string == other for other, _ in said)
            if not truth and not span["string_fault"] and span["played"] == span["chord"] and span["pitched"] > 0:
                counter["none", "all"] += 1
                for fault, word in FAULTS.items():
                    counter["none", fault] += any(word == finding for _, finding in said)
    return counter


def string_table(takes):
    count = string_counts(takes)
    rows = [
        [
            fault.replace("_", " "),
            share(count[fault, "caught"], count[fault, "all"]),
            share(count[fault, "some"], count[fault, "all"]),
            share(count["none", fault], count["none", "all"]),
        ]
        for fault in FAULTS
    ]
    head = ["a string's fault, by span", "string and fault named", "string named", "false alarm (spans without one)"]
    return table(head, rows)


def direction_counts(takes):
    """Counter over strummed strokes that were played and heard."""
    counter = Counter()
    for take in takes:
        turned = {place(hand) for hand in take.truth["hands"] if hand["fault"] == "wrong_direction"}
        for stroke, found in take.by_place():
            if found["stroke"] not in OTHER or stroke["played_s"] is None or found["heard_s"] is None:
                continue
            wrong = place(stroke) in turned
            went = OTHER[stroke["stroke"]] if wrong else stroke["stroke"]
            said = found["heard_stroke"]
            counter["all"] += 1
            counter["told"] += said is not None
            counter["right"] += said == went
            counter["turned" if wrong else "asked"] += 1
            counter["caught" if wrong else "false alarm"] += said is not None and said != stroke["stroke"]
    return counter


def direction_table(takes):
    count = direction_counts(takes)
    cells = [
        share(count["told"], count["all"]),
        share(count["right"], count["told"]),
        share(count["caught"], count["turned"]),
        share(count["false alarm"], count["asked"]),
    ]
    return table(["strums whose direction was told", "of these right", "turned ones caught", "false alarm"], [cells])
