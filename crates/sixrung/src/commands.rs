//! The one table of what can be done by key: id, words, keys.
//!
//! Page-turn pedals are keyboards that send page, arrow or space keys (common practice); forward and back take them
//! all. Auto-repeat is ignored: a pedal held down acts once.

pub mod song;

use egui::{Event, Key, Modifiers};

use crate::stand::{ChordsWish, HearAgain, Intent, Page, Phase, SectionChoice, StandView, Voice};
use crate::theme::{Hand, Look, Sheet};

/// What can be done.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum CommandId {
    /// Starts, goes on, ends the pass.
    Forward,
    /// Back: plays the part first, or what the sheet has to hear.
    Back,
    /// Plays the part first.
    First,
    /// Stops, or leaves a page.
    Leave,
    /// One rung down.
    Slower,
    /// One rung up.
    Faster,
    /// Does as proposed.
    Propose,
    /// The worst bar again: the player.
    HearYou,
    /// The lesson's part.
    HearLesson,
    /// Both at once.
    HearBoth,
    /// At half the tempo.
    HearSlowly,
    /// The pass was clean.
    MarkClean,
    /// It was not.
    MarkNotClean,
    /// All bars.
    AllBars,
    /// Lessons.
    Lessons,
    /// Sections.
    Sections,
    /// Arrangements.
    Arrangements,
    /// Sound.
    Sound,
    /// What is heard: parts and click.
    Parts,
    /// Calibration and sound check.
    Calibrate,
    /// The tuner.
    Tuner,
    /// The player's chords, heard one by one.
    Chords,
    /// The learner's own recording.
    Song,
    /// Appearance and keys.
    Look,
    /// Another sheet.
    Sheet,
    /// The other hand.
    Hand,
    /// Closes the program.
    Quit,
}

/// A key and what must be held with it.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Shortcut {
    /// The key.
    pub key: Key,
    /// Whether Ctrl (Command on a Mac) is held.
    pub with_command: bool,
}

const fn plain(key: Key) -> Shortcut {
    Shortcut { key, with_command: false }
}

/// One entry of the table.
#[derive(Clone, Copy, Debug)]
pub struct Command {
    /// Which.
    pub id: CommandId,
    /// In two or three words.
    pub text: &'static str,
    /// In a sentence.
    pub tip: &'static str,
    /// Its keys as printed.
    pub printed: &'static str,
    /// Its keys.
    pub keys: &'static [Shortcut],
}

/// The table.
pub const COMMANDS: &[Command] = &[
    Command {
        id: CommandId::Forward,
        text: "forward",
        tip: "starts, goes on; while playing it ends the pass, which is then not judged",
        printed: "Space  Page Down  →  ↓",
        keys: &[plain(Key::Space), plain(Key::PageDown), plain(Key::ArrowRight), plain(Key::ArrowDown)],
    },
    Command {
        id: CommandId::Back,
        text: "back",
        tip: "hear it first; after a pass its worst bar: you, then the lesson, then both",
        printed: "Page Up  ←  ↑",
        keys: &[plain(Key::PageUp), plain(Key::ArrowLeft), plain(Key::ArrowUp)],
    },
    Command {
        id: CommandId::First,
        text: "hear it first",
        tip: "plays the part, you listen",
        printed: "L  Backspace",
        keys: &[plain(Key::L), plain(Key::Backspace)],
    },
    Command {
        id: CommandId::Leave,
        text: "stop, or back to the stand",
        tip: "stops what plays, or leaves a page",
        printed: "Esc",
        keys: &[plain(Key::Escape)],
    },
    Command { id: CommandId::Slower, text: "slower", tip: "one rung down", printed: "−", keys: &[plain(Key::Minus)] },
    Command {
        id: CommandId::Faster,
        text: "faster",
        tip: "one rung up",
        printed: "+",
        keys: &[plain(Key::Plus), plain(Key::Equals)],
    },
    Command {
        id: CommandId::Propose,
        text: "do as proposed",
        tip: "takes the proposal on the sheet",
        printed: "C",
        keys: &[plain(Key::C)],
    },
    Command {
        id: CommandId::HearYou,
        text: "hear yourself",
        tip: "the worst bar of the last pass, as you played it",
        printed: "Y",
        keys: &[plain(Key::Y)],
    },
    Command {
        id: CommandId::HearLesson,
        text: "hear the lesson",
        tip: "the same bar as the lesson has it",
        printed: "G",
        keys: &[plain(Key::G)],
    },
    Command {
        id: CommandId::HearBoth,
        text: "hear both",
        tip: "the same bar, you and the lesson at once",
        printed: "W",
        keys: &[plain(Key::W)],
    },
    Command {
        id: CommandId::HearSlowly,
        text: "slowly",
        tip: "that bar at half the tempo, or as it was",
        printed: "Z",
        keys: &[plain(Key::Z)],
    },
    Command {
        id: CommandId::MarkClean,
        text: "that was clean",
        tip: "without a microphone you say how a pass was",
        printed: "M",
        keys: &[plain(Key::M)],
    },
    Command {
        id: CommandId::MarkNotClean,
        text: "that was not clean yet",
        tip: "without a microphone you say how a pass was",
        printed: "N",
        keys: &[plain(Key::N)],
    },
    Command {
        id: CommandId::AllBars,
        text: "all bars",
        tip: "the whole section again, after a loop of a few bars",
        printed: "B",
        keys: &[plain(Key::B)],
    },
    Command {
        id: CommandId::Lessons,
        text: "lessons",
        tip: "choose what lies on the stand",
        printed: "O",
        keys: &[plain(Key::O)],
    },
    Command {
        id: CommandId::Sections,
        text: "sections",
        tip: "choose the section; there a digit chooses too",
        printed: "S",
        keys: &[plain(Key::S)],
    },
    Command {
        id: CommandId::Arrangements,
        text: "arrangements",
        tip: "choose how it is played",
        printed: "A",
        keys: &[plain(Key::A)],
    },
    Command {
        id: CommandId::Sound,
        text: "sound",
        tip: "devices, levels, round trip",
        printed: "D",
        keys: &[plain(Key::D)],
    },
    Command {
        id: CommandId::Parts,
        text: "parts and click",
        tip: "what you hear, how loud, and how the click goes",
        printed: "P",
        keys: &[plain(Key::P)],
    },
    Command {
        id: CommandId::Calibrate,
        text: "calibrate and check",
        tip: "measures the round trip, finds what spoils your sound",
        printed: "E",
        keys: &[plain(Key::E)],
    },
    Command {
        id: CommandId::Tuner,
        text: "tuner",
        tip: "tune first: names the string and how far it is off",
        printed: "U",
        keys: &[plain(Key::U)],
    },
    Command {
        id: CommandId::Chords,
        text: "let me hear your chords",
        tip: "I learn how they sound, then I can name single strings",
        printed: "K",
        keys: &[plain(Key::K)],
    },
    Command {
        id: CommandId::Song,
        text: "your own recording",
        tip: "of this song: slowed, it plays along at every rung",
        printed: "R",
        keys: &[plain(Key::R)],
    },
    Command {
        id: CommandId::Look,
        text: "appearance and keys",
        tip: "this page",
        printed: "F1  ?",
        keys: &[plain(Key::F1), plain(Key::Questionmark)],
    },
    Command {
        id: CommandId::Sheet,
        text: "another sheet",
        tip: "light, dark, black on white, white on black",
        printed: "T",
        keys: &[plain(Key::T)],
    },
    Command {
        id: CommandId::Hand,
        text: "the other hand",
        tip: "mirrors the diagrams",
        printed: "H",
        keys: &[plain(Key::H)],
    },
    Command {
        id: CommandId::Quit,
        text: "close the program",
        tip: "everything up to the last pass is kept",
        printed: "Ctrl Q",
        keys: &[Shortcut { key: Key::Q, with_command: true }],
    },
];

/// Which rung or section a digit chooses, as printed.
pub const DIGITS: (&str, &str) = ("a rung, or on that page a section", "1 … 9");

/// What the keys of this frame ask for. Nothing while a text field has the keyboard; while any control has it,
/// the keys that move or press a control are left to it.
pub fn read_keys(ctx: &egui::Context, view: &StandView, page: Option<Page>, intents: &mut Vec<Intent>) {
    if ctx.text_edit_focused() {
        return;
    }
    let is_control_focused = ctx.memory(|memory| memory.focused().is_some());
    ctx.input(|input| {
        for event in &input.events {
            let Event::Key { key, pressed: true, repeat: false, modifiers, .. } = event else { continue };
            if is_control_focused && moves_control(*key) {
                continue;
            }
            intents.extend(intent(*key, *modifiers, view, page));
        }
    });
}

/// What a key asks for.
#[must_use]
pub fn intent(key: Key, modifiers: Modifiers, view: &StandView, page: Option<Page>) -> Option<Intent> {
    if page == Some(Page::Song)
        && let Some(wish) = song::wish(key, modifiers)
    {
        return Some(Intent::Song(wish));
    }
    if let Some(place) = digit(key).filter(|_| !modifiers.command && !modifiers.alt) {
        return match page {
            None => (place < view.ladder.rungs.len()).then_some(Intent::ChooseRung(place)),
            Some(Page::Sections) => Some(Intent::ChooseSection(SectionChoice::Section(place))),
            Some(_) => None,
        };
    }
    let held =
        |shortcut: &Shortcut| shortcut.key == key && shortcut.with_command == modifiers.command && !modifiers.alt;
    let command = COMMANDS.iter().find(|command| command.keys.iter().any(held))?;
    command.id.intent(view, page)
}

impl CommandId {
    /// What it asks for in this state; `None` when it means nothing here.
    #[must_use]
    pub fn intent(self, view: &StandView, page: Option<Page>) -> Option<Intent> {
        let on_stand = |intent: Intent| page.is_none().then_some(intent);
        let has_bar = view.result.as_ref().is_some_and(|result| result.hear.is_some());
        let again = |wish| has_bar.then_some(Intent::HearAgain(wish)).and_then(on_stand);
        let marking = |intent: Intent| (view.phase == Phase::SelfMark).then_some(intent).and_then(on_stand);
        match self {
            // With an empty stand the one thing to do is to choose a lesson.
            Self::Forward if view.place.title.is_empty() => on_stand(Intent::OpenPage(Page::Lessons)),
            Self::Forward if page == Some(Page::Chords) => Some(Intent::Chords(ChordsWish::Next)),
            Self::Back | Self::First if page == Some(Page::Chords) => Some(Intent::Chords(ChordsWish::Again)),
            Self::Forward => on_stand(Intent::Forward),
            Self::Back if has_bar && view.phase != Phase::SelfMark => on_stand(Intent::HearAgain(HearAgain::InTurn)),
            Self::Back | Self::First => on_stand(Intent::Back),
            Self::HearYou => again(HearAgain::Voice(Voice::You)),
            Self::HearLesson => again(HearAgain::Voice(Voice::Lesson)),
            Self::HearBoth => again(HearAgain::Voice(Voice::Both)),
            Self::HearSlowly => again(HearAgain::Slowly),
            Self::Leave if page.is_some() => Some(Intent::ClosePage),
            Self::Leave => Some(Intent::Stop),
            Self::Slower => on_stand(Intent::Slower),
            Self::Faster => on_stand(Intent::Faster),
            Self::Propose => view.proposal.is_some().then_some(Intent::TakeProposal).and_then(on_stand),
            Self::MarkClean => marking(Intent::MarkClean),
            Self::MarkNotClean => marking(Intent::MarkNotClean),
            Self::AllBars => on_stand(Intent::AllBars),
            Self::Lessons => Some(Intent::OpenPage(Page::Lessons)),
            Self::Sections | Self::Arrangements => Some(Intent::OpenPage(Page::Sections)),
            Self::Sound => Some(Intent::OpenPage(Page::Sound)),
            Self::Parts => Some(Intent::OpenPage(Page::Parts)),
            Self::Calibrate => Some(Intent::OpenPage(Page::Calibrate)),
            Self::Tuner => Some(Intent::OpenPage(Page::Tuner)),
            Self::Chords => Some(Intent::OpenPage(Page::Chords)),
            Self::Song => Some(Intent::OpenPage(Page::Song)),
            Self::Look => Some(Intent::OpenPage(Page::Look)),
            Self::Sheet => Some(Intent::SetLook(Look { sheet: next_sheet(view.look.sheet), ..view.look })),
            Self::Hand => Some(Intent::SetLook(Look { hand: other_hand(view.look.hand), ..view.look })),
            Self::Quit => Some(Intent::Quit),
        }
    }
}

const fn next_sheet(sheet: Sheet) -> Sheet {
    match sheet {
        Sheet::Light => Sheet::Dark,
        Sheet::Dark => Sheet::ContrastLight,
        Sheet::ContrastLight => Sheet::ContrastDark,
        Sheet::ContrastDark => Sheet::Light,
    }
}

const fn other_hand(hand: Hand) -> Hand {
    match hand {
        Hand::Right => Hand::Left,
        Hand::Left => Hand::Right,
    }
}

/// Keys that move between or press controls; Escape takes the focus away.
const fn moves_control(key: Key) -> bool {
    matches!(
        key,
        Key::Space | Key::Enter | Key::Escape | Key::ArrowLeft | Key::ArrowRight | Key::ArrowUp | Key::ArrowDown
    )
}

fn digit(key: Key) -> Option<usize> {
    const DIGITS: [Key; 9] =
        [Key::Num1, Key::Num2, Key::Num3, Key::Num4, Key::Num5, Key::Num6, Key::Num7, Key::Num8, Key::Num9];
    DIGITS.iter().position(|digit| *digit == key)
}

#[cfg(test)]
mod tests;
