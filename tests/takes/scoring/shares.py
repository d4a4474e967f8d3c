"""Shares with their intervals, and rows of markdown."""

import math


def wilson(hits, total, z=1.959964):
    """Wilson's 95 % interval for a share (Wilson 1927, JASA 22)."""
    if total == 0:
        return 0.0, 1.0
    share, z2 = hits / total, z * z
    middle = (share + z2 / (2 * total)) / (1 + z2 / total)
    half = z / (1 + z2 / total) * math.sqrt(share * (1 - share) / total + z2 / (4 * total * total))
    return max(0.0, middle - half), min(1.0, middle + half)


def share(hits, total):
    low, high = wilson(hits, total)
    return f"{hits}/{total}" + (f" ({100 * hits / total:.1f} %, {100 * low:.1f}–{100 * high:.1f})" if total else "")


def row(cells):
    return "| " + " | ".join(str(cell) for cell in cells) + " |"


def table(head, rows):
    return [row(head), "|" + "---|" * len(head), *(row(cells) for cells in rows)]
