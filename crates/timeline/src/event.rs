//! What sounds, and when.

use sixrung_lesson::{Action, Direction, Pitch, Tick};

/// Where in the bar a click falls.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum ClickKind {
    /// The first beat of a bar.
    Bar,
    /// Another beat.
    Beat,
    /// Between beats, at slow tempi or when asked for.
    Between,
    /// A later beat of a count-in, from 1, told from the others by its pitch.
    Count(u8),
}

/// What a brush does on the drum's skin.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum Brush {
    /// Swept over it.
    Sweep,
    /// Laid down on it.
    Tap,
}

/// What an event does.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum EventKind {
    /// A click.
    Click(ClickKind),
    /// A string is plucked.
    Pluck {
        /// Index in written order, 0 the heaviest.
        string: u8,
        /// What it sounds, capo included.
        pitch: Pitch,
        /// 0 to 1.
        velocity: f32,
        /// Which way the hand goes.
        direction: Direction,
    },
    /// A string is plucked while the edge of the palm lies on it at the bridge: short and dull, but with a pitch.
    PalmMuted {
        /// Index in written order, 0 the heaviest.
        string: u8,
        /// What it sounds, capo included.
        pitch: Pitch,
        /// 0 to 1.
        velocity: f32,
        /// Which way the hand goes.
        direction: Direction,
    },
    /// A deadened string is struck.
    Chuck {
        /// Index in written order, 0 the heaviest.
        string: u8,
        /// 0 to 1.
        velocity: f32,
        /// Which way the hand goes.
        direction: Direction,
    },
    /// The bass sounds, until it sounds again or is stopped.
    Bass {
        /// What it sounds.
        pitch: Pitch,
        /// 0 to 1.
        velocity: f32,
    },
    /// The bass is stopped.
    BassStop,
    /// A brush.
    Brush {
        /// What it does.
        brush: Brush,
        /// 0 to 1.
        velocity: f32,
    },
    /// A hand stops the string: quickly, without a click.
    Damp {
        /// Index in written order, 0 the heaviest.
        string: u8,
    },
}

/// One event. Its time is the frame of `at`, plus `delay_ns`.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Event {
    /// Tick from the start of its segment (intro or cycle).
    pub at: Tick,
    /// Nanoseconds after that tick: how far down the sweep of a stroke this string lies.
    pub delay_ns: u32,
    /// What happens.
    pub kind: EventKind,
}

/// A stroke the learner is asked for. Its time is when its **first** string sounds, here as in playback and export.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct ExpectedStroke {
    /// Tick from the start of the pass.
    pub at: Tick,
    /// Index of its bar in the score.
    pub bar: usize,
    /// Slot within the bar, from 0.
    pub slot: u32,
    /// What the hand does; always one that sounds.
    pub action: Action,
    /// Which way.
    pub direction: Direction,
    /// Index of the shape in the score; `None` for no chord.
    pub shape: Option<usize>,
    /// The shorter of the two slots beside it: the timing window is never more than 0.4 of this on either side.
    pub slot_length: Tick,
}

/// When the stand shows the chord that comes.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Cue {
    /// Index in the score's changes.
    pub change: usize,
    /// When it sounds, in ticks from the start of the pass.
    pub at: Tick,
    /// Since when it is named on the sheet, in ticks before `at`; at least 1.3 s (Furneaux & Land 1999: the eye leads
    /// the hand by about a second, 0.7 to 1.3).
    pub ahead: Tick,
}
