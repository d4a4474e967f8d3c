//! What is true of a take, stored beside it as JSON.

use serde::Serialize;

/// Version of this form.
pub const TRUTH_VERSION: u32 = 2;

/// A take's truth. Times are in seconds from the first sample; passes, bars and slots count from 0.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct Truth {
    /// [`TRUTH_VERSION`].
    pub version: u32,
    /// What made it: package and version, fluidsynth's version.
    pub generator: String,
    /// The take's own seed.
    pub seed: u64,
    /// The lesson's file, beside the take.
    pub lesson: String,
    /// Section.
    pub section: String,
    /// Arrangement.
    pub arrangement: String,
    /// Tempo in the lesson's beats per minute.
    pub bpm: f64,
    /// Level of the criterion: `beginner`, `improver` or `advanced`.
    pub level: &'static str,
    /// How many passes, one on the heels of the other.
    pub passes: usize,
    /// Which guitar.
    pub program: &'static str,
    /// What made the notes: `fluid` or `samples`.
    pub engine: &'static str,
    /// How far off each string is, in cents, the heaviest first.
    pub tuning_cents: Vec<f64>,
    /// Where it was recorded.
    pub condition: &'static str,
    /// What the program played meanwhile, dry: a file beside the take, frame by frame on its clock. `null` when nothing.
    pub played: Option<String>,
    /// The player, where several takes are by the same one.
    pub player_seed: Option<u64>,
    /// The player's learning take of this lesson, a file beside this one.
    pub learn: Option<String>,
    /// Where bar 1 beat 1 of the first pass lies.
    pub starts_at_s: f64,
    /// The player's constant bias, in milliseconds.
    pub bias_ms: f64,
    /// The player's way from string to string, in milliseconds.
    pub sweep_ms: f64,
    /// From a note being told to its being heard: smallest, median, largest over the keys, in milliseconds. Already
    /// added to the times below.
    pub synthesiser_delay_ms: [f64; 3],
    /// `clean` when every pass is, else `not_clean`: the clean criterion applied to the times and the
    /// chords below.
    pub verdict: &'static str,
    /// One entry a pass.
    pub pass_verdicts: Vec<PassTruth>,
    /// One entry an expected stroke.
    pub strokes: Vec<StrokeTruth>,
    /// Strokes nobody asked for.
    pub extras: Vec<ExtraTruth>,
    /// Strokes in a row on one chord. A wrong chord in one of them makes the pass not clean.
    pub spans: Vec<SpanTruth>,
    /// What the hands did wrong, stroke by stroke; of these only a wrong chord is part of the verdict above.
    pub hands: Vec<HandTruth>,
}

/// A pass against the clean criterion.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct PassTruth {
    /// Pass.
    pub index: usize,
    /// `clean` or `not_clean`.
    pub verdict: &'static str,
    /// Strokes expected.
    pub expected: usize,
    /// Strokes inside their window.
    pub in_time: usize,
    /// Strokes before it.
    pub early: usize,
    /// Strokes after it.
    pub late: usize,
    /// Strokes not played.
    pub missed: usize,
    /// Strokes nobody asked for.
    pub extra: usize,
    /// Spans with a wrong chord.
    pub wrong_chords: usize,
    /// Faults allowed.
    pub allowed_faults: usize,
    /// Median of the offsets.
    pub median_offset_ms: Option<f64>,
    /// 1.4826 × the median absolute deviation of the offsets.
    pub spread_ms: Option<f64>,
}

/// An expected stroke.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct StrokeTruth {
    /// Pass.
    pub pass: usize,
    /// Bar of the section.
    pub bar: usize,
    /// Slot of the bar.
    pub slot: u32,
    /// `down` or `up`, as asked.
    pub stroke: &'static str,
    /// The chord asked for, `null` for none.
    pub chord: Option<String>,
    /// When its first string was asked for.
    pub expected_s: f64,
    /// When its first string was heard, `null` when it was missed.
    pub played_s: Option<f64>,
    /// `early`, `late` or `missed` by the criterion; `null` when in time.
    pub fault: Option<&'static str>,
    /// The mistake of time that was planted on it.
    pub planted: Option<&'static str>,
}

/// A stroke nobody asked for.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct ExtraTruth {
    /// Pass.
    pub pass: usize,
    /// When its first string was heard.
    pub played_s: f64,
}

/// Strokes in a row on one chord, with no change between.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct SpanTruth {
    /// Pass.
    pub pass: usize,
    /// Bar of its first stroke.
    pub bar: usize,
    /// Slot of its first stroke.
    pub slot: u32,
    /// Strokes asked for in it.
    pub strokes: usize,
    /// Strokes played in it that have a pitch: chucks have none.
    pub pitched: usize,
    /// The chord asked for.
    pub chord: String,
    /// The chord held.
    pub played: String,
    /// Whether another chord was played **and** some string struck in the span sounded something that the chord asked
    /// for does not.
    pub wrong: bool,
    /// Whether a string was muted, a fret too high or open where it should be muted, in it.
    pub string_fault: bool,
}

/// A mistake of the hands on one stroke.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct HandTruth {
    /// Pass.
    pub pass: usize,
    /// Bar of the section.
    pub bar: usize,
    /// Slot of the bar.
    pub slot: u32,
    /// `wrong_chord`, `wrong_fret`, `muted_string`, `open_string` or `wrong_direction`.
    pub fault: &'static str,
    /// The chord played instead.
    pub chord: Option<String>,
    /// The string as players count: 1 is the lightest.
    pub string: Option<usize>,
    /// Whether this stroke struck that string; true where there is none.
    pub struck: bool,
}
