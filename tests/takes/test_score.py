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

import score

# A judge that reads the truth, hears everything 6 ms late, misses the second stroke of take 1, calls take 2 clean
# although it is not, can't judge takes whose start it is not told, and fails on a section named "broken".
FAKE_JUDGE = """
    #!{python}
    import json, sys
    from pathlib import Path
    take = Path(sys.argv[3])
    truth = json.loads(take.with_suffix(".json").read_text())
    assert sys.argv[1] == "judge" and sys.argv[sys.argv.index("--bpm") + 1] == "84", sys.argv
    if truth["section"] == "broken":
        sys.exit(1)
    if "--starts-at" not in sys.argv:
        print(json.dumps({{"verdict": "not_judged", "reason": "start unclear", "strokes": [], "extras": []}}))
        sys.exit(11)
    later = lambda time: None if time is None else time + 0.006
    strokes = [dict(stroke, heard_s=later(stroke["played_s"])) for stroke in truth["strokes"]]
    if take.stem == "take-1":
        strokes[1]["heard_s"] = None
    verdict = "clean" if take.stem == "take-2" else truth["verdict"]
    extras = [{{"heard_s": later(extra["played_s"])}} for extra in truth["extras"]]
    print(json.dumps({{"verdict": verdict, "reason": None, "strokes": strokes, "extras": extras}}))
    sys.exit(0 if verdict == "clean" else 10)
"""


def truth(verdict, condition, section="walk", extras=()):
    places = [(0, index // 4, index % 4) for index in range(8)]
    strokes = [
        {"pass": p, "bar": b, "slot": s, "expected_s": 1 + i / 2, "played_s": 1.01 + i / 2, "planted": None}
        for i, (p, b, s) in enumerate(places)
    ]
    strokes[7] |= {"played_s": None, "planted": "missed"}
    return {
        "lesson": "a.lesson.ron", "section": section, "bpm": 84.0, "passes": 1, "arrangement": "plain",
        "level": "beginner", "starts_at_s": 1.0, "program": "steel", "condition": condition, "verdict": verdict,
        "strokes": strokes, "extras": [{"pass": 0, "played_s": time} for time in extras],
    }  # fmt: skip


class ScoreTest(unittest.TestCase):
    def setUp(self):
        self.folder = Path(self.enterContext(tempfile.TemporaryDirectory()))
        self.judge = self.folder / "judge"
        self.judge.write_text(textwrap.dedent(FAKE_JUDGE).format(python=sys.executable).lstrip())
        self.judge.chmod(self.judge.stat().st_mode | stat.S_IXUSR)
        takes = [truth("clean", "quiet"), truth("clean", "room"), truth("not_clean", "room", extras=[2.3])]
        for index, take in enumerate(takes):
            (self.folder / f"take-{index}.json").write_text(json.dumps(take))

    def run_score(self, *words):
        printed = io.StringIO()
        with contextlib.redirect_stdout(printed):
            score.main([str(self.folder), "--sixrung", str(self.judge), *words])
        return printed.getvalue()

    def test_a_constant_latency_is_removed_where_marked(self):
        printed = self.run_score("--starts", "given")
        self.assertIn("One latency removed where marked *: 6.0 ms.", printed)
        # Two takes in full, one with 6 of 7 strums heard: F = 2·6/(6+7).
        self.assertIn(f"| all | 3 | {(2 + 12 / 13) / 3:.3f} | {(2 + 12 / 13) / 3:.3f} |", printed)
        self.assertIn("| quiet, steel | 1 | 1.000 | 1.000 | 1.000 | 1.000 | 0.0 | 0.0 | 0/1", printed)

    def test_a_latency_beyond_the_window_shows_where_it_is_not_removed(self):
        take = score.judge(str(self.judge), self.folder / "take-0.json", True)
        for stroke in take.said["strokes"]:
            stroke["heard_s"] = stroke["heard_s"] and stroke["heard_s"] + 0.030
        self.assertEqual(score.f_measures([take], 0.025, 0.0), 0.0)
        self.assertEqual(score.f_measures([take], 0.050, 0.0), 1.0)
        self.assertEqual(score.f_measures([take], 0.025, score.latency_s([take])), 1.0)

    def test_wrong_verdicts_are_counted_each_on_its_side(self):
        printed = self.run_score("--starts", "given")
        self.assertIn("| all | 2/3 (66.7 %, 20.8–93.9) | 1/1 (100.0 %, 20.7–100.0) | 0/2 (0.0 %, 0.0–65.8) |", printed)
        self.assertIn("- take-2: a.lesson.ron walk 84 bpm, room, steel: truth not_clean, said clean", printed)

    def test_a_take_that_was_not_judged_is_neither_right_nor_false(self):
        printed = self.run_score("--starts", "found")
        self.assertIn("| all | 0/3 (0.0 %, 0.0–56.1) | 0/1 (0.0 %, 0.0–79.3) | 0/2 (0.0 %, 0.0–65.8) | 2/2", printed)

    def test_a_judge_that_fails_ends_the_run(self):
        (self.folder / "take-3.json").write_text(json.dumps(truth("clean", "quiet", section="broken")))
        with self.assertRaises(RuntimeError):
            self.run_score("--starts", "given")

    def test_wilsons_interval_is_the_published_one(self):
        # Newcombe 1998, Statistics in Medicine 17, table I, method 3: 81/263 and 0/20.
        for hits, total, expected in [(81, 263, (0.2553, 0.3662)), (0, 20, (0.0, 0.1611)), (1, 29, (0.0061, 0.1718))]:
            for got, want in zip(score.wilson(hits, total), expected, strict=True):
                self.assertAlmostEqual(got, want, places=4)


if __name__ == "__main__":
    unittest.main()
