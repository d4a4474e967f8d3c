"""score.py against a judge whose mistakes are known. Run: python3 -m unittest test_score"""

import contextlib
import io
import json
import stat
import sys
import tempfile
import textwrap
import unittest
from pathlib import Path
from unittest import mock

import numpy as np

import score
from scoring import chords, hands, peers, strums
from scoring.judging import How, Scored, judge
from scoring.shares import wilson

# A judge that reads the truth, hears everything 6 ms late, misses the second stroke of take 1, calls take 2 clean
# although it is not, can't judge takes whose start it is not told, and fails on a section named "broken".
FAKE_JUDGE = """
    #!{python}
    import json, sys
    from pathlib import Path
    if sys.argv[1] == "learn":
        if "shy" in sys.argv[3]:
            sys.exit("error: 3 strokes heard, 10 asked for")
        Path(sys.argv[sys.argv.index("--out") + 1]).write_text(Path(sys.argv[3]).name)
        sys.exit(0)
    take = Path(sys.argv[3])
    truth = json.loads(take.with_suffix(".json").read_text())
    assert sys.argv[1] == "judge" and sys.argv[sys.argv.index("--bpm") + 1] == "84", sys.argv
    if truth["section"] == "broken":
        sys.exit(1)
    if "--starts-at" not in sys.argv:
        print(json.dumps({{"verdict": "not_judged", "reason": "start unclear", "strokes": [], "extras": []}}))
        sys.exit(11)
    later = lambda time: None if time is None else time + 0.006
    heard = {{"chord_finding": "right", "sounded_like": None, "heard_stroke": None, "strings": []}}
    strokes = [dict(stroke, heard_s=later(stroke["played_s"]), **heard) for stroke in truth["strokes"]]
    if take.stem == "take-1":
        strokes[1]["heard_s"] = None
    if "--played" in sys.argv:
        assert Path(sys.argv[sys.argv.index("--played") + 1]).name == truth["played"]
        strokes[2]["heard_s"] = None
    if "--learned" in sys.argv:
        assert Path(sys.argv[sys.argv.index("--learned") + 1]).read_text() == truth["learn"]
        strokes[0]["strings"] = [{{"string": 3, "finding": "dead"}}]
    verdict = "clean" if take.stem == "take-2" else truth["verdict"]
    extras = [{{"heard_s": later(extra["played_s"])}} for extra in truth["extras"]]
    print(json.dumps({{"verdict": verdict, "reason": None, "strokes": strokes, "extras": extras}}))
    sys.exit(0 if verdict == "clean" else 10)
"""


def truth(verdict, condition, section="walk", extras=(), **more):
    places = [(0, index // 4, index % 4) for index in range(8)]
    strokes = [
        {"pass": p, "bar": b, "slot": s, "expected_s": 1 + i / 2, "played_s": 1.01 + i / 2, "planted": None}
        for i, (p, b, s) in enumerate(places)
    ]
    for index, stroke in enumerate(strokes):
        stroke["stroke"] = "up" if index % 2 else "down"
    strokes[7] |= {"played_s": None, "planted": "missed"}
    return {
        "lesson": "a.lesson.ron", "section": section, "bpm": 84.0, "passes": 1, "arrangement": "plain",
        "level": "beginner", "starts_at_s": 1.0, "program": "steel", "condition": condition, "verdict": verdict,
        "strokes": strokes, "extras": [{"pass": 0, "played_s": time} for time in extras], "hands": [],
        "spans": [span(0), span(1)], **more,
    }  # fmt: skip


def span(bar, played="C", wrong=False, string_fault=False, pitched=4):
    return {
        "pass": 0, "bar": bar, "slot": 0, "strokes": 4, "pitched": pitched, "chord": "C", "played": played,
        "wrong": wrong, "string_fault": string_fault,
    }  # fmt: skip


def scored(take, **of_bars):
    """A take with these findings for all strokes of a bar, given as bar0=…, bar1=…"""
    heard = {"chord_finding": "right", "sounded_like": None, "heard_stroke": None, "strings": []}
    strokes = []
    for stroke in take["strokes"]:
        strokes.append(dict(stroke, heard_s=stroke["played_s"], **(heard | of_bars.get(f"bar{stroke['bar']}", {}))))
    return Scored(take, {"verdict": take["verdict"], "strokes": strokes, "extras": []})


class ScoreTest(unittest.TestCase):
    def setUp(self):
        self.folder = Path(self.enterContext(tempfile.TemporaryDirectory()))
        self.judge = self.folder / "judge"
        self.judge.write_text(textwrap.dedent(FAKE_JUDGE).format(python=sys.executable).lstrip())
        self.judge.chmod(self.judge.stat().st_mode | stat.S_IXUSR)
        takes = [truth("clean", "quiet"), truth("clean", "room"), truth("not_clean", "room", extras=[2.3])]
        for index, take in enumerate(takes):
            self.write(f"take-{index}", take)

    def write(self, name, take):
        (self.folder / f"{name}.json").write_text(json.dumps(take))

    def run_score(self, *words):
        printed = io.StringIO()
        with contextlib.redirect_stdout(printed):
            score.main([str(self.folder), "--sixrung", str(self.judge), *words])
        return printed.getvalue()

    def test_a_constant_latency_is_removed_where_marked(self):
        printed = self.run_score()
        self.assertIn("One latency removed where marked *: 6.0 ms.", printed)
        # Two takes in full, one with 6 of 7 strums heard: F = 2·6/(6+7).
        self.assertIn(f"| all | 3 | {(2 + 12 / 13) / 3:.3f} | {(2 + 12 / 13) / 3:.3f} |", printed)
        self.assertIn("| quiet, steel | 1 | 1.000 | 1.000 | 1.000 | 1.000 | 0.0 | 0.0 | 0/1", printed)

    def test_a_latency_beyond_the_window_shows_where_it_is_not_removed(self):
        take = judge(How(str(self.judge)), self.folder / "take-0.json")
        for stroke in take.said["strokes"]:
            stroke["heard_s"] = stroke["heard_s"] and stroke["heard_s"] + 0.030
        self.assertEqual(strums.f_measures([take], 0.025, 0.0), 0.0)
        self.assertEqual(strums.f_measures([take], 0.050, 0.0), 1.0)
        self.assertEqual(strums.f_measures([take], 0.025, strums.latency_s([take])), 1.0)

    def test_wrong_verdicts_are_counted_each_on_its_side(self):
        printed = self.run_score()
        self.assertIn("| all | 2/3 (66.7 %, 20.8–93.9) | 1/1 (100.0 %, 20.7–100.0) | 0/2 (0.0 %, 0.0–65.8) |", printed)
        self.assertIn("- take-2: a.lesson.ron walk 84 bpm, room, steel: truth not_clean, said clean", printed)

    def test_a_take_that_was_not_judged_is_neither_right_nor_false(self):
        printed = self.run_score("--starts", "found")
        self.assertIn("| all | 0/3 (0.0 %, 0.0–56.1) | 0/1 (0.0 %, 0.0–79.3) | 0/2 (0.0 %, 0.0–65.8) | 2/2", printed)

    def test_a_judge_that_fails_ends_the_run(self):
        self.write("take-3", truth("clean", "quiet", section="broken"))
        with self.assertRaises(RuntimeError):
            self.run_score()

    def test_our_own_sound_is_given_or_kept(self):
        self.write("take-0", truth("clean", "own", played="take-0.played.wav"))
        given, kept = self.run_score("--played", "both", "--conditions", "own").split("our own sound not given")
        self.assertIn("| own, steel | 1 | 0.923 |", given)
        self.assertIn("| own, steel | 1 | 1.000 |", kept)

    def test_players_are_learned_before_their_takes_are_judged(self):
        hand = {"pass": 0, "bar": 0, "slot": 0, "fault": "muted_string", "string": 3, "struck": True}
        faulty = [span(0, string_fault=True), span(1)]
        self.write("take-0", truth("clean", "quiet", learn="player-0.learn.wav", hands=[hand], spans=faulty))
        self.write("player-0.learn", {"kind": "learn"})
        printed = self.run_score("--learned", "yes", "--conditions", "quiet")
        self.assertIn("| muted string | 1/1 (100.0 %, 20.7–100.0) | 1/1 (100.0 %, 20.7–100.0) | 0/1", printed)

    def test_takes_of_a_player_who_cant_be_learned_are_judged_without(self):
        self.write("take-0", truth("clean", "quiet", learn="shy.learn.wav"))
        self.write("shy.learn", {"kind": "learn"})
        printed = self.run_score("--learned", "yes", "--conditions", "quiet")
        self.assertIn("0 of 1 players learned\nerror: 3 strokes heard, 10 asked for", printed)
        self.assertIn("| quiet, steel | 1 |", printed)

    def test_wilsons_interval_is_the_published_one(self):
        # Newcombe 1998, Statistics in Medicine 17, table I, method 3: 81/263 and 0/20.
        for hits, total, expected in [(81, 263, (0.2553, 0.3662)), (0, 20, (0.0, 0.1611)), (1, 29, (0.0061, 0.1718))]:
            for got, want in zip(wilson(hits, total), expected, strict=True):
                self.assertAlmostEqual(got, want, places=4)


class ChordTest(unittest.TestCase):
    def test_spans_are_counted_by_what_was_played_and_what_was_said(self):
        wrong = [span(0, played="Am7", wrong=True), span(1)]
        named = {"chord_finding": "wrong", "sounded_like": "Am7"}
        takes = [
            scored(truth("not_clean", "quiet") | {"spans": wrong}, bar0=named, bar1={"chord_finding": "unsure"}),
            scored(truth("not_clean", "quiet") | {"spans": wrong}, bar1={"chord_finding": "wrong"}),
        ]
        count = chords.counts(takes)
        self.assertEqual((count["wrong", "all"], count["wrong", "wrong"], count["wrong", "right"]), (2, 1, 1))
        self.assertEqual((count["right", "all"], count["right", "wrong"], count["right", "unsure"]), (2, 1, 1))
        self.assertEqual(count["named", True], 1)
        self.assertIn("| C | Am7 | 2 | 1 | 1 | 0 | 1 |", chords.pair_table(takes))

    def test_what_can_not_be_heard_is_not_counted(self):
        hidden = [span(0, played="Am7", wrong=False), span(1, pitched=0)]
        take = scored(truth("clean", "quiet") | {"spans": hidden}, bar0={"chord_finding": "wrong"})
        self.assertEqual(sum(chords.counts([take]).values()), 0)

    def test_a_faulty_string_is_no_wrong_chord(self):
        faulty = [span(0, string_fault=True), span(1)]
        take = scored(truth("clean", "quiet") | {"spans": faulty}, bar0={"chord_finding": "wrong"})
        count = chords.counts([take])
        self.assertEqual((count["string", "wrong"], count["right", "wrong"], count["right", "all"]), (1, 0, 1))


class HandTest(unittest.TestCase):
    def test_a_fault_on_the_wrong_string_is_not_caught_and_one_out_of_nothing_is_an_alarm(self):
        hand = {"pass": 0, "bar": 0, "slot": 0, "fault": "wrong_fret", "string": 5, "struck": True}
        take = truth("clean", "quiet") | {"hands": [hand], "spans": [span(0, string_fault=True), span(1)]}
        said = {"strings": [{"string": 4, "finding": "wrong_fret"}]}
        count = hands.string_counts([scored(take, bar0=said, bar1=said)])
        self.assertEqual((count["wrong_fret", "all"], count["wrong_fret", "caught"]), (1, 0))
        self.assertEqual((count["none", "all"], count["none", "wrong_fret"]), (1, 1))

    def test_a_direction_is_right_when_it_is_the_one_played(self):
        turned = {"pass": 0, "bar": 0, "slot": 1, "fault": "wrong_direction", "string": None, "struck": True}
        take = truth("clean", "quiet") | {"hands": [turned]}
        count = hands.direction_counts([scored(take, bar0={"heard_stroke": "down"})])
        # Of four strokes all heard as down, 0, 2 and the turned 1 went down, 3 went up as asked.
        self.assertEqual((count["told"], count["right"], count["caught"], count["false alarm"]), (4, 3, 1, 1))
        self.assertEqual((count["all"], count["turned"], count["asked"]), (7, 1, 6))


class PeerTest(unittest.TestCase):
    def test_a_peers_latency_is_removed_and_what_lies_outside_the_pass_is_not_held_against_it(self):
        with tempfile.TemporaryDirectory() as folder:
            take = Scored(truth("clean", "quiet"), {}, Path(folder) / "take.json", 1.0, 10.0)
            take.path.with_suffix(".wav").write_bytes(bytes(44 + 2 * 480_000))
            late = {"late": lambda sound, rate: np.append(take.played() + 0.02, [0.2, 9.0])}
            with mock.patch.object(peers, "DETECTORS", late):
                heard = peers.listen([take])[0].heard
        self.assertEqual(len(heard[0]), 7)
        self.assertEqual(peers.line("late", [take], heard, 1.0), ["late", "1.000", "1.000", "0.0", "0.0", "0.1000"])


if __name__ == "__main__":
    unittest.main()
