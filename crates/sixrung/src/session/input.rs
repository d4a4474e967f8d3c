//! What can happen to a session, and what a session wants done.

use std::sync::Arc;

use sixrung_audio::Report;
use sixrung_lesson::{Criterion, Level, Stretch, Tempo};
use sixrung_listen::{ChangeEvent, LearnProgress, Learned, PassPlan, PassVerdict, Reason, Sounding};
use sixrung_practice::today::TodayPlan;
use sixrung_practice::{ClimbState, Done, Felt, Marked, Moment, PainFlag, Step, StepsDone};
use sixrung_timeline::Timeline;

use super::stage::Opened;
use crate::measuring::Measured;
use crate::recording::Recording;
use crate::stand::{HearingView, Intent, Note, Part};

/// When something happens: by the wall clock, and by the frame now leaving the speakers.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Now {
    /// The wall clock.
    pub moment: Moment,
    /// Output frames since the sound was opened, as heard now.
    pub frame: u64,
}

/// Something that happened.
#[derive(Debug)]
pub enum Input {
    /// A wish of the player.
    Intent(Intent),
    /// A lesson was read, and where its climb stood when it was last left.
    Opened(Opened),
    /// Somebody who never played here looks at the stand.
    Welcome,
    /// A climb was found in the journal.
    ClimbFound(ClimbKey, Option<ClimbState>),
    /// The steps done of a path were found in the journal.
    StepsFound(ClimbKey, StepsDone),
    /// The performer told something.
    Report(Report),
    /// The ear told something.
    Heard(Heard),
    /// What the ear knows of the player's chords on this guitar.
    Knows(Arc<Learned>),
    /// The sound was opened, or opened again.
    Sound(SoundState),
    /// More can be heard with the part than when the running stretch began: from its next pass on it is.
    PartReady,
    /// A plan for today was made.
    Planned(TodayPlan),
    /// So many seconds were played that are no pass: shapes, changes.
    Drilled {
        /// Seconds.
        seconds: u32,
    },
    /// Something hurt when last asked: found in the journal.
    Hurt(PainFlag),
    /// Something to tell the player.
    Note(Note),
}

/// What the ear tells.
#[derive(Clone, Debug, PartialEq)]
pub enum Heard {
    /// The level now.
    Level(HearingView),
    /// What the tuner hears now.
    Tuned(Sounding),
    /// A stroke or a change of the drill.
    Change(ChangeEvent),
    /// Four muted strokes, even and alone.
    FourStrokes,
    /// How far the player's chords are heard.
    Learning(LearnProgress),
    /// What was learned of them so far.
    Learned(Box<Learned>),
    /// A pass, judged.
    Pass {
        /// The order it answers.
        order: u64,
        /// What became of it.
        verdict: Box<PassVerdict>,
        /// The round trip, when the order was to find it.
        round_trip: Option<FoundTrip>,
        /// How long our own sound took to the microphone before it, in milliseconds, where it was heard.
        own_way_ms: Option<f64>,
        /// Its sound, to be heard again: held by nobody else.
        recording: Option<Arc<Recording>>,
    },
    /// What was measured is done: nothing of the session's.
    Measured(Measured),
}

/// A round trip found from a pass played along.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct FoundTrip {
    /// Milliseconds, the player's own bias in them.
    pub ms: f64,
    /// Spread of the strokes around it, in milliseconds.
    pub spread_ms: f64,
}

/// What the sound is like.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub struct SoundState {
    /// Frames a second of the output; 0 before it is opened.
    pub rate: u32,
    /// Whether anything goes out.
    pub output: bool,
    /// Whether a microphone is listened to.
    pub input: bool,
    /// The round trip of these devices, in milliseconds; `None` when not known yet.
    pub round_trip_ms: Option<f64>,
    /// How long our own sound took when the round trip was measured, in milliseconds, where that is known.
    pub own_way_ms: Option<f64>,
    /// What the last sound check of these devices found in the way, unless the player goes on regardless.
    pub objection: Option<Reason>,
}

/// Which climb: a section of a version of a lesson in an arrangement.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct ClimbKey {
    /// The lesson's text.
    pub lesson: u64,
    /// The stretch of it.
    pub stretch: Stretch,
    /// The arrangement's name.
    pub arrangement: String,
}

/// What a session wants done.
#[derive(Debug)]
pub enum Effect {
    /// Play this now.
    Play(Box<Timeline>),
    /// Play this from the end of the running cycle on.
    PlayNext(Box<Timeline>),
    /// Play this recording now, once, under this id.
    PlayRecording(u64, Vec<f32>),
    /// Fall silent.
    Silence,
    /// Set a volume, in decibels.
    Gain(Part, f32),
    /// Listen to a pass.
    Listen(Order),
    /// The player listens from one time to another, in seconds on the output's clock: what the microphone hears is ours.
    OnlyWeSound {
        /// From when.
        from_s: f64,
        /// Until when.
        to_s: f64,
    },
    /// Forget every pass that is not judged yet.
    Forget,
    /// Look up a climb.
    FindClimb(ClimbKey),
    /// Keep a pass.
    Record(Box<PassDone>),
    /// Keep where a climb stands although no pass was played.
    KeepClimb(ClimbKey, ClimbState),
    /// Look up which steps of a path are done.
    FindSteps(ClimbKey),
    /// Keep that a step is done.
    KeepStep(ClimbKey, Step, Done, Moment),
    /// Keep what was learned of the player's chords.
    KeepLearned(Box<Learned>),
    /// Make a plan of so many minutes.
    PlanToday(u16),
    /// Keep how the hands feel.
    KeepFelt(Felt, Moment),
    /// Keep that the player was told that chords can be learned.
    KeepOffered,
    /// Keep the round trip of the devices now open.
    KeepRoundTrip(FoundTrip),
    /// Keep that the round trip of the devices now open has grown by so many milliseconds, or shrunk.
    MoveRoundTrip(f64),
    /// Something only the window can do: open a lesson, a page, a device, close.
    Window(Intent),
}

/// A pass to listen to.
#[derive(Clone, Debug, PartialEq)]
pub struct Order {
    /// Told back with the verdict.
    pub id: u64,
    /// What is expected, on the output's clock in seconds.
    pub plan: PassPlan,
    /// When the count-in's clicks sound, on the same clock: the player is silent then, and what arrives is our own.
    pub clicks_s: Vec<f64>,
    /// What counts as clean.
    pub criterion: Criterion,
    /// What the microphone lags behind the output, in seconds; `None` to find it from this pass.
    pub latency_s: Option<f64>,
}

/// A pass as the journal keeps it.
#[derive(Clone, Debug, PartialEq)]
pub struct PassDone {
    /// When it ended.
    pub at: Moment,
    /// Which climb it belongs to, and the lesson's title.
    pub key: ClimbKey,
    /// The lesson's title.
    pub title: String,
    /// Which step of the path it was.
    pub step: Step,
    /// The tempo played.
    pub tempo: Tempo,
    /// How long it took, in seconds.
    pub seconds: f64,
    /// What became of it.
    pub verdict: PassVerdict,
    /// Who says so.
    pub marked: Marked,
    /// The timing window.
    pub level: Level,
    /// Where the climb stands now; `None` where the pass belongs to none.
    pub climb: Option<ClimbState>,
}
