//! Every view in the real window: each control has a name for a screen reader, can be reached with Tab, and the view
//! itself is opened and left by keys alone.

use egui::accesskit::Action;
use egui::{Key, Modifiers};
use egui_kittest::kittest::NodeT as _;
use sixrung::stand::{Intent, Page, Phase};
use sixrung_practice::Step;
use sixrung_tests::evening::Evening;

/// The names of what can have the focus, in the order of the tree.
fn controls(evening: &Evening) -> Vec<String> {
    let root = evening.harness.root();
    let focusable = root.children_recursive().filter(|node| {
        let data = node.accesskit_node();
        data.data().supports_action(Action::Focus)
    });
    focusable.map(|node| node.accesskit_node().label().unwrap_or_default()).collect()
}

/// Names are there, and Tab goes through as many controls as there are.
fn check(evening: &mut Evening, view: &str) {
    let names = controls(evening);
    assert!(!names.is_empty(), "{view} has controls");
    for name in &names {
        assert!(!name.trim().is_empty(), "{view}: a control without a name among {names:?}");
    }
    let mut reached = std::collections::HashSet::new();
    for _ in 0..names.len() + 2 {
        evening.harness.key_press(Key::Tab);
        evening.harness.step();
        reached.extend(evening.harness.ctx.memory(egui::Memory::focused));
    }
    assert!(reached.len() >= names.len(), "{view}: Tab reaches {} of {names:?}", reached.len());
    // The focus is given back before the next key: a letter is a command again.
    evening.harness.key_press(Key::Escape);
    evening.harness.step();
}

const PAGES: [(Modifiers, Key, Page); 16] = [
    (Modifiers::NONE, Key::O, Page::Lessons),
    (Modifiers::NONE, Key::V, Page::Journal),
    (Modifiers::COMMAND, Key::P, Page::Guide),
    (Modifiers::NONE, Key::F2, Page::HandOver),
    (Modifiers::NONE, Key::S, Page::Sections),
    (Modifiers::NONE, Key::D, Page::Sound),
    (Modifiers::NONE, Key::P, Page::Parts),
    (Modifiers::NONE, Key::E, Page::Calibrate),
    (Modifiers::NONE, Key::U, Page::Tuner),
    (Modifiers::NONE, Key::K, Page::Chords),
    (Modifiers::NONE, Key::R, Page::Song),
    (Modifiers::NONE, Key::F, Page::Path),
    (Modifiers::NONE, Key::J, Page::Today),
    (Modifiers::NONE, Key::I, Page::Signs),
    (Modifiers::NONE, Key::Q, Page::Care),
    (Modifiers::NONE, Key::F1, Page::Look),
];

#[test]
fn every_page_opens_by_its_key_has_names_and_is_walked_by_tab() {
    let folder = tempfile::tempdir().expect("a folder for the journal");
    let mut evening = Evening::begin(folder.path());
    check(&mut evening, "the stand");
    for (held, key, page) in PAGES {
        evening.harness.key_press_modifiers(held, key);
        evening.run_tenths(2);
        assert_eq!(evening.studio().page(), Some(page), "{key:?}");
        check(&mut evening, &format!("{page:?}"));
        while evening.studio().page().is_some() {
            evening.harness.key_press(Key::Escape);
            evening.run_tenths(1);
        }
    }
}

#[test]
fn every_step_is_gone_to_by_keys_and_has_names() {
    const DIGITS: [Key; 8] = [Key::Num1, Key::Num2, Key::Num3, Key::Num4, Key::Num5, Key::Num6, Key::Num7, Key::Num8];
    let folder = tempfile::tempdir().expect("a folder for the journal");
    let mut evening = Evening::begin(folder.path());
    for (digit, step) in DIGITS.into_iter().zip(Step::ALL) {
        evening.harness.key_press(Key::F);
        evening.run_tenths(1);
        evening.harness.key_press(digit);
        evening.run_tenths(2);
        match evening.studio().page().and_then(Page::step) {
            Some(page) => assert_eq!(page, step),
            None => assert_eq!(evening.view().path.expect("open").current, step),
        }
        check(&mut evening, &format!("{step:?}"));
        evening.wish(Intent::ClosePage);
    }
}

#[test]
fn the_question_after_the_hands_is_asked_and_answered_by_keys() {
    let folder = tempfile::tempdir().expect("a folder for the journal");
    let mut evening = Evening::begin(folder.path());
    evening.harness.key_press(Key::X);
    evening.run_tenths(1);
    assert_eq!(evening.view().phase, Phase::AskHands);
    check(&mut evening, "the question");
    evening.harness.key_press(Key::Num2);
    evening.run_tenths(1);
    assert_eq!(evening.view().phase, Phase::Idle);
    assert!(evening.view().notes.iter().any(|note| note.text.contains("common at first")));
}
