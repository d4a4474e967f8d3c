//! The part is played first at a new rung, and then the player's passes begin by themselves.

use egui::Key;
use sixrung::library::DEMOS;
use sixrung::stand::{Intent, Phase};
use sixrung_listen::Verdict;
use sixrung_practice::Moment;
use sixrung_tests::evening::Evening;
use sixrung_tests::script::{Script, in_time};

/// Runs until the phase is another, and gives it.
fn until(evening: &mut Evening, wanted: fn(&Phase) -> bool) -> Phase {
    for _ in 0..1200 {
        evening.run_tenths(1);
        let phase = evening.view().phase;
        if wanted(&phase) {
            return phase;
        }
    }
    panic!("still {:?} after two minutes", evening.view().phase);
}

const fn listens(phase: &Phase) -> bool {
    matches!(phase, Phase::ListenFirst)
}

const fn plays(phase: &Phase) -> bool {
    matches!(phase, Phase::Playing)
}

#[test]
fn first_heard_then_played_and_again_at_the_next_rung() {
    let folder = tempfile::tempdir().expect("a folder for the journal");
    let mut evening = Evening::begin(folder.path());
    evening.wish(Intent::HearFirst(true));
    evening.harness.key_press(Key::Space);
    until(&mut evening, listens);
    assert!(evening.view().result.is_none());
    // No key is pressed: the count-in follows, and the pass.
    until(&mut evening, plays);
    while evening.rung() == "76" {
        evening.next_result();
    }
    assert_eq!(evening.rung(), "84");
    until(&mut evening, listens);
    // Who has heard enough goes on at once.
    evening.harness.key_press(Key::Space);
    until(&mut evening, plays);
    let result = evening.next_result();
    assert_eq!(result.headline, "Clean.");
    // At a rung that was played it is not heard again.
    until(&mut evening, |phase| plays(phase) || listens(phase));
    assert_eq!(evening.view().phase, Phase::Playing);
}

#[test]
fn only_when_asked_for_where_the_player_wants_that() {
    let folder = tempfile::tempdir().expect("a folder for the journal");
    let mut evening = Evening::begin(folder.path());
    evening.harness.key_press(Key::Space);
    assert!(plays(&until(&mut evening, |phase| plays(phase) || listens(phase))));
    evening.harness.key_press(Key::Space);
    evening.run_tenths(2);
    evening.harness.key_press(Key::L);
    until(&mut evening, listens);
    // Then the stand waits for the player.
    let is_over = |phase: &Phase| !listens(phase) && !matches!(phase, Phase::CountIn { .. } | Phase::Between);
    assert_eq!(until(&mut evening, is_over), Phase::Idle);
}

#[test]
fn by_hand_or_in_the_rest_a_new_rung_is_heard_first_all_the_same() {
    let folder = tempfile::tempdir().expect("a folder for the journal");
    let mut evening = Evening::begin(folder.path());
    evening.wish(Intent::HearFirst(true));
    evening.harness.key_press(Key::Space);
    evening.run_tenths(5);
    assert!(evening.view().listens);
    evening.harness.key_press(Key::Space);
    evening.run_tenths(5);
    assert!(!evening.view().listens, "a second press goes on to play");
    // One rung up while playing.
    evening.harness.key_press(Key::Plus);
    evening.run_tenths(5);
    assert_eq!((evening.rung().as_str(), evening.view().listens), ("84", true));
    // Turned off, a listen that sounds goes on, and the next start has none.
    evening.wish(Intent::HearFirst(false));
    for key in [Key::Escape, Key::Plus, Key::Space] {
        evening.harness.key_press(key);
        evening.run_tenths(5);
    }
    assert_eq!((evening.rung().as_str(), evening.view().listens), ("93", false));
}

#[test]
fn a_rung_just_climbed_is_announced_as_one_to_listen_to() {
    let folder = tempfile::tempdir().expect("a folder for the journal");
    let mut evening = Evening::begin(folder.path());
    evening.harness.key_press(Key::Space);
    until(&mut evening, plays);
    evening.wish(Intent::HearFirst(true));
    until(&mut evening, |phase| *phase == Phase::Between);
    while evening.rung() == "76" {
        evening.run_tenths(1);
    }
    let view = evening.view();
    assert_eq!((view.phase, view.listens, view.goes_on_in_s.is_some()), (Phase::Between, true, true));
    // Who goes on at once hears it at once.
    evening.harness.key_press(Key::Space);
    evening.run_tenths(5);
    assert!(evening.view().listens);
    until(&mut evening, listens);
}

/// A pass in which every stroke lies where it should.
fn clean(script: &mut Script) {
    let verdict = script.pass(|order| in_time(order, 0.0)).expect("it was listened to");
    assert_eq!(verdict.verdict, Verdict::Clean);
}

#[test]
fn all_bars_again_begin_at_the_rung_where_the_section_stands() {
    let mut script = Script::begin(DEMOS[0].1, Moment(1_700_000_000));
    script.wish(Intent::HearFirst(false));
    script.wish(Intent::Forward);
    for _ in 0..3 {
        clean(&mut script);
    }
    assert_eq!(script.view().ladder.rungs[script.view().ladder.current].bpm, "84");
    script.wish(Intent::ChooseBars(0..2));
    script.wish(Intent::Forward);
    let mut passes = 0;
    while script.view().proposal.is_none() {
        clean(&mut script);
        passes += 1;
        assert!(passes < 40, "the top of the ladder is reached");
        // The section's rests come on the way.
        if !script.session().is_playing() && script.view().proposal.is_none() {
            script.wish(Intent::Forward);
        }
    }
    assert_eq!(script.passes.last().expect("played").tempo.bpm(), 126.0);
    assert_eq!(script.view().proposal.expect("offered").label, "All bars");
    script.wish(Intent::Forward);
    clean(&mut script);
    let last = script.passes.last().expect("played");
    assert_eq!((last.tempo.bpm(), script.view().place.bars), (84.0, Some((1, 8))));
}
