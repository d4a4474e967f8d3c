//! How learners learn, tire and forget, and that their reckoned chance of a clean pass is the true one.

mod support;

use approx::assert_abs_diff_eq;
use sixrung_learners::{Chance, Learner, Part, Traits, judged};
use sixrung_lesson::{Criterion, Level};
use sixrung_listen::{Finding, Verdict};

use support::{PIECE, bpm, steady};

/// Lets a learner play the part this often at a tempo.
fn practise(learner: &mut Learner, tempo_bpm: f64, passes: u32) {
    let plan = Part::default().plan(bpm(tempo_bpm));
    let mut chance = Chance::new(3, 0);
    for _ in 0..passes {
        learner.pass(PIECE, bpm(tempo_bpm), &plan, &mut chance);
    }
}

fn practised(traits: Traits, tempo_bpm: f64, passes: u32) -> Learner {
    let mut learner = Learner::new(traits);
    practise(&mut learner, tempo_bpm, passes);
    learner
}

/// The form of the power law of practice: Newell & Rosenbloom 1981 (from memory). A straight line in logarithms.
#[test]
fn strain_and_breaks_fall_by_a_power_law_of_practice() {
    let traits = Traits { steady_share: 0.0, ..steady() };
    let errors = |passes: u32| {
        let learner = practised(traits, 100.0, passes);
        (learner.spread_ms(PIECE, bpm(100.0), 0.3), learner.break_chance(PIECE, bpm(100.0), 0.6))
    };
    let (spread_ms, breaks) = errors(0);
    for passes in [5, 15, 45, 395] {
        let expected = (1.0 + f64::from(passes) / 5.0).powf(-traits.learning);
        let (later_ms, later) = errors(passes);
        assert_abs_diff_eq!(later_ms / spread_ms, expected, epsilon = 1e-9);
        assert_abs_diff_eq!(later / breaks, expected, epsilon = 1e-9);
    }
}

#[test]
fn faster_is_harder_and_practice_reaches_the_nearer_tempo_more() {
    let learner = practised(steady(), 90.0, 20);
    let at = |tempo: f64| learner.practice(PIECE, bpm(tempo));
    assert_abs_diff_eq!(at(90.0), 20.0, epsilon = 1e-9);
    assert!(at(90.0) > at(80.0) && at(80.0) > at(100.0), "slower is nearer than faster");
    assert!(at(100.0) > at(126.0) && at(126.0) > 0.0);
    let spread_share = |tempo: f64| learner.spread_ms(PIECE, bpm(tempo), 30.0 / tempo) * tempo;
    assert!(spread_share(76.0) < spread_share(100.0) && spread_share(100.0) < spread_share(126.0));
    let breaks = |tempo: f64| learner.break_chance(PIECE, bpm(tempo), 60.0 / tempo);
    assert!(breaks(76.0) < breaks(100.0) && breaks(100.0) < breaks(126.0));
}

#[test]
fn practice_of_another_piece_counts_for_a_quarter() {
    let learner = practised(steady(), 90.0, 20);
    assert_abs_diff_eq!(learner.practice("Chorus", bpm(90.0)), 5.0, epsilon = 1e-9);
}

#[test]
fn a_night_takes_its_share_of_the_days_gain_and_no_more() {
    let traits = Traits { forgets: 0.4, ..steady() };
    let mut learner = practised(traits, 90.0, 10);
    let practice = |learner: &Learner| learner.practice(PIECE, bpm(90.0));
    learner.sleep(8.0);
    assert_abs_diff_eq!(practice(&learner), 6.0, epsilon = 1e-9);
    learner.sleep(8.0);
    assert_abs_diff_eq!(practice(&learner), 6.0, epsilon = 1e-9);
    practise(&mut learner, 90.0, 10);
    learner.sleep(4.0);
    // Half a night takes half of it.
    assert_abs_diff_eq!(practice(&learner), 6.0 + 8.0, epsilon = 1e-9);
}

#[test]
fn playing_tires_and_rest_heals() {
    let mut learner = Learner::new(Traits { tires: 0.2, pace: 0.0, ..steady() });
    let spread_ms = |learner: &Learner| learner.spread_ms(PIECE, bpm(100.0), 0.3);
    let fresh_ms = spread_ms(&learner);
    practise(&mut learner, 100.0, 30);
    let tired_ms = spread_ms(&learner);
    learner.rest(600.0);
    let rested_ms = spread_ms(&learner);
    assert!(fresh_ms < rested_ms && rested_ms < tired_ms, "{fresh_ms} {rested_ms} {tired_ms}");
    learner.sleep(8.0);
    assert_abs_diff_eq!(spread_ms(&learner), fresh_ms, epsilon = 1e-6);
}

#[test]
fn faulty_passes_teach_less_where_faults_do_harm() {
    let hard = Traits { strain_ms: 160.0, break_chance: 0.6, ..steady() };
    let practice = |harm| practised(Traits { harm, ..hard }, 126.0, 10).practice(PIECE, bpm(126.0));
    assert_abs_diff_eq!(practice(0.0), 10.0, epsilon = 1e-9);
    assert!(practice(1.0) < practice(0.5) && practice(0.5) < 10.0);
}

#[test]
fn the_bias_is_early_and_shrinks_to_half() {
    let bias = |passes| practised(Traits { bias_ms: -60.0, ..steady() }, 100.0, passes).bias_ms();
    assert_abs_diff_eq!(bias(0), -60.0, epsilon = 1e-9);
    assert!(bias(20) > -60.0 && bias(20) < bias(2000) && bias(2000) < -30.0);
}

/// The share of played passes that the judge calls clean is the chance reckoned.
#[test]
fn the_chance_of_a_clean_pass_is_what_the_judge_finds() {
    const TRIES: u32 = 1500;
    let part = Part::default();
    let mut seen = [false; 3];
    for (seed, tempo_bpm, passes, level) in [
        (1, 76.0, 0, Level::Beginner),
        (2, 76.0, 10, Level::Beginner),
        (3, 103.0, 30, Level::Beginner),
        (4, 126.0, 60, Level::Beginner),
        (5, 126.0, 150, Level::Beginner),
        (6, 84.0, 200, Level::Improver),
        (7, 76.0, 400, Level::Advanced),
    ] {
        let (tempo, criterion) = (bpm(tempo_bpm), Criterion { level, allowed_faults: None });
        let learner = practised(Traits::draw(&mut Chance::new(seed, 0)), tempo_bpm, passes);
        let plan = part.plan(tempo);
        let mut chance = Chance::new(seed, 1);
        let mut clean = |_: &u32| {
            let played = learner.play(PIECE, tempo, &plan, &mut chance);
            judged(&plan, &played, &criterion).verdict == Verdict::Clean
        };
        let count = (0..TRIES).filter(|index| clean(index)).count();
        let share = f64::from(u32::try_from(count).expect("few")) / f64::from(TRIES);
        let reckoned = learner.chance_of_clean(PIECE, tempo, &plan, &criterion);
        // Four standard errors at most are .052; the pass's own median is a little off the bias besides.
        assert_abs_diff_eq!(share, reckoned, epsilon = 0.06);
        seen[usize::from(share > 0.3) + usize::from(share > 0.7)] = true;
    }
    assert_eq!(seen, [true; 3], "poor, middling and good players are among them");
}

#[test]
fn a_broken_change_is_missed_late_or_another_chord() {
    let traits = Traits { break_chance: 1.0, break_power: 0.0, strain_ms: 20.0, ..steady() };
    let (part, tempo) = (Part::default(), bpm(76.0));
    let plan = part.plan(tempo);
    let learner = Learner::new(traits);
    let mut chance = Chance::new(5, 0);
    let (mut missed, mut late, mut wrong) = (0, 0, 0);
    for _ in 0..400 {
        let played = learner.play(PIECE, tempo, &plan, &mut chance);
        let pass = judged(&plan, &played, &Criterion::default());
        let changes = pass.strokes.windows(2).enumerate().filter(|(_, pair)| pair[0].shape != pair[1].shape);
        for (index, _) in changes {
            match (played[index + 1].wrong, pass.strokes[index + 1].finding) {
                (true, _) => wrong += 1,
                (false, Finding::Missed) => missed += 1,
                (false, Finding::Late) => late += 1,
                (false, Finding::InTime | Finding::Early) => {}
            }
        }
    }
    // Seven changes a pass, .95 of them broken: 45, 40 and 15 of 100.
    let all = f64::from(missed + late + wrong);
    assert_abs_diff_eq!(all, 400.0 * 7.0 * 0.95, epsilon = 60.0);
    assert_abs_diff_eq!(f64::from(missed) / all, 0.45, epsilon = 0.04);
    assert_abs_diff_eq!(f64::from(late) / all, 0.40, epsilon = 0.04);
    assert_abs_diff_eq!(f64::from(wrong) / all, 0.15, epsilon = 0.03);
}
