//! The learner's own recording of the song on the stand: read, marked, slowed for the rungs it is wanted at.

mod kept;
mod loaded;
mod marks;
mod placed;
mod preview;
mod worker;

pub use kept::Kept;
pub(crate) use kept::key;
pub use loaded::{Loaded, PEAKS_A_SECOND, Peak};
pub use marks::{MOST_SEMITONES, Marks};
pub(crate) use placed::{Placed, wanted};
pub(crate) use preview::preview;
pub(crate) use worker::{Answer, Order, Worker, note};
