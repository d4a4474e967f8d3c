//! What the player asked for: the only way anything on screen changes anything.

use std::ops::Range;
use std::path::PathBuf;

use sixrung_audio::Strings;
use sixrung_devices::PedalPress;
use sixrung_lesson::Level;
use sixrung_practice::{Done, Felt, Step};

use super::guide::GuideWish;
use super::hand_over::HandOverWish;
use super::journal::JournalWish;
use super::mix::{ClickChoice, Part};
use super::today::TodayWish;
use crate::commands::CommandId;
use crate::measuring::Measure;
use crate::theme::Look;

/// A wish of the player, by key, pedal, click or drag.
#[derive(Clone, Debug, PartialEq)]
pub enum Intent {
    /// The pedal's forward switch: starts, goes on, or takes the next thing; while playing it ends the pass, not judged.
    Forward,
    /// The pedal's back switch: plays the part first, the player listens.
    Back,
    /// Stops whatever plays; the pass is not judged. Does nothing when nothing plays.
    Stop,
    /// One rung down.
    Slower,
    /// One rung up.
    Faster,
    /// To this rung, as an index into the ladder, slowest first.
    ChooseRung(usize),
    /// Another section, or the whole piece.
    ChooseSection(SectionChoice),
    /// Another step of the section's path.
    ChooseStep(Step),
    /// A step is done, or left out, says the player.
    MarkStep(Step, Done),
    /// These bars of the section, as indices from 0, the end not included.
    ChooseBars(Range<usize>),
    /// All bars of the section.
    AllBars,
    /// Another arrangement, by its place in the lesson's list.
    ChooseArrangement(usize),
    /// Another lesson.
    OpenLesson(LessonSource),
    /// Another volume, in decibels.
    SetVolume(Part, f32),
    /// Silence a part for now, or no longer.
    Mute(Part),
    /// Hear a part alone for now, or no longer.
    HearOnly(Part),
    /// Let the click sound and go like this.
    SetClick(ClickChoice),
    /// Let the guitar that plays the part be strung with these.
    SetStrings(Strings),
    /// The pass was clean, says the player.
    MarkClean,
    /// The pass was not clean, says the player.
    MarkNotClean,
    /// Does what the proposal on the sheet says.
    TakeProposal,
    /// Takes a note off the sheet, by its place in the list.
    DismissNote(usize),
    /// Shows a page.
    OpenPage(Page),
    /// Back to the stand.
    ClosePage,
    /// Draws things another way.
    SetLook(Look),
    /// This key is this command's from now on.
    SetKey(CommandId, egui::Key),
    /// This MIDI switch is this command's from now on.
    SetPedal(CommandId, PedalPress),
    /// All keys and pedals as they were.
    ResetKeys,
    /// Another sound output: its id, or `None` for the system's own choice.
    ChooseOutput(Option<String>),
    /// Another microphone.
    ChooseInput(InputChoice),
    /// Another buffer size, in frames.
    SetBuffer(u32),
    /// The round trip of these devices, in milliseconds; `None` to have it found by the next pass.
    SetRoundTrip(Option<f64>),
    /// Measures the round trip, or checks the sound.
    Measure(Measure),
    /// Passes are to be judged whatever the sound check found.
    OverruleCheck,
    /// Plays the part first at each new rung, or only when asked to.
    HearFirst(bool),
    /// How patient the timing window is.
    SetLevel(Level),
    /// Four muted strokes start, or no longer.
    SetStrokesStart(bool),
    /// Tunes one string only, by its place in the tuning, or whichever sounds.
    ListenForString(Option<usize>),
    /// The worst bar of the last pass once more.
    HearAgain(HearAgain),
    /// Something about the player's chords being heard one by one.
    Chords(ChordsWish),
    /// Something about today's plan.
    Today(TodayWish),
    /// How the hands feel.
    Feel(Felt),
    /// The player wants to say how the hands feel.
    SayHands,
    /// Plays on although practice was stopped.
    PlayAnyway,
    /// Something on the page of shapes.
    Shapes(ShapesWish),
    /// Something on the page of changes.
    Changes(ChangesWish),
    /// Something about the learner's own recording.
    Song(SongWish),
    /// Something on the page of looking back.
    Journal(JournalWish),
    /// Something on the page of the guide.
    Guide(GuideWish),
    /// Something between teacher and learner.
    HandOver(HandOverWish),
    /// Closes the program.
    Quit,
}

/// Who is heard again.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum Voice {
    /// The player, as the microphone heard them.
    You,
    /// The lesson's part.
    Lesson,
    /// Both at once.
    Both,
}

/// A wish about the worst bar of the last pass.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum HearAgain {
    /// Plays it.
    Voice(Voice),
    /// Plays the player, then the lesson, then both, one each time: for a pedal.
    InTurn,
    /// At half the tempo, or again at the tempo played.
    Slowly,
}

/// A wish on the page where the player's chords are heard.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum ChordsWish {
    /// Leaves the chord asked for out; with nothing asked for, back to the stand.
    Next,
    /// The strokes asked for once more; with nothing asked for, all chords once more.
    Again,
    /// This chord once more, by its place in the stretch.
    Only(usize),
    /// Forgets all that was learned of this guitar.
    Forget,
    /// The guitar being played, as the player calls it.
    Guitar(String),
}

/// A wish on the page of changes.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum ChangesWish {
    /// The next pair; after the last, the next step.
    Next,
    /// Hear the two shapes.
    Hear,
    /// This pair, by its place in the list.
    Only(usize),
    /// The pair of these two shapes, by the lesson's names.
    Named(String, String),
}

/// A wish on the page of shapes.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum ShapesWish {
    /// The next finger; with all down, the next shape.
    Next,
    /// Hear it, strummed or string by string in turn.
    Hear,
    /// Show this one.
    Only(usize),
    /// Explain the diagram, or no longer.
    Explain,
}

/// A wish about the learner's own recording. "Here" is what plays of it, or where its cursor stands.
#[derive(Clone, Debug, PartialEq)]
pub enum SongWish {
    /// This file belongs to the lesson on the stand.
    Open(PathBuf),
    /// None does any more.
    Forget,
    /// Stops what is being read or slowed.
    Cancel,
    /// Tries again what was stopped or failed.
    Again,
    /// Plays from here, or stops.
    Play,
    /// The cursor to a time, in seconds.
    To(f64),
    /// By so many seconds.
    By(f64),
    /// By so many beats.
    ByBeats(i32),
    /// Half as much in sight for each step, or twice as much when negative.
    Zoom(i8),
    /// Clicks on its beats while it plays on its page, or none.
    Clicks,
    /// A beat, now.
    Tap,
    /// The tempo that was tapped.
    TakeTapped,
    /// This tempo, in beats a minute; what is none is refused.
    Tempo(f64),
    /// The beats that were found.
    TakeFound,
    /// Bar 1 begins here.
    Bar1,
    /// The nearest beat lies here.
    Anchor,
    /// The nearest anchor is none.
    NoAnchor,
    /// The nearest beat lies so many milliseconds later.
    Nudge(f64),
    /// So many semitones higher.
    Semitones(i8),
}

/// A stretch to practise.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum SectionChoice {
    /// A section, by its place in the lesson's list.
    Section(usize),
    /// The whole piece.
    Whole,
}

/// Where a lesson comes from.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum LessonSource {
    /// One that comes with the program, by its id.
    Demo(String),
    /// A file.
    File(PathBuf),
}

impl Page {
    /// The step whose page it is.
    #[must_use]
    pub const fn step(self) -> Option<Step> {
        match self {
            Self::Shapes => Some(Step::Shapes),
            Self::Changes => Some(Step::Changes),
            _ => None,
        }
    }
}

/// Which microphone.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum InputChoice {
    /// None: the player marks the passes.
    None,
    /// The system's own choice.
    Default,
    /// This one, by its id.
    Device(String),
}

/// A page that lies over the stand.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum Page {
    /// Choose a lesson.
    Lessons,
    /// Choose section, bars and arrangement.
    Sections,
    /// Devices, levels, round trip.
    Sound,
    /// What is heard: parts and click.
    Parts,
    /// Measures the round trip, checks the sound.
    Calibrate,
    /// Tunes the strings.
    Tuner,
    /// Hears the player's chords, one by one.
    Chords,
    /// The learner's own recording.
    Song,
    /// Today's plan.
    Today,
    /// The steps of the section's path.
    Path,
    /// Where the fingers go, shape by shape.
    Shapes,
    /// Two shapes to and fro.
    Changes,
    /// Looking back.
    Journal,
    /// The guide as it will be printed.
    Guide,
    /// What is asked of a learner, and how it went.
    HandOver,
    /// What the signs on the sheet mean.
    Signs,
    /// The usual cautions.
    Care,
    /// Appearance and keys.
    Look,
}
