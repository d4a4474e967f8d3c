//! Microphone blocks to what was heard, and expected strokes plus what was heard to a verdict.
//!
//! Phases: [`Listener`] turns blocks of sound into [`Onset`]s (what the last moments do not explain) and [`Moment`]s
//! (levels) → [`PassEar`] gathers those of one pass → [`strums`] makes one strum a slot of them, guided by the
//! [`PassPlan`] → [`align`] pairs strums and strokes → [`judge`] says [`Verdict`]. [`judge_take`] does all of it for a
//! recording, with the same parts. Pure: no clock, no devices; time is the frame index of the take.
//!
//! ```
//! use sixrung_listen::{PassPlan, Reason, TakeOptions, Verdict, judge_take};
//! # use sixrung_lesson::{Action, Direction};
//! # use sixrung_listen::PlannedStroke;
//! # let stroke = |at_s| PlannedStroke {
//! #     at_s, slot_s: 0.5, bar: 0, slot: 0, action: Action::Strum, direction: Direction::Down, shape: None,
//! # };
//! let plan = PassPlan { starts_s: 0.0, length_s: 2.0, strokes: [0.0, 0.5, 1.0, 1.5].map(stroke).to_vec(), ..PassPlan::default() };
//! let options = TakeOptions { starts_at_s: Some(0.2), ..TakeOptions::default() };
//! let judged = judge_take(&[0.0; 110_250], 44_100, &[plan], &options).expect("44.1 kHz is a rate we take");
//! assert_eq!(judged.passes[0].verdict, Verdict::NotJudged(Reason::Silence));
//! ```

mod align;
mod calibrate;
mod certainty;
mod change;
mod check;
mod chord;
mod decimate;
mod evidence;
mod hann;
mod judge;
mod learned;
mod level;
mod listener;
mod median;
mod onset;
mod own;
mod pass;
mod plan;
mod predict;
mod quality;
mod round_trip;
mod shift;
mod sound;
mod start;
mod start_strokes;
mod strums;
mod sums;
mod take;
mod trees;
mod tuner;
mod verdict;
mod window;

pub use align::{Reach, align};
pub use calibrate::{Loopback, Measurement, NotMeasured, Probe, Recording};
pub use change::{ChangeEar, ChangeEvent, DrillChord, HeardChord, hear_changes};
pub use check::SoundCheck;
pub use chord::{CHORD_FEATURES, DescribedSpan, chord_features};
pub use evidence::{EXTRA_FEATURES, FEATURES, Places, SLOT_FEATURES, strum_features};
pub use judge::judge;
pub use learned::{
    LEARNED_FEATURES, LEARNED_VERSION, LearnError, LearnGuide, LearnPlan, LearnProgress, LearnStep, LearnTask,
    LearnTrouble, LearnWait, Learned, LearnedDirection, LearnedShape, LearnedWindow, Way, learn_take,
};
pub use level::{Hearing, HearingState, Moment};
pub use listener::{Caught, Listener, RATES, Stretch};
pub use onset::Onset;
pub use own::{Learned as LearnedPath, Learning, Leftover, OwnPath};
pub use pass::PassEar;
pub use plan::{PassPlan, PlannedShape, PlannedStroke};
pub use quality::{Quality, own_sound_db};
pub use round_trip::{RoundTrip, find_round_trip};
pub use sound::PassSound;
pub use start_strokes::StartEar;
pub use strums::{Strum, strums};
pub use take::{TakeOptions, TakeVerdict, hear_take, judge_take};
pub use tuner::{Reading, Sounding, Tuner};
pub use verdict::{
    ChordFinding, Finding, PassVerdict, Processing, Reason, StringFault, StringFinding, StrokeFinding, Verdict,
};
pub use window::{LARGEST_SHARE_OF_SLOT, allowed_extras, allowed_faults, bias_limit_s, window_s};
