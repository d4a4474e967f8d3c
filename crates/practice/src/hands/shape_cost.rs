//! How hard a fingering is to hold.

use sixrung_lesson::{Finger, Shape, StringUse};

use super::grip::{Grip, number};
use super::neck::span_mm;

/// What makes a fingering hard to hold, counted apart so that it can be explained.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub struct ShapeParts {
    /// Fingers in use, the thumb included.
    pub fingers: u8,
    /// Whether the little finger is one of them.
    pub little: u8,
    /// Fingers that lie across strings.
    pub barres: u8,
    /// Strings they lie across, all together.
    pub barre_strings: u8,
    /// Barres of another finger than 1, and barres right beside a lighter string that is to ring open.
    pub awkward_barres: u8,
    /// Neighbouring fingers at one fret with the higher-numbered on the heavier string.
    pub crossed: u8,
    /// Fingers that must be kept out of the way between two that stand closer than one fret a finger.
    pub squeezed: u8,
    /// How far neighbouring fingers part beyond one fret a finger, in millimetres, summed.
    pub stretch_mm: f64,
    /// From the lowest to the highest fret in use, in millimetres.
    pub span_mm: f64,
}

/// Room one finger takes along the neck without stretching: about frets 1 to 2 of an open neck (34.4 mm), "one fret a
/// finger" (common practice).
const ROOM_MM: f64 = 35.0;

impl ShapeParts {
    /// Looks at a fingering of a shape.
    #[must_use]
    pub fn of(shape: &Shape, grip: &Grip, capo: u8) -> Self {
        let mut parts = Self { span_mm: grip.span_mm(capo), ..Self::default() };
        for hold in grip.holds() {
            parts.fingers += 1;
            parts.little += u8::from(hold.finger == Finger::Little);
            if hold.is_barre() {
                parts.barres += 1;
                parts.barre_strings += u8::try_from(hold.to - hold.from + 1).unwrap_or(u8::MAX);
                parts.awkward_barres += u8::from(hold.finger != Finger::Index);
                parts.awkward_barres += u8::from(shape.strings.get(hold.to + 1) == Some(&StringUse::Open));
            }
        }
        for (low, high) in grip.fingers().zip(grip.fingers().skip(1)) {
            let fingers_on = number(high.finger) - number(low.finger);
            let span = span_mm(low.fret, high.fret, capo);
            parts.stretch_mm += (span - ROOM_MM * f64::from(fingers_on)).max(0.0);
            parts.squeezed += (fingers_on - 1).saturating_sub(high.fret.saturating_sub(low.fret));
            parts.crossed += u8::from(low.fret == high.fret && low.from > high.to);
        }
        parts
    }

    /// How hard it is to hold, in the units of a change: zero for a shape without fingers, never negative.
    ///
    /// A design choice of ours, not evidence. It orders the fingerings of one shape: that it puts the usual one among
    /// the first is tested on common open chords.
    #[must_use]
    pub fn cost(&self) -> f64 {
        0.25 * f64::from(self.fingers)
            + 0.30 * f64::from(self.little)
            + 0.40 * f64::from(self.barres)
            + 0.15 * f64::from(self.barre_strings)
            + 0.50 * f64::from(self.awkward_barres)
            + 0.50 * f64::from(self.crossed)
            + 0.25 * f64::from(self.squeezed)
            + self.stretch_mm / 50.0
            + self.span_mm / 100.0
    }
}
