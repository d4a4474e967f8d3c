//! Where the frets lie, in millimetres.

/// Open string length of a steel-string guitar, in millimetres (common practice: 645 to 650).
pub const SCALE_MM: f64 = 650.0;

/// A wire's distance from the nut: x(n) = L(1 − 2^(−n/12)), equal temperament. `fret` counts from the nut.
///
/// A finger stands just behind its wire. The few millimetres between are the same for every finger and drop out of
/// every span, so the wire stands for the finger.
#[must_use]
pub fn wire_mm(fret: u8) -> f64 {
    SCALE_MM * (1.0 - (-f64::from(fret) / 12.0).exp2())
}

/// How far apart two frets of a shape lie, never negative. Frets count from the capo, so that the same shape is
/// narrower with a capo: at the third fret by .8409.
#[must_use]
pub fn span_mm(one: u8, other: u8, capo: u8) -> f64 {
    (wire_mm(other.saturating_add(capo)) - wire_mm(one.saturating_add(capo))).abs()
}
