//! A shape in the hand: which finger stops which strings.

use std::ops::RangeInclusive;

use sixrung_lesson::{Barre, Finger, Shape, StringUse};

use super::neck::span_mm;

/// What one finger does.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct Hold {
    /// Which finger.
    pub finger: Finger,
    /// Its fret, from the capo.
    pub fret: u8,
    /// The string it starts on, as an index in written order (heavier side).
    pub from: usize,
    /// The string it ends on, as an index in written order, inclusive; the same string unless it is a barre.
    pub to: usize,
}

impl Hold {
    /// Whether it lies across several strings.
    #[must_use]
    pub const fn is_barre(&self) -> bool {
        self.from < self.to
    }

    /// Whether it has a string in common with another.
    pub(super) const fn shares_a_string(&self, other: &Self) -> bool {
        self.from <= other.to && other.from <= self.to
    }

    pub(super) const fn is_same_strings(&self, other: &Self) -> bool {
        self.from == other.from && self.to == other.to
    }
}

/// Every stopped string of a shape given to a finger. One hold a finger, thumb first, then 1 to 4.
#[derive(Clone, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct Grip {
    holds: Vec<Hold>,
}

impl Grip {
    /// The fingering the teacher gave; `None` where a stopped string has no finger, or one finger is at two frets.
    ///
    /// The teacher's fingering is taken as it is, however far it reaches.
    #[must_use]
    pub fn given(shape: &Shape) -> Option<Self> {
        let mut fingers = Vec::with_capacity(shape.strings.len());
        for (string, stopped) in shape.strings.iter().enumerate() {
            match stopped {
                StringUse::Fret(_) => fingers.push(Some(named_finger(shape, string)?)),
                StringUse::Open | StringUse::Muted => fingers.push(None),
            }
        }
        Self::from_fingers(&shape.strings, &fingers)
    }

    /// One finger a stopped string; the same finger on several strings of one fret lies across them.
    pub(super) fn from_fingers(strings: &[StringUse], fingers: &[Option<Finger>]) -> Option<Self> {
        let mut holds: Vec<Hold> = Vec::new();
        for (string, (stopped, finger)) in strings.iter().zip(fingers).enumerate() {
            let (StringUse::Fret(fret), Some(finger)) = (*stopped, *finger) else { continue };
            match holds.iter_mut().find(|hold| hold.finger == finger) {
                Some(hold) if hold.fret == fret => hold.to = string,
                Some(_) => return None,
                None => holds.push(Hold { finger, fret, from: string, to: string }),
            }
        }
        holds.sort();
        Some(Self { holds })
    }

    /// What each finger in use does: thumb first, then 1 to 4.
    #[must_use]
    pub fn holds(&self) -> &[Hold] {
        &self.holds
    }

    /// What one finger does; `None` where it is not in use.
    #[must_use]
    pub fn hold(&self, finger: Finger) -> Option<&Hold> {
        self.holds.iter().find(|hold| hold.finger == finger)
    }

    /// The same shape, fingered this way: for drawing it, or writing it into a lesson.
    #[must_use]
    pub fn on(&self, shape: &Shape) -> Shape {
        let finger = |string: usize| {
            let fret = shape.strings[string].fret()?;
            let covers = |hold: &&Hold| hold.fret == fret && (hold.from..=hold.to).contains(&string);
            self.holds.iter().find(covers).map(|hold| hold.finger)
        };
        let mut barres: Vec<Barre> = self
            .holds
            .iter()
            .filter(|hold| hold.is_barre())
            .map(|hold| Barre { fret: hold.fret, from: hold.from, to: hold.to, finger: hold.finger })
            .collect();
        barres.sort_by_key(|barre| barre.fret);
        Shape { fingers: (0..shape.strings.len()).map(finger).collect(), barres, ..shape.clone() }
    }

    /// Where the hand may lie along the neck: the frets that finger 1 may own (one fret a finger: common practice).
    ///
    /// Each finger in use is drawn in as far as finger 1 or stretched by one fret at most; finger 1 itself leaves its
    /// fret by one at most, and not at all where it lies across strings. Open chords can thus be taken without a shift.
    /// How far a finger leaves its own fret is a design choice of ours. `None` where only the thumb or nothing is used.
    pub(super) fn position(&self) -> Option<RangeInclusive<u8>> {
        let reach = |hold: &Hold| {
            let (fret, fingers_below) = (i16::from(hold.fret), i16::from(number(hold.finger)) - 1);
            match (hold.finger, hold.is_barre()) {
                (Finger::Index, true) => (fret, fret),
                (Finger::Index, false) => (fret - 1, fret + 1),
                _ => (fret - fingers_below - 1, fret),
            }
        };
        let first = reach(self.fingers().next()?).1;
        let lowest = self.fingers().map(|hold| reach(hold).0).fold(1, i16::max);
        let highest = self.fingers().map(|hold| reach(hold).1).fold(first, i16::min).max(1);
        // A hand that is stretched further lies where its lowest finger is.
        let lowest = lowest.min(highest);
        let fret = |fret: i16| u8::try_from(fret).unwrap_or(u8::MAX);
        Some(fret(lowest)..=fret(highest))
    }

    /// Fingers 1 to 4.
    pub(super) fn fingers(&self) -> impl Iterator<Item = &Hold> + Clone {
        self.holds.iter().filter(|hold| hold.finger != Finger::Thumb)
    }

    /// How far the hand reaches along the neck, in millimetres; the thumb reaches over it and does not count.
    #[must_use]
    pub fn span_mm(&self, capo: u8) -> f64 {
        let frets = || self.fingers().map(|hold| hold.fret);
        frets().min().zip(frets().max()).map_or(0.0, |(low, high)| span_mm(low, high, capo))
    }
}

/// The finger the teacher named for a string: in its own place, or by a barre that stops it.
pub(super) fn named_finger(shape: &Shape, string: usize) -> Option<Finger> {
    let fret = shape.strings.get(string)?.fret()?;
    let under = |barre: &&Barre| barre.fret == fret && (barre.from..=barre.to).contains(&string);
    let named = shape.fingers.get(string).copied().flatten();
    named.or_else(|| shape.barres.iter().find(under).map(|barre| barre.finger))
}

/// 1 to 4, as printed in a dot; 0 for the thumb.
pub(super) const fn number(finger: Finger) -> u8 {
    match finger {
        Finger::Thumb => 0,
        Finger::Index => 1,
        Finger::Middle => 2,
        Finger::Ring => 3,
        Finger::Little => 4,
    }
}
