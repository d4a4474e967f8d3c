//! The arithmetic of climbing after k clean in a row and falling after f not clean in a row.

mod support;

use sixrung_practice::{Climb, Effect, Input, Marked, Moment, Move, Pass, Policy, UtcOffset, Verdict};

use support::{bpm, ladder};

const RUNS: u32 = 100_000;

/// Share of seeded runs that climb before they fall, at probability `p` of a clean pass.
fn share_up_first(up_after: u8, down_after: u8, p: f64) -> f64 {
    // Only the first move counts: rests are no part of it and change no rung.
    let policy = Policy { up_after, down_after, ..Policy::default() };
    let mut middle = Climb::new(ladder(), policy, UtcOffset::default());
    middle.update(Input::Move(Move::To(bpm(103.0))), Moment(0));
    let mut chance = Chance(20_100_407);
    let up = (0..RUNS).filter(|_| climbs_first(middle.clone(), p, &mut chance)).count();
    #[expect(clippy::cast_precision_loss, reason = "at most 100,000")]
    let share = up as f64 / f64::from(RUNS);
    share
}

fn climbs_first(mut climb: Climb, p: f64, chance: &mut Chance) -> bool {
    loop {
        let verdict = if chance.happens(p) { Verdict::Clean } else { Verdict::NotClean };
        let effects = climb.update(Input::Pass(Pass { tempo: climb.at(), verdict, marked: Marked::Heard }), Moment(0));
        match effects.iter().find(|effect| matches!(effect, Effect::Climbed { .. } | Effect::Fell { .. })) {
            Some(Effect::Climbed { .. }) => return true,
            Some(_) => return false,
            None => {}
        }
    }
}

/// Closed form of a run of k successes before a run of f failures:
/// p^(k−1)·(1−q^f) / (p^(k−1) + q^(f−1) − p^(k−1)·q^(f−1)), q = 1−p (Feller, *Introduction to Probability Theory* I, VIII.1).
fn run_of_clean_first(k: i32, f: i32, p: f64) -> f64 {
    let q = 1.0 - p;
    let (a, b) = (p.powi(k - 1), q.powi(f - 1));
    a * (1.0 - q.powi(f)) / (a + b - a * b)
}

fn check(up_after: u8, down_after: u8, p: f64, tolerance: f64) {
    let closed = run_of_clean_first(i32::from(up_after), i32::from(down_after), p);
    approx::assert_abs_diff_eq!(share_up_first(up_after, down_after, p), closed, epsilon = tolerance);
}

#[test]
fn three_up_two_down_at_85_percent_climbs_first_924_times_in_a_thousand() {
    approx::assert_abs_diff_eq!(run_of_clean_first(3, 2, 0.85), 0.924, epsilon = 0.0005);
    approx::assert_abs_diff_eq!(share_up_first(3, 2, 0.85), 0.924, epsilon = 0.01);
}

#[test]
fn other_counts_follow_the_same_arithmetic() {
    for (up, down) in [(2, 1), (2, 2), (2, 3), (3, 1), (3, 3), (4, 2)] {
        check(up, down, 0.85, 0.01);
    }
}

/// Levitt 1971, transformed up-down: k up, one down hovers where p^k = 1/2.
#[test]
fn three_up_one_down_hovers_at_794() {
    approx::assert_abs_diff_eq!(0.5_f64.powf(1.0 / 3.0), 0.794, epsilon = 0.0005);
    assert!(share_up_first(3, 1, 0.794 - 0.005) < 0.5, "falls more often than it climbs below");
    assert!(share_up_first(3, 1, 0.794 + 0.005) > 0.5, "climbs more often than it falls above");
}

/// SplitMix64 (Steele, Lea & Flood 2014): small, seeded, the same everywhere.
struct Chance(u64);

impl Chance {
    fn next(&mut self) -> u64 {
        self.0 = self.0.wrapping_add(0x9E37_79B9_7F4A_7C15);
        let mut z = self.0;
        z = (z ^ (z >> 30)).wrapping_mul(0xBF58_476D_1CE4_E5B9);
        z = (z ^ (z >> 27)).wrapping_mul(0x94D0_49BB_1331_11EB);
        z ^ (z >> 31)
    }

    /// True with probability `p`.
    fn happens(&mut self, p: f64) -> bool {
        #[expect(clippy::cast_precision_loss, reason = "53 bits are exact")]
        let unit = (self.next() >> 11) as f64 / (1_u64 << 53) as f64;
        unit < p
    }
}
