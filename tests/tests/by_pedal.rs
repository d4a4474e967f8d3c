//! From the first start to the first rung climbed, with both hands on the guitar: by keys only, and by a page-turn
//! pedal's two keys only. Simulated devices, the real window.

use egui::Key;
use sixrung::stand::{Page, Phase};
use sixrung_practice::{Done, Step};
use sixrung_tests::evening::Evening;

fn folder() -> tempfile::TempDir {
    tempfile::tempdir().expect("a folder for the journal")
}

/// Passes until the player stands on the second rung.
fn climbs(evening: &mut Evening) {
    for _ in 0..8 {
        evening.next_result();
        if evening.rung() == "84" {
            return;
        }
    }
    panic!("no rung was climbed: {:?}", evening.view().ladder);
}

#[test]
fn by_two_pedal_keys_from_the_first_start_to_the_first_rung() {
    let folder = folder();
    let mut evening = Evening::begin(folder.path());
    assert_eq!(evening.rung(), "76");
    evening.harness.key_press(Key::PageDown);
    climbs(&mut evening);
}

#[test]
fn by_two_pedal_keys_along_the_path_from_the_shapes_to_the_changes_and_back_to_play() {
    let folder = folder();
    let mut evening = Evening::begin(folder.path());
    // One key to the shapes, as a learner who begins would be told to; from there on the pedal.
    evening.wish(sixrung::stand::Intent::ChooseStep(Step::Shapes));
    assert_eq!(evening.studio().page(), Some(Page::Shapes));
    evening.harness.key_press(Key::PageUp);
    evening.run_tenths(40);
    let mut presses = 0;
    while evening.studio().page() == Some(Page::Shapes) {
        evening.harness.key_press(Key::PageDown);
        evening.run_tenths(1);
        presses += 1;
        assert!(presses < 60, "the last shape is followed by the changes");
    }
    assert_eq!(evening.studio().page(), Some(Page::Changes));
    presses = 0;
    while evening.studio().page() == Some(Page::Changes) {
        evening.harness.key_press(Key::PageDown);
        evening.run_tenths(1);
        presses += 1;
        assert!(presses < 30, "the last pair is followed by one stroke per change");
    }
    assert_eq!(evening.studio().page(), None);
    let path = evening.view().path.expect("a lesson is open");
    assert_eq!(path.current, Step::OneStroke);
    // Gone on from without being heard: marked by the player, not heard.
    assert_eq!(path.steps[0].done, Some(Done::SelfMarked));
    evening.harness.key_press(Key::PageDown);
    evening.run_tenths(5);
    assert!(matches!(evening.view().phase, Phase::CountIn { .. } | Phase::Playing));
}

#[test]
fn by_keys_only_from_todays_plan_to_a_pass() {
    let folder = folder();
    let mut evening = Evening::begin(folder.path());
    evening.harness.key_press(Key::J);
    evening.run_tenths(2);
    assert_eq!(evening.studio().page(), Some(Page::Today));
    // The second of the minutes listed, then begin: the first step of the section the song plays most.
    evening.harness.key_press(Key::Num2);
    evening.run_tenths(1);
    let planned = evening.studio().session().today().expect("a plan was made");
    assert_eq!(planned.items().map(|item| item.minutes).sum::<u16>(), 15);
    evening.harness.key_press(Key::Space);
    evening.run_tenths(2);
    assert_eq!(evening.studio().page(), Some(Page::Shapes));
    assert_eq!(evening.view().today.expect("it is on").number, 1);
    // On to the pattern, by digit on the page of steps, and a pass of it.
    evening.harness.key_press(Key::F);
    evening.run_tenths(1);
    evening.harness.key_press(Key::Num4);
    evening.run_tenths(1);
    assert_eq!(evening.view().path.expect("a lesson is open").current, Step::OneChord);
    evening.harness.key_press(Key::Space);
    evening.next_result();
    assert_eq!(evening.next_result().headline, "Clean.");
    let path = evening.view().path.expect("a lesson is open");
    assert_eq!(path.steps[3].done, Some(Done::Heard));
}

#[test]
fn a_pedal_that_sends_other_keys_is_taught_and_remembered() {
    let folder = folder();
    let mut evening = Evening::begin(folder.path());
    evening.harness.key_press(Key::F1);
    evening.run_tenths(1);
    // Press "forward" on the page, then the pedal's switch.
    sixrung::commands::keymap::wait(&evening.harness.ctx, Some(sixrung::commands::CommandId::Forward));
    evening.harness.key_press(Key::F9);
    evening.run_tenths(1);
    evening.harness.key_press(Key::Escape);
    evening.run_tenths(1);
    evening.harness.key_press(Key::F9);
    evening.run_tenths(3);
    assert!(matches!(evening.view().phase, Phase::CountIn { .. }), "{:?}", evening.view().phase);
    drop(evening);
    let mut next = Evening::begin(folder.path());
    next.harness.key_press(Key::F9);
    next.run_tenths(3);
    assert!(matches!(next.view().phase, Phase::CountIn { .. }));
}
