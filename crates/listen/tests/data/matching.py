"""Writes matching.txt: small onset lists with mir_eval's scores, to hold our matching against.

    python3 -m pip install mir_eval==0.8.2 && python3 matching.py > matching.txt
"""
import random

import mir_eval

WINDOW_S = 0.05


def times(dice, count, length_s):
    return sorted(dice.randrange(int(length_s * 1000)) / 1000 for _ in range(count))


def near(dice, reference):
    """What a hasty ear might hear: most onsets moved a little, some left out, some made up."""
    heard = [max(0.0, round(t + dice.gauss(0, 0.035), 4)) for t in reference if dice.random() < 0.85]
    heard += [dice.randrange(4000) / 1000 for _ in range(dice.randrange(4))]
    return sorted(heard)


def row(reference, estimated):
    import numpy as np

    f, precision, recall = mir_eval.onset.f_measure(np.array(reference), np.array(estimated), window=WINDOW_S)
    lists = (" ".join(f"{t:.4f}" for t in values) for values in (reference, estimated))
    return " | ".join((*lists, f"{precision!r} {recall!r} {f!r}".replace("np.float64(", "").replace(")", "")))


def main():
    dice = random.Random(8)
    print(f"# mir_eval {mir_eval.__version__}, window {WINDOW_S} s: reference | estimated | precision recall F")
    for index in range(40):
        reference = times(dice, dice.randrange(1, 30), 4.0)
        print(row(reference, near(dice, reference) if index % 4 else times(dice, dice.randrange(1, 40), 4.0)))
    print(row([0.5, 0.55, 0.6], [0.549, 0.551]))
    print(row([1.0], []))


if __name__ == "__main__":
    main()
