//! What was found, stroke by stroke and pass by pass.

use sixrung_lesson::{Action, Direction};

/// The outcome of a pass.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum Verdict {
    /// Within the clean criterion.
    Clean,
    /// Outside it.
    NotClean,
    /// The program could not hear well enough to say: never the player's fault.
    NotJudged(Reason),
}

/// Why a pass was not judged.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum Reason {
    /// Nothing rose above the noise.
    Silence,
    /// The sound was there but too faint beside the noise.
    TooFaint,
    /// The input was overdriven.
    Clipped,
    /// Input or output blocks were lost.
    Gap,
    /// The round trip of these devices is not known yet: this pass only finds it.
    LearningRoundTrip,
    /// The sound took another time than when the round trip was measured: what seemed late or early may not have been.
    RoundTripMoved,
    /// The program's own sound is too loud in the microphone.
    OwnSound,
    /// Where the pass starts in the take could not be told apart.
    StartUnclear,
    /// The player or the program stopped before the end.
    Stopped,
    /// The take ends before the pass does.
    TooShort,
    /// The input held numbers that are no sound (NaN or infinite).
    BadSamples,
    /// The expected strokes lie too close together to tell apart.
    TooFast,
    /// There is nothing to judge in this stretch.
    NothingExpected,
    /// Most of it was heard, but not so well that clean and not clean could be told apart.
    Unclear,
    /// The sound was changed on its way, so that strokes and chords are no longer what they were.
    Processed(Processing),
}

/// What systems do to a sound on its way: made for speech, bad for strings.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Processing {
    /// What rings is taken for noise and cut off.
    NoiseSuppression,
    /// What is soft is made as loud as what is loud.
    AutoGain,
    /// While we play, the microphone is turned down.
    EchoCancelling,
    /// Only a telephone's band comes through.
    NarrowBand,
}

/// What became of one expected stroke.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum Finding {
    /// Inside the window.
    InTime,
    /// Heard before it.
    Early,
    /// Heard after it.
    Late,
    /// Not heard.
    Missed,
}

/// Whether the chord asked for was heard.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Hash)]
pub enum ChordFinding {
    /// It was.
    Right,
    /// Another was.
    Wrong,
    /// It can't be told. Never fails a pass.
    #[default]
    Unsure,
}

/// What is wrong with a string.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum StringFault {
    /// It should ring and does not.
    Dead,
    /// It rings, but not the pitch asked for.
    WrongFret,
    /// It rings and should be mute.
    ShouldBeMuted,
}

/// What was found of one string in a stroke.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub struct StringFinding {
    /// The string as players count: 1 is the lightest.
    pub string: u8,
    /// What is wrong with it.
    pub fault: StringFault,
}

/// One expected stroke and what was heard of it.
#[derive(Clone, Debug, PartialEq)]
pub struct StrokeFinding {
    /// Index of its bar in the score.
    pub bar: usize,
    /// Slot within the bar.
    pub slot: u32,
    /// What was asked.
    pub action: Action,
    /// Which way was asked.
    pub direction: Direction,
    /// Index of the shape in the score.
    pub shape: Option<usize>,
    /// When it was expected, in seconds on the take's clock, the player's own bias **not** included.
    pub expected_s: f64,
    /// When it was heard, on the same clock; `None` when missed.
    pub heard_s: Option<f64>,
    /// Heard − expected in milliseconds, bias not removed.
    pub offset_ms: Option<f64>,
    /// What became of it, bias removed.
    pub finding: Finding,
    /// Whether its chord was right: told of a whole span of strokes on one chord, the same for each of them.
    pub chord: ChordFinding,
    /// The chord it sounded like instead, as a chord symbol; only where the chord was wrong and this can be told.
    pub sounded_like: Option<String>,
    /// Which way it was heard to go; `None` when that was never learned or can't be told.
    pub heard_direction: Option<Direction>,
    /// What was found of single strings; empty when nothing was, or strings were never learned.
    pub strings: Vec<StringFinding>,
    /// The window's half width that applied, in milliseconds.
    pub window_ms: f64,
}

/// A pass, judged.
#[derive(Clone, Debug, PartialEq)]
pub struct PassVerdict {
    /// The outcome.
    pub verdict: Verdict,
    /// One entry an expected stroke, by time.
    pub strokes: Vec<StrokeFinding>,
    /// Strums that were not asked for, in seconds.
    pub extras_s: Vec<f64>,
    /// Median of the offsets, in milliseconds: early is negative. `None` when nothing was heard.
    pub median_offset_ms: Option<f64>,
    /// Spread of the offsets around their median, in milliseconds: 1.4826 × the median absolute deviation.
    pub spread_ms: Option<f64>,
    /// Faults the criterion allowed.
    pub allowed_faults: u32,
    /// How far the whole guitar was off A4 = 440 Hz, in cents, positive is sharp; `None` when it can't be told.
    pub tuning_cents: Option<f64>,
}

impl PassVerdict {
    /// How many strokes have this finding.
    #[must_use]
    pub fn count(&self, finding: Finding) -> usize {
        self.strokes.iter().filter(|stroke| stroke.finding == finding).count()
    }
}
