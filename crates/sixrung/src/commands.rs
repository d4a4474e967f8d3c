//! The one table of what can be done by key or pedal: id, words, keys.
//!
//! Page-turn pedals are keyboards that send page, arrow or space keys (common practice); forward and back take them
//! all. Auto-repeat is ignored: a pedal held down acts once. MIDI pedals do what keys do, by [`pedalmap`].

pub mod keymap;
pub mod pedalmap;
pub mod song;
mod table;

use egui::{Event, Key, Modifiers};
use sixrung_devices::PedalPress;
use sixrung_practice::{Felt, Step};

pub use table::COMMANDS;

use crate::stand::{
    ChangesWish, ChordsWish, GuideWish, HearAgain, Intent, JournalWish, Page, Phase, SectionChoice, ShapesWish,
    StandView, TodayWish, Voice,
};
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
    /// Today's plan.
    Today,
    /// Looking back.
    Journal,
    /// Assignments and reports.
    HandOver,
    /// The guide on paper.
    Guide,
    /// How the hands feel.
    SayHands,
    /// The steps of the section.
    Path,
    /// What the signs mean.
    Signs,
    /// The usual cautions.
    Care,
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

/// Which rung or section a digit chooses, as printed.
pub const DIGITS: (&str, &str) = ("a rung, or on a page what is listed there", "1 … 9");

/// What the keys of this frame ask for. Nothing while a text field has the keyboard; while any control has it,
/// the keys that move or press a control are left to it.
pub fn read_keys(ctx: &egui::Context, view: &StandView, page: Option<Page>, intents: &mut Vec<Intent>) {
    if page != Some(Page::Look) {
        // Who left the page of keys half-way sets none.
        keymap::wait(ctx, None);
    }
    if ctx.text_edit_focused() {
        return;
    }
    if let Some(id) = keymap::waiting(ctx) {
        return set_key(ctx, id, intents);
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

/// What the pedals stepped on ask for: what their command's key would. A text field with the keyboard takes nothing from
/// them: feet type no letters.
pub fn read_pedals(
    ctx: &egui::Context,
    presses: impl Iterator<Item = PedalPress>,
    view: &StandView,
    page: Option<Page>,
    intents: &mut Vec<Intent>,
) {
    // A piano's pedal is trodden for the piano while another window is in front.
    let is_in_front = ctx.input(|input| input.raw.focused);
    for press in presses.filter(|_| is_in_front) {
        if let Some(id) = keymap::waiting(ctx) {
            keymap::wait(ctx, None);
            intents.push(Intent::SetPedal(id, press));
        } else {
            intents.extend(view.pedals.command(press).and_then(|id| id.intent(view, page)));
        }
    }
}

/// The first key pressed is this command's from now on; Escape leaves things as they are.
fn set_key(ctx: &egui::Context, id: CommandId, intents: &mut Vec<Intent>) {
    let pressed = ctx.input(|input| {
        input.events.iter().find_map(|event| match event {
            Event::Key { key, pressed: true, repeat: false, .. } => Some(*key),
            _ => None,
        })
    });
    let Some(key) = pressed else { return };
    keymap::wait(ctx, None);
    if key != Key::Escape {
        intents.push(Intent::SetKey(id, key));
    }
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
        return by_digit(place, view, page);
    }
    let held =
        |shortcut: &Shortcut| shortcut.key == key && shortcut.with_command == modifiers.command && !modifiers.alt;
    let own = view.keys.command(key).filter(|_| !modifiers.command && !modifiers.alt);
    let of_table = || COMMANDS.iter().find(|command| command.keys.iter().any(held)).map(|command| command.id);
    own.or_else(of_table)?.intent(view, page)
}

/// What a digit chooses, from 0: on each page what is listed there.
fn by_digit(place: usize, view: &StandView, page: Option<Page>) -> Option<Intent> {
    match page {
        None if view.phase == Phase::AskHands => {
            [Felt::Fine, Felt::Sore, Felt::Pain].get(place).copied().map(Intent::Feel)
        }
        None => (place < view.ladder.rungs.len()).then_some(Intent::ChooseRung(place)),
        Some(Page::Sections) => Some(Intent::ChooseSection(SectionChoice::Section(place))),
        Some(Page::Path) => Step::ALL.get(place).copied().map(Intent::ChooseStep),
        Some(Page::Shapes) => Some(Intent::Shapes(ShapesWish::Only(place))),
        Some(Page::Changes) => Some(Intent::Changes(ChangesWish::Only(place))),
        Some(Page::Journal) => Some(Intent::Journal(JournalWish::Section(place))),
        Some(Page::Guide) => Some(Intent::Guide(GuideWish::Arrangement(place))),
        Some(Page::Today) => {
            crate::pages::MINUTES.get(place).copied().map(|minutes| Intent::Today(TodayWish::Minutes(minutes)))
        }
        Some(_) => None,
    }
}

impl CommandId {
    /// From the name it is kept by.
    fn from_word(word: &str) -> Option<Self> {
        COMMANDS.iter().map(|command| command.id).find(|id| format!("{id:?}") == word)
    }

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
            Self::Forward if page == Some(Page::Journal) => Some(Intent::Journal(JournalWish::Next)),
            Self::Back if page == Some(Page::Journal) => Some(Intent::Journal(JournalWish::Previous)),
            Self::Forward if page == Some(Page::Guide) => Some(Intent::Guide(GuideWish::Next)),
            Self::Back if page == Some(Page::Guide) => Some(Intent::Guide(GuideWish::Previous)),
            Self::Forward if page == Some(Page::Today) => Some(Intent::Today(TodayWish::Start)),
            Self::Forward if page == Some(Page::Changes) => Some(Intent::Changes(ChangesWish::Next)),
            Self::Back | Self::First if page == Some(Page::Changes) => Some(Intent::Changes(ChangesWish::Hear)),
            Self::Forward if page == Some(Page::Shapes) => Some(Intent::Shapes(ShapesWish::Next)),
            Self::Back | Self::First if page == Some(Page::Shapes) => Some(Intent::Shapes(ShapesWish::Hear)),
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
            Self::Today => Some(Intent::OpenPage(Page::Today)),
            Self::Journal => Some(Intent::OpenPage(Page::Journal)),
            Self::HandOver => Some(Intent::OpenPage(Page::HandOver)),
            Self::Guide => Some(Intent::OpenPage(Page::Guide)),
            Self::SayHands => Some(Intent::SayHands),
            Self::Path => Some(Intent::OpenPage(Page::Path)),
            Self::Signs if page == Some(Page::Shapes) => Some(Intent::Shapes(ShapesWish::Explain)),
            Self::Signs => Some(Intent::OpenPage(Page::Signs)),
            Self::Care => Some(Intent::OpenPage(Page::Care)),
            Self::Look => Some(Intent::OpenPage(Page::Look)),
            Self::Sheet => Some(Intent::SetLook(Look { sheet: next_sheet(view.look.sheet), ..view.look })),
            Self::Hand if page == Some(Page::Guide) => Some(Intent::Guide(GuideWish::OtherHand)),
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
