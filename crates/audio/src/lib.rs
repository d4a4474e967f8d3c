//! Events to samples: the click, the plucked strings and the performer that plays them, live and offline alike.
//!
//! Phases: [`sixrung_timeline::Timeline`] → [`Prepared`] (off the audio thread: strings tuned, tables drawn) →
//! [`Performer::process`] (on it: no allocation, no lock, no system call) → interleaved stereo. The two ends of
//! [`handover::pair`] are all that the window and the audio thread share. Pure: no clock but the frames put out, no
//! devices, no unseeded randomness.
//!
//! ```
//! use sixrung_audio::{Render, RenderOptions};
//! use sixrung_timeline::{ClickKind, Event, EventKind, Tempo, TempoGrid, Tick, Timeline};
//!
//! let click = |at, kind| Event { at: Tick(at), delay_ns: 0, kind: EventKind::Click(kind) };
//! let timeline = Timeline {
//!     id: 1,
//!     grid: TempoGrid::new(48_000, Tempo::from_bpm(120.0).expect("in range"), Tick(960)),
//!     intro: Tick::ZERO,
//!     intro_events: Box::new([]),
//!     cycle: Tick(1920),
//!     cycle_events: Box::new([click(0, ClickKind::Bar), click(960, ClickKind::Beat)]),
//!     pass_at: Tick::ZERO,
//!     pass: Tick(1920),
//!     passes: Some(1),
//! };
//! let sound = Render::new(timeline, &RenderOptions { tail_s: 0.5, ..RenderOptions::default() })?.samples();
//! assert_eq!(sound.len(), 2 * (48_000 + 24_000));
//! assert!(sound[0] != 0.0, "a click begins on its frame");
//! # Ok::<(), sixrung_audio::RenderError>(())
//! ```

mod band;
mod bass;
mod body;
mod brush;
mod chuck;
mod click;
mod ftz;
mod guitar;
pub mod handover;
mod instrument;
mod kit;
mod limiter;
mod loudness;
mod mixer;
mod noise;
mod performer;
mod playhead;
mod prepared;
mod registers;
mod render;
mod shelf;
mod shots;
mod slow;
mod smooth;
mod song;
mod string;
mod true_peak;
mod units;

pub use click::ClickSound;
pub use ftz::flush_denormals;
pub use handover::{Command, Controls, PerformerEnd, Report};
pub use instrument::{Instrument, Strings};
pub use kit::Kit;
pub use loudness::MUSIC_LUFS;
pub use performer::Performer;
pub use prepared::Prepared;
pub use render::{Render, RenderError, RenderOptions};
pub use slow::slowed;
pub use song::Song;
pub use units::{Decibels, Part};
