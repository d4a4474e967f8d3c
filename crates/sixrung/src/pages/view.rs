//! What the pages over the stand show: plain data, filled by the session.

use sixrung_audio::Strings;
use sixrung_lesson::{Level, Pitch};
use sixrung_listen::{Reason, Sounding};

use crate::measuring::{Measure, Measured};
use crate::stand::{ClickChoice, HearingView, InputChoice, LessonSource, Note, PathView, SectionChoice, Volumes};
use crate::theme::Look;

pub use super::changes::view::{ChangesPage, DrillView, FingerMarks, PairItem};
pub use super::chords::view::{AskedChord, ChordItem, ChordState, ChordsPage};
use super::guide::GuidePage;
pub use super::hand_over::view::{AnswerView, AskView, HandOverPage, HandOverSide, ReportView};
pub use super::journal::view::{ChangeItem, JournalPage, OffsetDay, OpenedPass, PassItem, SectionLine};
pub use super::shapes::view::{ShapeItem, ShapesPage};
pub use super::song::view::{BeatMark, FoundBeats, RungSong, SongPage, SongState, TappedBeats};
use super::today::TodayPage;

/// The page that is open.
#[derive(Clone, Debug, PartialEq)]
pub enum PageView {
    /// Choose a lesson.
    Lessons(LessonsView),
    /// Choose section and arrangement.
    Sections(SectionsView),
    /// Devices, levels, round trip.
    Sound(SoundView),
    /// What is heard, and how the click goes.
    Parts(PartsView),
    /// Measures the round trip, checks the sound.
    Calibrate(CalibrateView),
    /// Which string sounds, and how far off it is.
    Tuner(TunerView),
    /// The player's chords, heard one by one.
    Chords(Box<ChordsPage>),
    /// The learner's own recording.
    Song(Box<SongPage>),
    /// Today's plan.
    Today(TodayPage),
    /// The steps of the section's path, and which is on the stand.
    Path(PathView),
    /// Where the fingers go, shape by shape.
    Shapes(Box<ShapesPage>),
    /// Two shapes to and fro.
    Changes(Box<ChangesPage>),
    /// The usual cautions.
    Care,
    /// Looking back.
    Journal(Box<JournalPage>),
    /// What is asked, and how it went.
    HandOver(Box<HandOverPage>),
    /// The guide as it will be printed.
    Guide(Box<GuidePage>),
    /// What the signs on the sheet mean; all it shows is on the stand itself.
    Signs,
    /// Appearance and keys: the look itself, and the names of the MIDI pedals plugged in.
    Look(Look, Vec<String>),
}

/// What is heard, and how.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct PartsView {
    /// How loud each part is.
    pub volumes: Volumes,
    /// How the click sounds and goes.
    pub click: ClickChoice,
    /// What the guitar that plays the part is strung with.
    pub strings: Strings,
    /// Whether the part is played first at a new rung.
    pub hears_first: bool,
}

/// The lessons one can open.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct LessonsView {
    /// Those that come with the program.
    pub demos: Vec<LessonItem>,
    /// Those opened before, latest first.
    pub recent: Vec<LessonItem>,
    /// What was wrong with the last one that could not be opened.
    pub problems: Vec<Note>,
}

/// One lesson to open.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct LessonItem {
    /// Its title.
    pub title: String,
    /// One quiet line: key, meter, tempo, or the file's place.
    pub detail: String,
    /// How to open it.
    pub source: LessonSource,
    /// Whether it is on the stand now.
    pub open: bool,
}

/// The stretches and arrangements of the open lesson.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct SectionsView {
    /// The sections in order, and the whole piece last.
    pub sections: Vec<SectionItem>,
    /// The arrangements in order.
    pub arrangements: Vec<ArrangementItem>,
}

/// One stretch to practise.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct SectionItem {
    /// Its name.
    pub name: String,
    /// One quiet line, for example `8 bars · 93 of 126`.
    pub detail: String,
    /// How to choose it.
    pub choice: SectionChoice,
    /// Whether it is on the stand now.
    pub chosen: bool,
}

/// One arrangement.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct ArrangementItem {
    /// Its name.
    pub name: String,
    /// What it changes, for example `Bm7 for Bm`.
    pub detail: String,
    /// Whether it is on the stand now.
    pub chosen: bool,
}

/// Sound devices and how they are used.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct SoundView {
    /// Where sound can go, the system's own choice first.
    pub outputs: Vec<OutputItem>,
    /// Where it can come from, none first, then the system's own choice.
    pub inputs: Vec<InputItem>,
    /// Buffer size in frames.
    pub buffer_frames: u32,
    /// Buffer sizes to choose from.
    pub buffer_choices: Vec<u32>,
    /// How often sound was lost since the start, as the devices told or their times show.
    pub lost: u64,
    /// Sample rate of the output in hertz, 0 when there is none.
    pub rate_hz: u32,
    /// The round trip in force.
    pub round_trip: RoundTrip,
    /// What the microphone gives.
    pub hearing: HearingView,
    /// How loud things are.
    pub volumes: Volumes,
    /// How patient the timing window is.
    pub level: Level,
    /// Whether four muted strokes start.
    pub strokes_start: bool,
    /// What there is to know.
    pub notes: Vec<Note>,
}

/// The strings as they should sound, and what sounds.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct TunerView {
    /// The strings, the heaviest first.
    pub strings: Vec<TunedString>,
    /// What is heard.
    pub sounding: Sounding,
    /// The one string listened for, by its place, or any.
    pub only: Option<usize>,
    /// The capo's fret, 0 for none.
    pub capo: u8,
    /// What the microphone gives.
    pub hearing: HearingView,
}

/// What is known of the sound's way, and what is being measured.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct CalibrateView {
    /// Whether there are speakers and a microphone.
    pub has_devices: bool,
    /// The round trip in force.
    pub trip: RoundTrip,
    /// What is measured now, and how far it is, 0 to 1.
    pub running: Option<(Measure, f32)>,
    /// What came of the last measuring.
    pub outcome: Option<Measured>,
    /// What the last sound check of these devices found, and whether the player goes on regardless.
    pub check: Option<(Vec<Reason>, bool)>,
    /// What the microphone gives.
    pub hearing: HearingView,
}

/// One string as it should sound.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct TunedString {
    /// Its number, the lightest 1.
    pub number: usize,
    /// What it should sound, capo included.
    pub pitch: Pitch,
}

/// From a sound played to the same sound heard.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub enum RoundTrip {
    /// Not known: the next pass finds it.
    #[default]
    Unknown,
    /// By our own sound in the microphone, in milliseconds, and its spread.
    Heard(f64, f64),
    /// By taps to our clicks, in milliseconds, and their spread.
    Tapped(f64, f64),
    /// Found by a pass, in milliseconds.
    Found(f64),
    /// Set by hand, in milliseconds.
    Set(f64),
}

/// A sound output.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct OutputItem {
    /// Its name as the system gives it.
    pub name: String,
    /// Its id; `None` for the system's own choice.
    pub id: Option<String>,
    /// Whether it is in use.
    pub chosen: bool,
}

/// A microphone.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct InputItem {
    /// Its name as the system gives it.
    pub name: String,
    /// How to choose it.
    pub choice: InputChoice,
    /// Whether it is in use.
    pub chosen: bool,
}
