//! Levels and parts.

/// A level relative to full scale or to another level, in decibels.
#[derive(Clone, Copy, Debug, PartialEq, PartialOrd)]
pub struct Decibels(pub f32);

impl Decibels {
    /// No change.
    pub const UNITY: Self = Self(0.0);
    /// Nothing at all.
    pub const SILENCE: Self = Self(f32::NEG_INFINITY);
    /// The most a gain may raise.
    pub const MAX_GAIN: Self = Self(12.0);

    /// Below this a gain is silence.
    const FLOOR: f32 = -80.0;

    /// As a factor, between 0 and that of [`Self::MAX_GAIN`]. Anything that is no number is silence.
    ///
    /// # Real-time
    /// Arithmetic only.
    #[must_use]
    pub fn factor(self) -> f32 {
        if self.0 > Self::FLOOR { 10.0_f32.powf(self.0.min(Self::MAX_GAIN.0) / 20.0) } else { 0.0 }
    }
}

/// What is mixed together.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Part {
    /// The metronome.
    Click,
    /// The plucked strings.
    Guitar,
    /// A recording played once.
    Recording,
    /// The learner's own recording of the song.
    Song,
    /// The bass of the backing.
    Bass,
    /// Its brushes.
    Brushes,
}

impl Part {
    /// Every part, in mixing order.
    pub const ALL: [Self; 6] = [Self::Click, Self::Guitar, Self::Recording, Self::Song, Self::Bass, Self::Brushes];

    /// Whether it is music that a timeline plays, and is levelled with it. A learner's own recording is levelled by itself.
    pub(crate) const fn is_levelled(self) -> bool {
        matches!(self, Self::Guitar | Self::Bass | Self::Brushes)
    }

    /// Its place in [`Self::ALL`].
    ///
    /// # Real-time
    /// A constant.
    pub(crate) const fn index(self) -> usize {
        match self {
            Self::Click => 0,
            Self::Guitar => 1,
            Self::Recording => 2,
            Self::Song => 3,
            Self::Bass => 4,
            Self::Brushes => 5,
        }
    }
}
