//! What the performer plays, and what the judge expects.

use sixrung_lesson::{Pitch, Tick};

use crate::backing::in_bass_octave;
use crate::clicks::Clicks;
use crate::event::{Cue, Event, EventKind, ExpectedStroke};
use crate::frames::TempoGrid;

/// One tempo's worth of playing: an intro once, then a cycle over and over.
///
/// Between two passes either nothing happens (the cycle is the pass, the count-in is the intro), or each cycle is
/// count-in, pass and rest.
#[derive(Clone, Debug, PartialEq)]
pub struct Timeline {
    /// Chosen by whoever compiled it, reported back by the performer.
    pub id: u64,
    /// Rate, tempo and beat.
    pub grid: TempoGrid,
    /// Length of the intro; may be zero.
    pub intro: Tick,
    /// The intro's events, by time.
    pub intro_events: Box<[Event]>,
    /// Length of the cycle; never zero.
    pub cycle: Tick,
    /// The cycle's events, by time. No event's delay reaches past the end of the cycle.
    pub cycle_events: Box<[Event]>,
    /// Where in the cycle the pass begins.
    pub pass_at: Tick,
    /// How long the pass is.
    pub pass: Tick,
    /// Cycles to play before stopping by itself; `None` for ever.
    pub passes: Option<u32>,
}

/// A compiled stretch: the part for the performer, the cues for the stand, the expected strokes for the judge.
#[derive(Clone, Debug, PartialEq)]
pub struct Plan {
    /// For the performer.
    pub timeline: Timeline,
    /// For the stand, by time.
    pub cues: Vec<Cue>,
    /// For the judge, by time.
    pub expected: Vec<ExpectedStroke>,
}

/// What happens between two passes.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Between {
    /// The next pass follows on the last one's heels.
    Seamless,
    /// So many bars of rest, then the count-in again.
    Rest {
        /// Bars of rest, silent but for the click's absence.
        bars: u8,
    },
}

/// How a score is to be compiled.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Request {
    /// Given to the timeline.
    pub id: u64,
    /// Frames a second, 8,000 to 192,000.
    pub rate: u32,
    /// The tempo.
    pub tempo: sixrung_lesson::Tempo,
    /// Bars counted before playing, 0 to 4.
    pub count_in_bars: u8,
    /// Between passes.
    pub between: Between,
    /// Passes to play; `None` for ever.
    pub passes: Option<u32>,
    /// How the click goes.
    pub clicks: Clicks,
    /// Whether a bass and brushes play along.
    pub backing: bool,
}

impl Timeline {
    /// The same without the guitar: count-in, clicks, bass and brushes stay.
    #[must_use]
    pub fn without_strums(mut self) -> Self {
        let is_strum = |kind: &EventKind| {
            matches!(kind, EventKind::Pluck { .. } | EventKind::PalmMuted { .. } | EventKind::Chuck { .. })
        };
        for events in [&mut self.intro_events, &mut self.cycle_events] {
            *events = events.iter().filter(|event| !is_strum(&event.kind)).cloned().collect();
        }
        self
    }

    /// The same, so many semitones higher: as with a capo, or on an instrument tuned down. The bass stays in its octave.
    /// A pitch that would leave the range of MIDI keys, 0 to 127, is kept at its end.
    #[must_use]
    pub fn transposed(mut self, semitones: i8) -> Self {
        let moved = |Pitch(key): Pitch| {
            let key = (i16::from(key) + i16::from(semitones)).clamp(0, 127);
            Pitch(u8::try_from(key).expect("clamped"))
        };
        for event in self.intro_events.iter_mut().chain(&mut self.cycle_events) {
            match &mut event.kind {
                EventKind::Pluck { pitch, .. } => *pitch = moved(*pitch),
                EventKind::Bass { pitch, .. } => *pitch = in_bass_octave(moved(*pitch)),
                _ => {}
            }
        }
        self
    }
}
