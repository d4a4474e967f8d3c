//! The whole loop on simulated devices and clock, through the real session, ear, journal and window: passes are
//! played, judged, climbed and kept.
//!
//! The player of this test plays what the speakers play, in time, on strings of his own: they start up or down as chance
//! has it, stroke by stroke, so that what he plays is no echo. That shows the plumbing, not the ear; the ear is held by
//! the takes made outside our synthesiser. Beside him our own sound may reach the microphone as an echo does.

use std::sync::atomic::Ordering;

use sixrung::stand::{HearingState, Intent, Part, Phase, Volumes};
use sixrung_devices::Which;
use sixrung_journal::Journal;
use sixrung_practice::{Marked, Verdict};
use sixrung_tests::evening::{BEGIN, Evening, ZONE};

#[test]
fn an_evening_climbs_falls_and_is_kept() {
    let folder = tempfile::tempdir().expect("a folder for the journal");
    let mut evening = Evening::begin(folder.path());
    assert_eq!(evening.view().place.title, "Lantern on the Quay");
    assert_eq!(evening.rung(), "76");

    evening.harness.key_press(egui::Key::Space);
    assert_eq!(
        evening.next_result().headline,
        "Not judged.",
        "a new pair of devices: the first pass finds the round trip"
    );
    for pass in 1..=3 {
        assert_eq!(evening.next_result().headline, "Clean.", "clean pass {pass}");
    }
    assert_eq!(evening.rung(), "84", "three clean passes climb");

    evening.hand.plays_all.store(false, Ordering::Relaxed);
    for pass in 1..=2 {
        assert_eq!(evening.next_result().headline, "Not clean yet.", "pass {pass} with half of it left out");
    }
    assert_eq!(evening.rung(), "76", "two passes that were not clean fall");

    // A device lost in the middle of a pass: practice pauses, nothing of it is kept, nothing before it is lost.
    evening.run_tenths(80);
    assert_eq!(evening.view().phase, Phase::Playing);
    evening.simulation.pull_out(Which::Input);
    evening.run_tenths(3);
    assert!(matches!(evening.view().phase, Phase::Paused(_)), "{:?}", evening.view().phase);
    drop(evening);

    let journal = Journal::open(&folder.path().join("journal.sqlite"), BEGIN.day(ZONE)).expect("the journal").journal;
    let mut kept: Vec<_> =
        journal.recent_passes(None, 100).expect("the passes").into_iter().map(|(_, pass)| pass).collect();
    kept.sort_by_key(|pass| pass.ended);
    let verdicts: Vec<_> = kept.iter().map(|pass| pass.verdict).collect();
    assert_eq!(verdicts.len(), 6);
    assert!(matches!(verdicts[0], Verdict::NotJudged(_)));
    assert_eq!(verdicts[1..4], [Verdict::Clean; 3]);
    assert_eq!(verdicts[4..], [Verdict::NotClean; 2]);

    let next = Evening::begin(folder.path());
    assert_eq!(next.rung(), "76", "the next start goes on from there");
}

#[test]
fn without_a_microphone_the_player_marks_the_pass_and_the_journal_says_so() {
    let folder = tempfile::tempdir().expect("a folder for the journal");
    let mut evening = Evening::begin(folder.path());
    evening.simulation.pull_out(Which::Input);
    evening.run_tenths(2);
    assert_eq!(evening.view().hearing.state, HearingState::NoMicrophone);

    evening.harness.key_press(egui::Key::PageDown);
    for _ in 0..600 {
        evening.run_tenths(1);
        if evening.view().phase == Phase::SelfMark {
            break;
        }
    }
    assert_eq!(evening.view().phase, Phase::SelfMark, "the pass is over and waits for its mark");
    evening.harness.key_press(egui::Key::M);
    evening.run_tenths(1);
    assert_eq!(evening.view().ladder.pegs_filled, 1, "a marked pass counts");
    drop(evening);

    let journal = Journal::open(&folder.path().join("journal.sqlite"), BEGIN.day(ZONE)).expect("the journal").journal;
    let kept = journal.recent_passes(None, 10).expect("the passes");
    let marks: Vec<_> = kept.iter().map(|(_, pass)| (pass.verdict, pass.marked)).collect();
    assert_eq!(marks, [(Verdict::Clean, Marked::ByPlayer)]);
}

#[test]
fn our_own_guitar_alone_in_the_microphone_is_never_clean() {
    fn check(own_db: f32, click_db: f32) {
        let folder = tempfile::tempdir().expect("a folder for the journal");
        let mut evening = Evening::with_own_sound(folder.path(), own_db, click_db);
        evening.hand.silent.store(true, Ordering::Relaxed);
        let result = evening.next_result();
        assert_eq!(result.headline, "Not judged.", "own {own_db} dB, click {click_db} dB: {}", result.detail);
        assert_eq!(evening.view().ladder.pegs_filled, 0);
    }
    for own_db in [0.0, -6.0, -20.0] {
        check(own_db, Volumes::SILENT_DB);
        // About as loud as a strum, which this player copies with the click.
        check(own_db, -6.0);
    }
}

#[test]
fn a_first_pass_whose_round_trip_is_not_found_is_not_judged() {
    // This player copies the click at its full strength too, so that nothing fits.
    let folder = tempfile::tempdir().expect("a folder for the journal");
    let mut evening = Evening::begin(folder.path());
    evening.wish(Intent::SetVolume(Part::Click, 0.0));
    evening.hand.own.store(0.1_f32.to_bits(), Ordering::Relaxed);
    evening.harness.key_press(egui::Key::Space);
    let result = evening.next_result();
    assert_eq!(result.headline, "Not judged.", "{}", result.detail);
    assert_eq!(evening.view().ladder.pegs_filled, 0);
}

#[test]
fn a_player_is_judged_beside_our_sound_ten_decibels_under() {
    let folder = tempfile::tempdir().expect("a folder for the journal");
    let mut evening = Evening::with_own_sound(folder.path(), -10.0, Volumes::SILENT_DB);
    for _ in 0..2 {
        let result = evening.next_result();
        assert_eq!(result.headline, "Clean.", "{}", result.detail);
    }
    evening.hand.plays_all.store(false, Ordering::Relaxed);
    assert_eq!(evening.next_result().headline, "Not clean yet.");
}

#[test]
fn a_round_trip_that_grows_is_set_right_and_never_called_late_playing() {
    let folder = tempfile::tempdir().expect("a folder for the journal");
    let mut evening = Evening::with_own_sound(folder.path(), -10.0, -20.0);
    evening.waits_for_the_count_in = true;
    // The second count-in had begun already: its way is known from the third on.
    for _ in 0..2 {
        let result = evening.next_result();
        assert_eq!(result.headline, "Clean.", "{}", result.detail);
    }
    let known_ms = evening.studio().session().sound().round_trip_ms.expect("found by the first pass");

    evening.hand.late.store(48 * 60, Ordering::Relaxed);
    let result = evening.next_result();
    assert_eq!(result.detail, "Your sound took another time to reach me than before.");
    let moved_ms = evening.studio().session().sound().round_trip_ms.expect("set right") - known_ms;
    assert!((moved_ms - 60.0).abs() < 1.0, "set right by {moved_ms:.2} ms of 60");
    assert_eq!(evening.next_result().headline, "Clean.", "the same playing, judged by the new round trip");
    drop(evening);

    let next = Evening::begin(folder.path());
    let kept_ms = next.studio().session().sound().round_trip_ms.expect("kept");
    assert!((kept_ms - known_ms - moved_ms).abs() < 1e-6, "kept {kept_ms}, known {known_ms}, moved {moved_ms}");
}

#[test]
fn a_pass_whose_sound_stood_still_is_not_judged() {
    let folder = tempfile::tempdir().expect("a folder for the journal");
    let mut evening = Evening::begin(folder.path());
    evening.harness.key_press(egui::Key::Space);
    assert_eq!(evening.next_result().headline, "Not judged.", "the first pass finds the round trip");
    evening.run_tenths(80);
    evening.simulation.hold_output_blocks(20);
    assert_eq!(evening.next_result().detail, "Part of the sound was lost on its way to me.");
    assert_eq!(evening.view().ladder.pegs_filled, 0);
}
