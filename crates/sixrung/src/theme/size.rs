//! The type scale, and how large things must be to be read from where the player sits.

/// A step of the type scale, in points before the scale and distance of the look are applied.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Step {
    /// 13: percents, keys.
    Small,
    /// 15: labels.
    Label,
    /// 17: sentences.
    Body,
    /// 20: tempi, chord names over words.
    Lead,
    /// 25: titles, counts between beats.
    Title,
    /// 32: sung words, counts on the beat, the rung one stands on.
    Large,
    /// 44: the chord after next, a result.
    Huge,
    /// 60: the next chord.
    Next,
    /// 92: the chord now.
    Now,
}

impl Step {
    /// Points.
    #[must_use]
    pub const fn points(self) -> f32 {
        match self {
            Self::Small => 13.0,
            Self::Label => 15.0,
            Self::Body => 17.0,
            Self::Lead => 20.0,
            Self::Title => 25.0,
            Self::Large => 32.0,
            Self::Huge => 44.0,
            Self::Next => 60.0,
            Self::Now => 92.0,
        }
    }
}

/// Inter's capital height as a share of its size (its OS/2 table: 1490 of 2048 units).
const CAP_HEIGHT: f32 = 1490.0 / 2048.0;
/// Angle the capitals read while playing should at least subtend, in minutes of arc: 20 to 22 is preferred for
/// continuous reading in the display ergonomics literature, 16 the minimum.
const READING_ARCMIN: f32 = 20.0;
/// The distance the type scale is drawn for, in metres.
const DRAWN_FOR_M: f32 = 0.6;

/// Height of capitals that subtend `arcmin` minutes of arc from `distance_m` metres, in millimetres: `2 · D · tan(θ/2)`.
#[must_use]
pub fn cap_height_mm(distance_m: f32, arcmin: f32) -> f32 {
    2.0 * distance_m * 1000.0 * (arcmin / 60.0 / 2.0).to_radians().tan()
}

/// The smallest font size, in points, for what is read while playing from `distance_m` metres on a screen with so many
/// points to a millimetre.
#[must_use]
pub fn glance_pt(distance_m: f32, points_per_mm: f32) -> f32 {
    cap_height_mm(distance_m, READING_ARCMIN) * points_per_mm / CAP_HEIGHT
}

/// By how much things grow when read from `distance_m` metres rather than from where they are drawn for.
#[must_use]
pub fn reading_factor(distance_m: f32) -> f32 {
    distance_m / DRAWN_FOR_M
}
