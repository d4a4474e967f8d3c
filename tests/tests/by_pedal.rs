//! From the first start to the first rung climbed, with both hands on the guitar: by keys only, by a page-turn pedal's
//! two keys only, and by a pedal that sends MIDI. Simulated devices, the real window.

use egui::Key;
use egui_kittest::kittest::Queryable as _;
use sixrung::stand::{Page, Pause, Phase};
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

/// Steps on the switch that sends this controller, and off it.
fn step_on(evening: &mut Evening, controller: u8) {
    evening.pedal.send(&[0xB0, controller, 127]);
    evening.pedal.send(&[0xB0, controller, 0]);
    evening.run_tenths(2);
}

#[test]
fn by_a_midi_pedal_with_nothing_set_from_the_first_start_to_a_pass() {
    let folder = folder();
    let mut evening = Evening::begin(folder.path());
    // Back: the part first. Forward ends it, and starts the pass.
    step_on(&mut evening, 67);
    while matches!(evening.view().phase, Phase::CountIn { .. }) {
        evening.run_tenths(1);
    }
    assert_eq!(evening.view().phase, Phase::ListenFirst);
    step_on(&mut evening, 64);
    assert!(!evening.studio().session().is_playing());
    step_on(&mut evening, 64);
    assert_eq!(evening.next_result().detail, "I was getting to know your sound.");
    assert_eq!(evening.next_result().headline, "Clean.");
    // The same switch ends a pass; what is no switch does nothing.
    assert!(evening.studio().session().is_playing());
    for message in [&[0xE0, 0, 127][..], &[0xB0, 20, 127], &[0x90, 64, 127], &[0xB0, 64], &[]] {
        evening.pedal.send(message);
    }
    evening.run_tenths(20);
    assert!(evening.studio().session().is_playing());
    step_on(&mut evening, 64);
    assert!(!evening.studio().session().is_playing());
}

#[test]
fn a_midi_pedal_held_down_acts_once_and_works_pages_and_questions_as_keys_do() {
    let folder = folder();
    let mut evening = Evening::begin(folder.path());
    // On its way down it sends a row of values.
    for value in [70, 90, 126, 127] {
        evening.pedal.send(&[0xB0, 64, value]);
        evening.run_tenths(2);
    }
    assert!(evening.studio().session().is_playing(), "started, and not stopped again");
    evening.pedal.send(&[0xB0, 64, 0]);
    step_on(&mut evening, 64);
    assert!(!evening.studio().session().is_playing());
    // How the hands feel: forward is "fine".
    evening.harness.key_press(Key::X);
    evening.run_tenths(1);
    assert_eq!(evening.view().phase, Phase::AskHands);
    step_on(&mut evening, 64);
    assert_eq!(evening.view().phase, Phase::Paused(Pause::Asked));
    // A page takes forward as its own.
    evening.wish(sixrung::stand::Intent::ChooseStep(Step::Shapes));
    let mut presses = 0;
    while evening.studio().page() == Some(Page::Shapes) {
        step_on(&mut evening, 64);
        presses += 1;
        assert!(presses < 60, "the last shape is followed by the changes");
    }
    assert_eq!(evening.studio().page(), Some(Page::Changes));
    // And back is "pain": nothing plays after it.
    evening.wish(sixrung::stand::Intent::ClosePage);
    evening.harness.key_press(Key::X);
    evening.run_tenths(1);
    step_on(&mut evening, 66);
    assert_ne!(evening.view().phase, Phase::AskHands);
    step_on(&mut evening, 64);
    evening.run_tenths(3);
    assert!(!evening.studio().session().is_playing());
}

#[test]
fn a_midi_switch_is_set_on_the_page_of_keys_remembered_and_taken_back() {
    let folder = folder();
    let mut evening = Evening::begin(folder.path());
    evening.harness.key_press(Key::F1);
    evening.run_tenths(2);
    evening.harness.get_by_label("MIDI comes from: simulated pedal.");
    evening.harness.get_by_label("back: Page Up  ←  ↑, pedal CC 66, CC 67");
    // Forward is pressed on the page, then the switch: a program change on channel 3. It is set and does no more.
    evening.harness.get_by_label("forward: Space  Page Down  →  ↓, pedal CC 64").click();
    evening.run_tenths(3);
    evening.harness.get_by_label("forward: now the key or pedal (Esc: no change), pedal CC 64");
    evening.pedal.send(&[0xC2, 5]);
    evening.run_tenths(2);
    evening.harness.get_by_label("forward: Space  Page Down  →  ↓, pedal PC 5 ch 3, CC 64");
    // Sustain goes to "slower", and from "forward".
    evening.harness.get_by_label("slower: −").click();
    evening.run_tenths(3);
    step_on(&mut evening, 64);
    evening.harness.get_by_label("slower: −, pedal CC 64 ch 1");
    evening.harness.get_by_label("forward: Space  Page Down  →  ↓, pedal PC 5 ch 3");
    assert_eq!(evening.studio().page(), Some(Page::Look));
    drop(evening);

    let mut next = Evening::begin(folder.path());
    step_on(&mut next, 64);
    assert!(!next.studio().session().is_playing());
    next.pedal.send(&[0xC2, 5]);
    next.run_tenths(5);
    assert!(matches!(next.view().phase, Phase::CountIn { .. }), "{:?}", next.view().phase);
    next.harness.key_press(Key::Escape);
    next.harness.key_press(Key::F1);
    next.run_tenths(2);
    // All as they were: far down on the page, so asked for by name.
    next.wish(sixrung::stand::Intent::ResetKeys);
    next.run_tenths(1);
    next.harness.get_by_label("slower: −");
    next.harness.key_press(Key::Escape);
    next.run_tenths(1);
    next.pedal.send(&[0xC2, 5]);
    next.run_tenths(3);
    assert!(!next.studio().session().is_playing());
    step_on(&mut next, 64);
    next.run_tenths(3);
    assert!(matches!(next.view().phase, Phase::CountIn { .. }), "{:?}", next.view().phase);
}
