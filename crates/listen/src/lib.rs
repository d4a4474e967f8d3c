//! Microphone blocks to what was heard, and expected strokes plus what was heard to a verdict.

mod align;
mod decimate;
mod judge;
mod level;
mod listener;
mod median;
mod onset;
mod pass;
mod plan;
mod predict;
mod quality;
mod round_trip;
mod shift;
mod start;
mod strums;
mod sums;
mod take;
mod verdict;
mod window;

pub use align::{Reach, align};
pub use judge::judge;
pub use level::{Hearing, HearingState, Moment};
pub use listener::{Caught, Listener, RATES};
pub use onset::Onset;
pub use pass::PassEar;
pub use plan::{PassPlan, PlannedStroke};
pub use quality::Quality;
pub use round_trip::{RoundTrip, find_round_trip};
pub use strums::{Strum, strums};
pub use take::{TakeOptions, TakeVerdict, judge_take};
pub use verdict::{ChordFinding, Finding, PassVerdict, Reason, StrokeFinding, Verdict};
pub use window::{LARGEST_SHARE_OF_SLOT, allowed_extras, allowed_faults, bias_limit_s, window_s};
