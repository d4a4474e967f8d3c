//! What the stand shows at one instant: plain data, filled by the session and read by [`super::stand_ui`].
//!
//! Nothing here refers to sound devices, and nothing here is a truth: the session rebuilds it each frame. What stays
//! the same from frame to frame (a bar's strokes, a chord's shape) sits behind `Arc`, so that filling it is cheap.
//! Sentences arrive ready to read; their wording is built with the functions of [`crate::text`].

mod result;

use std::ops::Range;
use std::sync::Arc;

use sixrung_lesson::Shape;

pub use sixrung_drawing::strip::{BarStrip, SlotView};

pub use self::result::{ChordSpan, HearAgainView, MarkKind, PlotMark, PlotView, ResultView, StringMark};
use super::intent::Intent;
use super::mix::Volumes;
use super::path::PathView;
use super::today::TodayView;
use crate::commands::keymap::KeyMap;
use crate::commands::pedalmap::PedalMap;
use crate::theme::Look;

/// Everything on the stand.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct StandView {
    /// How the player wants things drawn.
    pub look: Look,
    /// Keys the player has set.
    pub keys: KeyMap,
    /// MIDI switches and what they do.
    pub pedals: PedalMap,
    /// What is on the stand, for the two lines at the top left.
    pub place: PlaceView,
    /// What is going on.
    pub phase: Phase,
    /// The chords; `None` when nothing is open.
    pub chords: Option<ChordsView>,
    /// The bar being played, or the first one when idle; `None` when nothing is open.
    pub bar: Option<Arc<BarStrip>>,
    /// The bar after it (in a loop's last bar: the first one). The stand shows it half a slot before the bar line,
    /// so that the cursor meets every arrow in the middle.
    pub next_bar: Option<Arc<BarStrip>>,
    /// Where in `bar` the cursor is, 0 at its bar line, 1 at the next; `None` while nothing moves.
    pub cursor: Option<f32>,
    /// Index of the slot of `bar` that is sounding.
    pub sounding: Option<usize>,
    /// The words around now.
    pub words: WordsView,
    /// The bars of the section.
    pub map: MapView,
    /// The steps of the section's path; `None` when nothing is open.
    pub path: Option<PathView>,
    /// The ladder.
    pub ladder: LadderView,
    /// The last pass, as long as it should be on the sheet: shown in place of the chords and the bar.
    pub result: Option<ResultView>,
    /// Whether what sounds, is counted in or comes next is only to be listened to.
    pub listens: bool,
    /// Seconds until the next pass is counted in, while it comes by itself.
    pub goes_on_in_s: Option<u32>,
    /// The one next thing to do, other than playing on: it gets the filled button.
    pub proposal: Option<Proposal>,
    /// What the microphone gives.
    pub hearing: HearingView,
    /// Whether four muted strokes would start now.
    pub strokes_start: bool,
    /// How loud things are.
    pub volumes: Volumes,
    /// What of today's plan is on; `None` without a plan.
    pub today: Option<TodayView>,
    /// Whether nobody played here yet and the part comes first: the stand says so.
    pub is_new: bool,
    /// Whole minutes played today.
    pub minutes_playing: u32,
    /// What the player should know about devices or files, newest last.
    pub notes: Vec<Note>,
}

/// What is on the stand.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct PlaceView {
    /// The lesson's title; empty when nothing is open.
    pub title: String,
    /// The section's name, for example `Verse`; the whole piece has its own word, [`crate::text::WHOLE_PIECE`].
    pub section: String,
    /// The bars played, as printed: from 1, both ends included.
    pub bars: Option<(u32, u32)>,
    /// The arrangement's name and what it changes, for example `plain, Bm7 for Bm`.
    pub arrangement: String,
}

/// What is going on. It decides the words of the forward control and what the sheet shows.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub enum Phase {
    /// Nothing has been played yet.
    #[default]
    Idle,
    /// The part is played first; the player only listens.
    ListenFirst,
    /// Counting in: `beat` of `of`, from 1.
    CountIn {
        /// The beat being counted, from 1.
        beat: u32,
        /// How many are counted.
        of: u32,
    },
    /// A pass.
    Playing,
    /// Between passes. With a [`StandView::result`] the sheet shows it.
    Between,
    /// No microphone heard the pass: the player says whether it was clean.
    SelfMark,
    /// The player says how the hands feel.
    AskHands,
    /// Practice stands still until the player goes on.
    Paused(Pause),
}

/// Why practice stands still.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Pause {
    /// The player asked for it.
    Asked,
    /// The sound output went away; nothing is lost.
    OutputLost,
    /// The microphone went away; nothing is lost.
    InputLost,
    /// The section has had enough for now.
    Rest,
    /// A break of today's plan.
    Break,
    /// Something hurts: practice stops for the day.
    Hurts,
    /// Something hurt on an earlier day: the player says first whether it is gone.
    HurtBefore,
}

/// A chord as drawn.
#[derive(Clone, Debug, PartialEq)]
pub struct ChordView {
    /// Its name, signs already set (`B♭`, `F♯m`); `N.C.` for no chord.
    pub name: String,
    /// Where the fingers go; `None` for no chord.
    pub shape: Option<Arc<Shape>>,
    /// What it sounds when a capo moves it, for example `A`.
    pub sounds: Option<String>,
    /// The harder chord it stands in for, for example `Bm`.
    pub stands_in_for: Option<String>,
}

/// The chord now and those after it.
#[derive(Clone, Debug, PartialEq)]
pub struct ChordsView {
    /// Sounding now, or first to sound when idle.
    pub now: ChordView,
    /// The chord after it; `None` when no other comes in this stretch.
    pub next: Option<NextChord>,
    /// The one after that.
    pub then: Option<ChordView>,
    /// Whether that one comes so soon after the next that both must be in sight.
    pub then_is_soon: bool,
    /// Capo fret, 0 for none.
    pub capo: u8,
}

/// The coming chord and how long it still is until it comes.
#[derive(Clone, Debug, PartialEq)]
pub struct NextChord {
    /// The chord.
    pub chord: ChordView,
    /// Beats left until it comes, rounded up; 0 only in the instant it comes.
    pub beats_left: u32,
    /// How many beats to draw as dots, at most one bar's.
    pub beats_shown: u32,
}

/// The words around now.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct WordsView {
    /// The current line and those after it: two or three are enough. Empty: no words, and no room is kept.
    pub lines: Vec<WordLineView>,
    /// The syllable being sung: its line in `lines`, and its place in that line.
    pub current: Option<(usize, usize)>,
}

/// A line of words.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct WordLineView {
    /// Its syllables.
    pub syllables: Vec<SyllableView>,
}

/// A syllable.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct SyllableView {
    /// What is sung; may be empty where a chord comes on no syllable.
    pub text: String,
    /// Whether a space follows; else a hyphen and the word goes on.
    pub ends_word: bool,
    /// The chord that begins on it.
    pub chord: Option<String>,
}

/// The bars of the whole section, played or not.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct MapView {
    /// One entry a bar, in order.
    pub bars: Vec<MapBar>,
    /// The bar that is playing or was worst, as an index into `bars`.
    pub current: Option<usize>,
    /// The bars chosen, as indices into `bars`; `None` for all.
    pub chosen: Option<Range<usize>>,
}

/// One bar of the map.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct MapBar {
    /// Its number as printed, from 1.
    pub number: u32,
    /// The chord name to print under its start, where the chord is new there.
    pub chord: Option<String>,
    /// Whether it has been played in this pass.
    pub done: bool,
}

/// The tempo ladder.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct LadderView {
    /// The rungs, slowest first.
    pub rungs: Vec<RungView>,
    /// The player's rung, as an index into `rungs`.
    pub current: usize,
    /// Clean passes in a row so far on this rung.
    pub pegs_filled: u32,
    /// Clean passes in a row that climb.
    pub pegs_total: u32,
    /// One sentence under the ladder, for example `one more clean pass to 103`.
    pub sentence: String,
}

/// One rung.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct RungView {
    /// Its tempo as printed, for example `93`.
    pub bpm: String,
    /// Per cent of the original tempo.
    pub percent: u32,
    /// How far the player has come with it.
    pub state: RungState,
}

/// How far the player has come with a rung.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub enum RungState {
    /// Not climbed yet.
    #[default]
    Ahead,
    /// Climbed, not yet confirmed on a later day.
    Known,
    /// Clean at first try 12 hours or more after it was last played: lashed to the rails.
    Held,
}

/// One thing to do next.
#[derive(Clone, Debug, PartialEq)]
pub struct Proposal {
    /// Why, in one or two sentences, one a line.
    pub because: Vec<String>,
    /// Words of the button, for example `Loop bars 5 and 6`.
    pub label: String,
    /// A change of chord it is about: from, to.
    pub change: Option<(ChordView, ChordView)>,
    /// What taking it does; the key is that of [`Intent::TakeProposal`].
    pub intent: Box<Intent>,
}

/// What the microphone gives.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub struct HearingView {
    /// Level, 0 silent to 1 full scale, already shaped for the eye (steps of equal decibels).
    pub level: f32,
    /// In a word.
    pub state: HearingState,
}

/// What the microphone gives, in a word.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub enum HearingState {
    /// There is none, or it is not wanted: passes are marked by the player.
    #[default]
    NoMicrophone,
    /// It works, and it is quiet.
    Listening,
    /// It hears the guitar.
    HearsYou,
    /// Strokes were due and nothing came.
    CannotHear,
    /// It is overdriven.
    TooLoud,
}

/// Something the player should know.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Note {
    /// What is the case.
    pub text: String,
    /// What to try; may be empty.
    pub hint: String,
}
