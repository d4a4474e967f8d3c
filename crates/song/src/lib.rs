//! The learner's own recording of a song: where its beats lie, and how it is slowed onto the lesson's beats.
//!
//! Phases: samples → [`propose`] (beats found) or [`Taps`] (beats tapped) → [`BeatMap`] (beat ↔ time, a few anchors
//! where the players drift) → [`slow`] (one passage at one tempo: every beat on the frame where the timeline has it) →
//! [`once`] or [`looped`] (its two ends). Pure: no clock, no disk, no thread; whoever calls gives time and takes
//! progress.
//!
//! ```
//! use sixrung_song::{Anchor, BeatMap, Job, Passage, slow};
//! use sixrung_timeline::{Tempo, TempoGrid, Tick};
//!
//! let bpm = |bpm| Tempo::from_bpm(bpm).expect("in range");
//! // Bar 1 begins a quarter of a second in, and the players are a little late on beat 4.
//! let map = BeatMap::new(0.25, bpm(120.0), &[Anchor { beat: 4, at_s: 2.3 }])?;
//! assert!((map.at(2.0) - 1.275).abs() < 1e-9);
//! let sound = vec![[0.0_f32; 2]; 3 * 48_000];
//! let grid = TempoGrid::new(48_000, bpm(60.0), Tick(960));
//! let passage = Passage { grid, from: Tick::ZERO, length: Tick(4 * 960) };
//! let slowed = slow(&Job { sound: &sound, rate: 48_000, map: &map, passage, semitones: 0.0 }, &mut |_| true)?;
//! assert_eq!(slowed.pass(), 4 * 48_000);
//! # Ok::<(), Box<dyn std::error::Error>>(())
//! ```

mod map;
mod onsets;
mod resample;
mod seam;
mod slow;
mod stretch;
mod taps;
mod track;
mod volume;

pub use map::{Anchor, BeatMap, MOST_ANCHORS, MapError};
pub use onsets::{ONSETS_A_SECOND, onset_strength};
pub use resample::resampled;
pub use seam::{looped, once};
pub use slow::{Job, LONGEST_PASS_S, Passage, SlowError, Slowed, slow};
pub use stretch::{PhaseVocoder, Progress, Stretch, StretchError, Stretcher};
pub use taps::{Tapped, Taps};
pub use track::{Proposal, propose};
pub use volume::{TARGET_LUFS, gain_to_target};
