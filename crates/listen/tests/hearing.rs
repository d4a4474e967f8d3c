//! From sound to verdicts: what is played is heard, at any rate and in any blocks, live as from a file.

mod common;

use common::{add_noise, plan, strummed};
use sixrung_lesson::{Criterion, Tick};
use sixrung_listen::{
    Finding, HearingState, Listener, PassEar, PassPlan, PassVerdict, Reason, TakeOptions, Verdict, find_round_trip,
    judge_take, own_sound_db,
};

const LEAD_S: f64 = 0.7;

/// Sixteen strokes, 0.4 s apart on 0.2 s slots, without those in `missed`, each moved by `shift_ms`.
fn played(missed: &[usize], shift_ms: f64) -> Vec<f64> {
    let strokes = plan(16, 0.4, 0.2).strokes;
    let heard = strokes.iter().enumerate().filter(|(index, _)| !missed.contains(index));
    heard.map(|(_, stroke)| LEAD_S + stroke.at_s + shift_ms / 1000.0).collect()
}

fn take(times: &[f64], rate: u32) -> Vec<f32> {
    let mut sound = strummed(times, rate, LEAD_S + 16.0 * 0.4 + 0.5);
    add_noise(&mut sound, 0.001, 3);
    sound
}

fn options(latency_ms: f64) -> TakeOptions {
    TakeOptions { starts_at_s: Some(LEAD_S), latency_ms, ..TakeOptions::default() }
}

fn judged(sound: &[f32], rate: u32, options: &TakeOptions) -> PassVerdict {
    let mut take = judge_take(sound, rate, &[plan(16, 0.4, 0.2)], options).expect("a rate we take");
    take.passes.remove(0)
}

#[test]
fn what_is_played_is_heard_within_milliseconds_at_every_rate() {
    for rate in [8_000, 11_025, 16_000, 22_050, 44_100, 48_000, 96_000, 192_000] {
        let pass = judged(&take(&played(&[], 0.0), rate), rate, &options(0.0));
        assert_eq!((pass.verdict, pass.count(Finding::InTime)), (Verdict::Clean, 16), "{rate}");
        let median_ms = pass.median_offset_ms.expect("heard");
        assert!(median_ms.abs() < 4.0, "{rate}: {median_ms}");
        assert!(pass.spread_ms.expect("heard") < 2.0, "{rate}");
        assert!(pass.extras_s.is_empty(), "{rate}");
    }
}

#[test]
fn what_is_not_played_is_missed() {
    let pass = judged(&take(&played(&[4, 9], 0.0), 48_000), 48_000, &options(0.0));
    let missed: Vec<usize> = (0..16).filter(|index| pass.strokes[*index].finding == Finding::Missed).collect();
    assert_eq!((pass.verdict, missed), (Verdict::NotClean, vec![4, 9]));
}

#[test]
fn a_strum_between_strokes_is_an_extra() {
    let mut times = played(&[], 0.0);
    times.insert(5, LEAD_S + 4.0 * 0.4 + 0.2);
    let pass = judged(&take(&times, 48_000), 48_000, &options(0.0));
    assert_eq!((pass.extras_s.len(), pass.verdict), (1, Verdict::NotClean));
}

#[test]
fn a_constant_latency_taken_out_leaves_the_findings_the_same() {
    let findings = |pass: &PassVerdict| pass.strokes.iter().map(|stroke| stroke.finding).collect::<Vec<_>>();
    let plain = judged(&take(&played(&[6], 0.0), 48_000), 48_000, &options(0.0));
    for latency_ms in [0.0, 20.0, 137.5, 300.0] {
        let late = judged(&take(&played(&[6], latency_ms), 48_000), 48_000, &options(latency_ms));
        assert_eq!((findings(&late), late.verdict), (findings(&plain), plain.verdict), "{latency_ms}");
    }
}

#[test]
fn the_start_is_found_where_it_is_and_unclear_where_two_places_fit() {
    let unknown = TakeOptions { starts_at_s: None, ..TakeOptions::default() };
    let found = |sound: &[f32]| judge_take(sound, 48_000, &[plan(16, 0.4, 0.2)], &unknown).expect("a rate we take");
    let whole = found(&take(&played(&[], 0.0), 48_000));
    assert!((whole.starts_at_s.expect("found") - LEAD_S).abs() < 0.005, "{:?}", whole.starts_at_s);
    // Without the first of sixteen like strokes, the pass may as well have begun one stroke later.
    let unclear = found(&take(&played(&[0], 0.0), 48_000));
    assert_eq!((unclear.reason, unclear.passes.len()), (Some(Reason::StartUnclear), 0));
    assert_eq!(found(&[0.0; 96_000]).reason, Some(Reason::Silence));
}

#[test]
fn blocks_of_any_length_give_the_same() {
    let sound = take(&played(&[], 0.0), 44_100);
    let heard = |lengths: &[usize]| {
        let mut listener = Listener::new(44_100).expect("a rate we take");
        let (mut onsets, mut moments, mut from) = (Vec::new(), Vec::new(), 0);
        for length in lengths.iter().cycle() {
            let to = (from + length).min(sound.len());
            let caught = listener.feed(from as u64, &sound[from..to]);
            onsets.extend_from_slice(caught.onsets);
            moments.extend_from_slice(caught.moments);
            from = to;
            if from == sound.len() {
                break;
            }
        }
        (onsets, moments)
    };
    let whole = heard(&[sound.len()]);
    assert!(whole.0.len() >= 16);
    for lengths in [&[1][..], &[64], &[480], &[4096], &[1, 682, 17, 1024]] {
        assert_eq!(heard(lengths), whole, "{lengths:?}");
    }
}

#[test]
fn live_and_from_a_file_the_verdict_is_one() {
    let sound = take(&played(&[3], 12.0), 48_000);
    let from_file = judged(&sound, 48_000, &options(0.0));
    // Live the clock of the take starts anywhere.
    let clock = 48_000 * 100;
    let mut listener = Listener::new(48_000).expect("a rate we take");
    let mut ear = PassEar::new(plan(16, 0.4, 0.2).starting_at(LEAD_S + 100.0), 0.0);
    let mut frame = clock;
    let mut completed = false;
    for block in sound.chunks(480) {
        let caught = listener.feed(frame, block);
        ear.take_in(caught);
        frame += block.len() as u64;
        completed |= ear.is_complete(&listener);
    }
    assert!(completed);
    let live = ear.verdict(&Criterion::default());
    assert_eq!(live.verdict, from_file.verdict);
    for (one, other) in live.strokes.iter().zip(&from_file.strokes) {
        assert_eq!(one.finding, other.finding);
        let apart = one.heard_s.zip(other.heard_s).map_or(0.0, |(one, other)| one - 100.0 - other);
        assert!(apart.abs() < 1e-6);
    }
}

#[test]
fn lost_samples_are_a_gap_and_the_next_pass_is_heard_as_before() {
    let sound = take(&played(&[], 0.0), 48_000);
    let mut listener = Listener::new(48_000).expect("a rate we take");
    let passes = [0.0, 20.0].map(|start_s: f64| plan(16, 0.4, 0.2).starting_at(start_s + LEAD_S));
    let mut ears = passes.map(|plan| PassEar::new(plan, 0.0));
    for (start, skipped) in [(0, 100_000..101_000), (20 * 48_000, 0..0)] {
        for (frame, block) in (0..).step_by(500).zip(sound.chunks(500)) {
            if !skipped.contains(&frame) {
                let caught = listener.feed(start + frame, block);
                ears.iter_mut().for_each(|ear| ear.take_in(caught));
            }
        }
    }
    let verdicts = ears.map(|ear| ear.verdict(&Criterion::default()).verdict);
    assert_eq!(verdicts, [Verdict::NotJudged(Reason::Gap), Verdict::Clean]);
}

#[test]
fn an_unknown_round_trip_is_found_from_one_pass() {
    for lag_ms in [-30.0, 0.0, 45.0, 180.0, 400.0] {
        let sound = take(&played(&[], lag_ms), 48_000);
        let mut listener = Listener::new(48_000).expect("a rate we take");
        let onsets = listener.feed(0, &sound).onsets.to_vec();
        let found = find_round_trip(&uneven().starting_at(LEAD_S), &onsets);
        assert!(found.is_none_or(|found| found.confidence < 0.5), "an even take fits no uneven plan well");
        let uneven_times: Vec<f64> =
            uneven().strokes.iter().map(|stroke| LEAD_S + stroke.at_s + lag_ms / 1000.0).collect();
        let onsets = listener_onsets(&strummed(&uneven_times, 48_000, 9.0));
        let found = find_round_trip(&uneven().starting_at(LEAD_S), &onsets).expect("strokes were heard");
        assert!((found.lag_s * 1000.0 - lag_ms).abs() < 3.0, "{lag_ms}: {found:?}");
        assert!(found.confidence > 0.2 && found.spread_ms < 5.0, "{found:?}");
    }
}

fn listener_onsets(sound: &[f32]) -> Vec<sixrung_listen::Onset> {
    Listener::new(48_000).expect("a rate we take").feed(0, sound).onsets.to_vec()
}

/// Down, down-up, up-down-up: the common eighth-note pattern.
fn uneven() -> PassPlan {
    let all = plan(32, 0.2, 0.2);
    let strokes = all.strokes.iter().enumerate().filter(|(index, _)| [0, 2, 3, 5, 6, 7].contains(&(index % 8)));
    PassPlan { strokes: strokes.map(|(_, stroke)| stroke.clone()).collect(), ..all }
}

#[test]
fn own_clicks_are_measured_where_they_should_arrive() {
    let clicks = [0.5, 1.0, 1.5, 2.0];
    let onsets = listener_onsets(&strummed(&clicks, 48_000, 2.5));
    assert!(own_sound_db(&onsets, &clicks).is_some_and(|db| db > -60.0));
    assert_eq!(own_sound_db(&onsets, &[0.7, 1.2, 1.7, 2.2]), None);
}

#[test]
fn the_meter_says_silent_faint_good_or_clipping() {
    let check = |gain: f32, state| {
        let mut listener = Listener::new(48_000).expect("a rate we take");
        let sound: Vec<f32> =
            take(&played(&[], 0.0), 48_000)[..96_000].iter().map(|s| (s * gain).clamp(-1.0, 1.0)).collect();
        listener.feed(0, &sound);
        assert_eq!(listener.hearing().state, state, "{gain}: {:?}", listener.hearing());
    };
    check(0.0, HearingState::Silent);
    check(0.0005, HearingState::Silent);
    check(0.005, HearingState::Faint);
    check(0.5, HearingState::Good);
    check(20.0, HearingState::Clipping);
}

#[test]
fn a_compiled_stroke_keeps_its_place_in_seconds() {
    let tempo = sixrung_lesson::Tempo::from_bpm(120.0).expect("within range");
    let grid = sixrung_timeline::TempoGrid::new(48_000, tempo, Tick(960));
    let stroke = sixrung_timeline::ExpectedStroke {
        at: Tick(1440),
        bar: 0,
        slot: 3,
        action: sixrung_lesson::Action::Bass,
        direction: sixrung_lesson::Direction::Up,
        shape: Some(2),
        slot_length: Tick(480),
    };
    let plan = PassPlan::new(&[stroke], grid, Tick(3840));
    assert!((plan.strokes[0].at_s - 0.75).abs() < 1e-12 && (plan.strokes[0].slot_s - 0.25).abs() < 1e-12);
    assert!((plan.length_s - 2.0).abs() < 1e-12);
}
