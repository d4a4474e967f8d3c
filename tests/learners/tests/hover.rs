//! Where the real climb takes a learner who does not get better: up-down arithmetic (Levitt 1971, JASA).

mod support;

use approx::assert_abs_diff_eq;
use sixrung_learners::{Chance, Learner, Part, Traits, judged};
use sixrung_lesson::{Criterion, LadderRules, Tempo};
use sixrung_practice::{Climb, Effect, Input, Ladder, Marked, Moment, Move, Pass, Policy, UtcOffset};

use support::{PIECE, bpm, steady};

/// A short part, so that thousands of passes are judged in a second: 12 strokes, one fault allowed.
const PART: fn() -> Part = || Part { bars: 2, shapes: 1, ..Part::default() };

/// The same at every tempo, whatever is practised: the spread is `spread_ms`, nothing breaks.
fn flat(spread_ms: f64) -> Traits {
    let traits = Traits { strain_ms: spread_ms, strain_power: 0.0, steady_share: 0.0, ..steady() };
    Traits { break_chance: 0.0, bias_ms: 0.0, pace: 0.0, ..traits }
}

fn chance_of_clean(learner: &Learner, tempo: Tempo) -> f64 {
    learner.chance_of_clean(PIECE, tempo, &PART().plan(tempo), &Criterion::default())
}

/// The same at every tempo: a pass is clean with probability `p`.
fn constant(p: f64) -> Learner {
    let (mut low, mut high) = (1.0, 200.0);
    for _ in 0..60 {
        let middle = f64::midpoint(low, high);
        let found = chance_of_clean(&Learner::new(flat(middle)), bpm(100.0));
        *(if found > p { &mut low } else { &mut high }) = middle;
    }
    let learner = Learner::new(flat(low));
    for tempo in [60.0, 100.0, 126.0] {
        assert_abs_diff_eq!(chance_of_clean(&learner, bpm(tempo)), p, epsilon = 1e-6);
    }
    learner
}

fn pass(climb: &mut Climb, learner: &mut Learner, chance: &mut Chance) -> Vec<Effect> {
    let tempo = climb.at();
    let plan = PART().plan(tempo);
    let played = learner.pass(PIECE, tempo, &plan, chance);
    let verdict = judged(&plan, &played, &Criterion::default()).verdict;
    climb.update(Input::Pass(Pass { tempo, verdict, marked: Marked::Heard }), Moment(0))
}

/// Share of runs that climb before they fall.
fn share_up_first(up_after: u8, down_after: u8, p: f64) -> f64 {
    const RUNS: u32 = 3000;
    let policy = Policy { up_after, down_after, ..Policy::default() };
    let (mut learner, mut chance) = (constant(p), Chance::new(20, 0));
    let mut goes_up = |_: &u32| {
        let ladder = Ladder::new(&LadderRules::default(), bpm(126.0));
        let mut climb = Climb::new(ladder, policy, UtcOffset::default());
        climb.update(Input::Move(Move::To(bpm(103.0))), Moment(0));
        loop {
            let effects = pass(&mut climb, &mut learner, &mut chance);
            let moved = |effect: &Effect| matches!(effect, Effect::Climbed { .. } | Effect::Fell { .. });
            if let Some(effect) = effects.iter().find(|effect| moved(effect)) {
                return matches!(effect, Effect::Climbed { .. });
            }
        }
    };
    let up = (0..RUNS).filter(|run| goes_up(run)).count();
    f64::from(u32::try_from(up).expect("few")) / f64::from(RUNS)
}

#[test]
fn at_a_constant_85_percent_three_up_two_down_climbs_first_924_times_in_a_thousand() {
    // Four standard errors are .019.
    assert_abs_diff_eq!(share_up_first(3, 2, 0.85), 0.924, epsilon = 0.025);
}

#[test]
fn at_the_hover_point_up_and_down_are_as_likely() {
    // k up, one down: .5^(1/k), Levitt 1971; three up, two down: .604. Four standard errors are .037.
    for (up, down, hover) in [(2, 1, 0.707), (3, 1, 0.794), (4, 1, 0.841), (3, 2, 0.604)] {
        assert_abs_diff_eq!(share_up_first(up, down, hover), 0.5, epsilon = 0.045);
    }
}

/// On a fine ladder the climb stays about where the chance of a clean pass is the hover point.
#[test]
fn a_learner_who_does_not_get_better_hovers_where_levitt_says() {
    let hovers = |up_after, down_after| {
        let named = (0..24).map(|step| bpm(60.0 + 4.0 * f64::from(step))).collect();
        let rules = LadderRules { named, ..LadderRules::default() };
        let policy = Policy { up_after, down_after, ..Policy::default() };
        let mut climb = Climb::new(Ladder::new(&rules, bpm(160.0)), policy, UtcOffset::default());
        let traits = Traits { pace: 0.0, strain_ms: 45.0, strain_power: 2.0, bias_ms: -20.0, ..steady() };
        let (mut learner, mut chance) = (Learner::new(traits), Chance::new(21, 0));
        let mut tempi = Vec::new();
        for turn in 0..6000 {
            pass(&mut climb, &mut learner, &mut chance);
            if turn >= 200 {
                tempi.push(climb.at().bpm());
            }
        }
        let mean_bpm = tempi.iter().sum::<f64>() / f64::from(u32::try_from(tempi.len()).expect("few"));
        chance_of_clean(&learner, bpm(mean_bpm))
    };
    for (up, down, hover) in [(2, 1, 0.707), (3, 1, 0.794), (4, 1, 0.841), (3, 2, 0.604)] {
        assert_abs_diff_eq!(hovers(up, down), hover, epsilon = 0.04);
    }
}
