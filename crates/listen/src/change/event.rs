//! What is heard of a change drill.

/// One of the two chords of a drill.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum DrillChord {
    /// The one named first.
    First,
    /// The other.
    Second,
}

impl DrillChord {
    /// 0 or 1.
    #[must_use]
    pub const fn index(self) -> usize {
        match self {
            Self::First => 0,
            Self::Second => 1,
        }
    }
}

/// What a stroke sounded.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum HeardChord {
    /// The drill's first chord.
    First,
    /// The drill's second chord.
    Second,
    /// It can't be told: never counted against the player.
    Unsure,
    /// Surely none of the two: another chord, or strings that mostly do not ring.
    Neither,
}

impl HeardChord {
    /// Which of the two it is, where it is one.
    #[must_use]
    pub const fn drilled(self) -> Option<DrillChord> {
        match self {
            Self::First => Some(DrillChord::First),
            Self::Second => Some(DrillChord::Second),
            Self::Unsure | Self::Neither => None,
        }
    }
}

/// Something heard. Times in seconds on the listener's clock.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum ChangeEvent {
    /// A stroke.
    Stroke {
        /// When its first string sounded.
        at_s: f64,
        /// What it sounded.
        chord: HeardChord,
    },
    /// A change was done.
    Changed {
        /// The chord left.
        from: DrillChord,
        /// The chord reached.
        to: DrillChord,
        /// From the last stroke of the one to the first clean stroke of the other, in seconds.
        took_s: f64,
        /// Attempts between them that sounded neither.
        botched: u32,
    },
}
