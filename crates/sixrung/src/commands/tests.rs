//! Every command has its keys, and no key has two.

use egui::{Context, Key, Modifiers};
use sixrung_devices::{PedalKind, PedalPress};

use super::{COMMANDS, CommandId, digit, intent, keymap, read_pedals};
use crate::stand::{
    ChordsWish, GuideWish, Intent, JournalWish, LadderView, Page, Phase, PlaceView, Proposal, RungState, RungView,
    SectionChoice, SongWish, StandView,
};
use crate::theme::{Hand, Look, Sheet};

/// A stand with a lesson, three rungs, a proposal, and a pass to be marked.
fn stand() -> StandView {
    let rung = |bpm: &str| RungView { bpm: bpm.to_owned(), percent: 60, state: RungState::Ahead };
    StandView {
        place: PlaceView { title: "A lesson".to_owned(), ..PlaceView::default() },
        phase: Phase::SelfMark,
        ladder: LadderView { rungs: vec![rung("60"), rung("70"), rung("80")], ..LadderView::default() },
        proposal: Some(Proposal {
            because: Vec::new(),
            label: "Go on".to_owned(),
            change: None,
            intent: Box::new(Intent::Faster),
        }),
        ..StandView::default()
    }
}

fn check(key: Key, page: Option<Page>, expected: Option<&Intent>) {
    assert_eq!(intent(key, Modifiers::NONE, &stand(), page).as_ref(), expected, "{key:?} on {page:?}");
}

#[test]
fn no_key_has_two_commands_and_none_is_a_digit() {
    let mut seen = Vec::new();
    for command in COMMANDS {
        assert!(!command.keys.is_empty(), "{:?} has a key", command.id);
        for shortcut in command.keys {
            assert!(!seen.contains(shortcut), "{shortcut:?} of {:?} is taken", command.id);
            assert_eq!(digit(shortcut.key), None);
            seen.push(*shortcut);
        }
    }
}

#[test]
fn every_command_is_in_the_table_once() {
    let mut ids: Vec<_> = COMMANDS.iter().map(|command| command.id).collect();
    let count = ids.len();
    ids.sort_unstable();
    ids.dedup();
    assert_eq!(ids.len(), count);
    assert_eq!(ids.last(), Some(&super::CommandId::Quit), "the last of the enumeration");
    assert_eq!(count, super::CommandId::Quit as usize + 1);
}

#[test]
fn each_key_of_the_stand_asks_for_its_own() {
    let dark = Look { sheet: Sheet::Dark, ..Look::default() };
    let left = Look { hand: Hand::Left, ..Look::default() };
    let rows = [
        (Key::Space, Intent::Forward),
        (Key::L, Intent::Back),
        (Key::Backspace, Intent::Back),
        (Key::Escape, Intent::Stop),
        (Key::Minus, Intent::Slower),
        (Key::Plus, Intent::Faster),
        (Key::Equals, Intent::Faster),
        (Key::C, Intent::TakeProposal),
        (Key::M, Intent::MarkClean),
        (Key::N, Intent::MarkNotClean),
        (Key::B, Intent::AllBars),
        (Key::V, Intent::OpenPage(Page::Journal)),
        (Key::O, Intent::OpenPage(Page::Lessons)),
        (Key::S, Intent::OpenPage(Page::Sections)),
        (Key::A, Intent::OpenPage(Page::Sections)),
        (Key::D, Intent::OpenPage(Page::Sound)),
        (Key::U, Intent::OpenPage(Page::Tuner)),
        (Key::K, Intent::OpenPage(Page::Chords)),
        (Key::P, Intent::OpenPage(Page::Parts)),
        (Key::E, Intent::OpenPage(Page::Calibrate)),
        (Key::R, Intent::OpenPage(Page::Song)),
        (Key::F1, Intent::OpenPage(Page::Look)),
        (Key::Questionmark, Intent::OpenPage(Page::Look)),
        (Key::T, Intent::SetLook(dark)),
        (Key::H, Intent::SetLook(left)),
        (Key::Num2, Intent::ChooseRung(1)),
    ];
    for (key, expected) in rows {
        check(key, None, Some(&expected));
    }
    check(Key::Num4, None, None);
    check(Key::Q, None, Some(&Intent::OpenPage(Page::Care)));
    assert_eq!(intent(Key::Q, Modifiers::COMMAND, &stand(), None), Some(Intent::Quit));
    assert_eq!(intent(Key::P, Modifiers::COMMAND, &stand(), None), Some(Intent::OpenPage(Page::Guide)));
}

#[test]
fn a_page_turn_pedal_works_the_stand_both_ways() {
    // Page-turn pedals send page or arrow keys: common practice.
    for key in [Key::PageDown, Key::ArrowRight, Key::ArrowDown] {
        check(key, None, Some(&Intent::Forward));
    }
    for key in [Key::PageUp, Key::ArrowLeft, Key::ArrowUp] {
        check(key, None, Some(&Intent::Back));
    }
}

#[test]
fn a_page_takes_the_keys_that_mean_something_on_it() {
    check(Key::Escape, Some(Page::Sound), Some(&Intent::ClosePage));
    check(Key::Space, Some(Page::Sound), None);
    check(Key::PageDown, Some(Page::Chords), Some(&Intent::Chords(ChordsWish::Next)));
    check(Key::PageUp, Some(Page::Chords), Some(&Intent::Chords(ChordsWish::Again)));
    check(Key::Num2, Some(Page::Sections), Some(&Intent::ChooseSection(SectionChoice::Section(1))));
    check(Key::Num2, Some(Page::Journal), Some(&Intent::Journal(JournalWish::Section(1))));
    check(Key::ArrowRight, Some(Page::Journal), Some(&Intent::Journal(JournalWish::Next)));
    check(Key::ArrowUp, Some(Page::Journal), Some(&Intent::Journal(JournalWish::Previous)));
    check(Key::PageDown, Some(Page::Guide), Some(&Intent::Guide(GuideWish::Next)));
    check(Key::ArrowLeft, Some(Page::Guide), Some(&Intent::Guide(GuideWish::Previous)));
    check(Key::Num2, Some(Page::Guide), Some(&Intent::Guide(GuideWish::Arrangement(1))));
    check(Key::H, Some(Page::Guide), Some(&Intent::Guide(GuideWish::OtherHand)));
    check(Key::Num2, Some(Page::Sound), None);
    check(Key::Space, Some(Page::Song), Some(&Intent::Song(SongWish::Play)));
    check(Key::B, Some(Page::Song), Some(&Intent::Song(SongWish::Bar1)));
    check(Key::ArrowLeft, Some(Page::Song), Some(&Intent::Song(SongWish::ByBeats(-1))));
    check(Key::Escape, Some(Page::Song), Some(&Intent::ClosePage));
    check(Key::O, Some(Page::Song), Some(&Intent::OpenPage(Page::Lessons)));
}

#[test]
fn no_key_of_the_recordings_page_has_two_meanings_and_none_leaves_it_or_closes_the_program() {
    let mut seen = vec![Key::Escape];
    for key in super::song::KEYS.iter().flat_map(super::song::SongKey::keys) {
        assert!(!seen.contains(&key), "{key:?}");
        seen.push(key);
    }
    assert_eq!(intent(Key::Q, Modifiers::COMMAND, &stand(), Some(Page::Song)), Some(Intent::Quit));
}

#[test]
fn marks_and_proposals_mean_nothing_where_there_are_none() {
    let view = StandView { phase: Phase::Playing, proposal: None, ..stand() };
    for key in [Key::M, Key::N, Key::C] {
        assert_eq!(intent(key, Modifiers::NONE, &view, None), None, "{key:?}");
    }
}

#[test]
fn on_an_empty_stand_forward_leads_to_the_lessons() {
    let intent = intent(Key::PageDown, Modifiers::NONE, &StandView::default(), None);
    assert_eq!(intent, Some(Intent::OpenPage(Page::Lessons)));
}

#[test]
fn a_midi_pedal_asks_for_what_its_commands_key_does_on_the_stand_and_every_page() {
    let pages = [Page::Chords, Page::Journal, Page::Today, Page::Changes, Page::Shapes, Page::Sound, Page::Song];
    let press = PedalPress { kind: PedalKind::Note, channel: 9, number: 36 };
    for command in COMMANDS {
        let mut view = stand();
        view.pedals.set(command.id, press);
        for page in std::iter::once(None).chain(pages.map(Some)) {
            let mut asked = Vec::new();
            read_pedals(&Context::default(), [press].into_iter(), &view, page, &mut asked);
            assert_eq!(asked.pop(), command.id.intent(&view, page), "{:?} on {page:?}", command.id);
            assert!(asked.is_empty());
        }
    }
}

#[test]
fn a_command_that_waits_takes_the_first_pedal_stepped_on_and_the_next_one_acts() {
    let context = Context::default();
    keymap::wait(&context, Some(CommandId::Tuner));
    let pedal = |number| PedalPress { kind: PedalKind::Control, channel: 0, number };
    let mut asked = Vec::new();
    read_pedals(&context, [pedal(67), pedal(64)].into_iter(), &stand(), None, &mut asked);
    assert_eq!(asked, [Intent::SetPedal(CommandId::Tuner, pedal(67)), Intent::Forward]);
    assert_eq!(keymap::waiting(&context), None);
}
