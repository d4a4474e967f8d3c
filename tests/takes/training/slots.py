"""What lies in the place of each expected stroke, and between them: the same numbers as `evidence/slots.rs` and
`evidence/extras.rs` of the ear, which say what they mean."""

import numpy as np
from described import HEAD

NO_ODDS, NOTHING = -9.0, -99.0
SURE_ODDS, LOOKED_AT_ODDS, CLEAR_ODDS = 2.0, -2.0, 5.0
SPREAD_S, ANYWHERE_SHARE = 0.035, 0.05
JUST_AFTER_S, SAME_S = 0.020, 0.0155
SHARES_NEW, SCORE_FROM, PARTIALS_NEW = 74, 99, 104
BIAS_LIMIT_S = {"beginner": 0.050, "improver": 0.030, "advanced": 0.020}
KINDS = {"Bass": 0, "Chuck": 1}
FAR_S = 2.0
APART_OF_SWEEP = 0.5


def nearness(off_s):
    return np.log(ANYWHERE_SHARE + (1 - ANYWHERE_SHARE) * np.exp(-((off_s / SPREAD_S) ** 2) / 2))


def middle(numbers, without):
    return float(np.median(numbers)) if len(numbers) else without


class Pass:
    """One pass: the likeliest onset in each place, and its first string."""

    def __init__(self, line, rows, stroke, first):
        here = line["rows"]
        self.line, self.strokes = line, line["strokes"]
        self.at_s, self.described = rows[here, 3].astype(float), rows[here, HEAD:]
        self.odds, self.first_odds = stroke[here], first[here]
        self.expected_s = np.array([stroke["at"] for stroke in self.strokes])
        self.slot_s = np.array([stroke["slot"] for stroke in self.strokes])
        self.longest_s = min(0.085, 0.6 * self.slot_s.min())
        self.back_s = min(self.longest_s, 0.25 * self.slot_s.min())
        sure = np.sort([self.at_s[self.first_string(index)] for index in self.likely(SURE_ODDS, self.longest_s, [])])
        self.bias_s = float(np.clip(middle(self.offsets(sure), 0.0), -0.05, 0.05))
        self.best, self.first, self.worth, self.second = [], [], [], []
        for index, at_s in enumerate(self.expected_s + self.bias_s):
            self.look_into(*np.searchsorted(self.at_s, self.reach(index, self.bias_s)), at_s)
        self.worth, self.second = np.array(self.worth), np.array(self.second)
        self.heard_s = np.array([self.at_s[first] if first >= 0 else np.nan for first in self.first])
        likely = (self.heard_s - self.expected_s)[(self.worth > -1) & np.isfinite(self.heard_s)]
        limit_s = BIAS_LIMIT_S[line["level"]]
        self.off_s = self.heard_s - self.expected_s - float(np.clip(middle(likely, 0.0), -limit_s, limit_s))

    def reach(self, index, bias_s):
        """Half-way to the neighbours, and at most one slot."""
        at_s = self.expected_s + bias_s
        before = (at_s[index] - at_s[index - 1]) / 2 if index else np.inf
        after = (at_s[index + 1] - at_s[index]) / 2 if index + 1 < len(at_s) else np.inf
        return at_s[index] - min(before, self.slot_s[index]), at_s[index] + min(after, self.slot_s[index])

    def offsets(self, times_s):
        found = []
        for index, at_s in enumerate(self.expected_s):
            here = times_s[slice(*np.searchsorted(times_s, self.reach(index, 0.0)))]
            if len(here):
                found.append(here[np.argmin(np.abs(here - at_s))] - at_s)
        return found

    def look_into(self, start, end, at_s):
        if end <= start:
            for row, without in ((self.best, -1), (self.first, -1), (self.worth, NO_ODDS), (self.second, NO_ODDS)):
                row.append(without)
            return
        worth = self.odds[start:end] + nearness(self.at_s[start:end] - at_s)
        best = start + int(np.argmax(worth - np.maximum(self.odds[start:end] - CLEAR_ODDS, 0.0)))
        others = worth[np.abs(self.at_s[start:end] - self.at_s[best]) > SAME_S]
        self.best.append(best)
        self.first.append(self.first_string(best))
        self.worth.append(worth[best - start])
        self.second.append(others.max() if len(others) else NO_ODDS)

    def likely(self, least, apart_s, taken):
        taken, kept = list(taken), []
        for index in sorted(np.flatnonzero(self.odds >= least), key=lambda index: -self.odds[index]):
            if all(abs(self.at_s[index] - other) > apart_s for other in taken):
                taken.append(self.at_s[index])
                kept.append(index)
        return sorted(kept)

    def first_string(self, index):
        at_s = self.at_s[index]
        start, end = np.searchsorted(self.at_s, [at_s - self.back_s, at_s + JUST_AFTER_S + 1e-7])
        return start + int(np.argmax(self.first_odds[start : max(end, index + 1)]))

    def slots(self):
        """A row a place."""
        count, strokes = len(self.strokes), self.strokes
        pick = lambda numbers, which, without: np.array([numbers[i] if i >= 0 else without for i in which])  # noqa: E731
        stroke, first = pick(self.odds, self.best, NO_ODDS), pick(self.first_odds, self.first, NO_ODDS)
        strength, gain = (pick(self.described[:, number], self.best, -24.0) for number in (2, 1))
        kind = np.array([KINDS.get(one["action"], 2) for one in strokes])
        down = np.array([one["down"] for one in strokes])
        apart = np.abs(self.off_s)
        spread = middle(apart[np.isfinite(apart)], 0.1)
        usual, weak, usual_first = np.median(stroke), np.sort(stroke)[int(0.2 * count)], np.median(first)
        noise = self.noise()
        rows = []
        for index, one in enumerate(strokes):
            others = np.arange(count) != index
            same = others & (down == down[index]) & (kind == kind[index])
            same = same if same.sum() >= 3 else others | (count == 1)
            off, has, window = self.off_s[index], np.isfinite(self.off_s[index]), one["window"]
            before, after = index - 1, index + 1 if index + 1 < count else -1
            near = lambda other: apart[other] if other >= 0 and np.isfinite(apart[other]) else 0.1  # noqa: E731
            best, (rival, rival_off_s) = self.best[index], self.rival(index)
            onset = self.described[best] if best >= 0 else np.full(self.described.shape[1], NOTHING)
            rows.append([
                self.worth[index], stroke[index], self.second[index], first[index], rival, rival_off_s,
                off if has else 0.0, abs(off) / window if has else 9.0, abs(off) - window if has else 9.0, window,
                one["slot"], one["at"] - strokes[before]["at"] if before >= 0 else 1.0,
                strokes[after]["at"] - one["at"] if after >= 0 else 1.0, kind[index], down[index],
                before < 0 or strokes[before]["shape"] != one["shape"], usual, weak, usual_first, noise, spread,
                self.worth[before] if before >= 0 else 9.0, self.worth[after] if after >= 0 else 9.0, near(before), near(after),
                *(own[index] - np.median(own[same]) for own in (strength, gain, stroke)),
                self.at_s[best] - self.at_s[self.first[index]] if best >= 0 else 0.0, len(self.at_s) / count,
                *onset[[0, 1, 2, PARTIALS_NEW, PARTIALS_NEW + 1, SHARES_NEW, SHARES_NEW + 1, SHARES_NEW + 2]],
            ])  # fmt: skip
        return np.array(rows, float)

    def rival(self, index):
        first = self.first[index]
        if first < 0:
            return NO_ODDS, 0.0
        at_s = self.at_s[first]
        others = range(*np.searchsorted(self.at_s, [at_s - 0.0605, at_s + 0.0605]))
        others = [other for other in others if abs(self.at_s[other] - at_s) > 0.0085]
        best = max(others, key=lambda other: self.first_odds[other], default=None)
        return (NO_ODDS, 0.0) if best is None else (self.first_odds[best], self.at_s[best] - at_s)

    def noise(self):
        kept = self.at_s[[best for best in self.best if best >= 0]]
        rest = np.array([not len(kept) or np.abs(kept - at_s).min() > self.longest_s for at_s in self.at_s], bool)
        return np.sort(self.odds[rest])[int(0.95 * rest.sum())] if rest.sum() > 3 else -6.0

    def extras(self, is_played):
        """A row for whatever may be a stroke nobody asked for, and when it began."""
        kept = [index for of in (self.best, self.first) for index, played in zip(of, is_played, strict=True) if played and index >= 0]
        taken = np.sort(self.at_s[kept])
        usual = middle(self.odds[[best for best in self.best if best >= 0]], NO_ODDS)
        common = np.sort(self.odds)[int(0.5 * len(self.odds))] if len(self.odds) else 0.0
        from_s = self.line["starts"] - self.strokes[0]["slot"] / 2
        rows, times = [], []
        for index in self.likely(LOOKED_AT_ODDS, APART_OF_SWEEP * self.longest_s, taken):
            first = self.first_string(index)
            if not from_s <= self.at_s[first] < from_s + self.line["length"]:
                continue
            next_one = np.searchsorted(taken, self.at_s[index])
            before = self.at_s[index] - taken[next_one - 1] if next_one else FAR_S
            after = taken[next_one] - self.at_s[index] if next_one < len(taken) else FAR_S
            one, odds = self.described[index], self.odds[index]
            rows.append([
                odds, self.first_odds[index], self.first_odds[first], *one[:3], min(before, FAR_S), min(after, FAR_S),
                min(before, after) / (before + after), usual, odds - usual, common, *one[SHARES_NEW : SHARES_NEW + 3],
                *one[PARTIALS_NEW : PARTIALS_NEW + 2], one[SCORE_FROM], one[SCORE_FROM + 2], self.longest_s,
            ])  # fmt: skip
            times.append(self.at_s[first])
        return rows, times
