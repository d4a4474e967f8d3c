//! A chord diagram as geometry: the same drawing at every size, on screen and on paper.
//!
//! Strings stand upright, the heavier to the left (to the right when left-handed); the nut is a bar; a finger's
//! number stands in its dot; a barre is one rounded bar; × and ○ stand above. Common practice in print.

use egui::{Pos2, Rect, pos2};
use sixrung_lesson::{Finger, Shape, StringUse};

use crate::theme::Hand;

/// Frets drawn at least.
const LEAST_FRETS: u8 = 4;

/// A diagram laid out in points.
#[derive(Clone, Debug, PartialEq)]
pub struct Diagram {
    /// The x of each string, in the shape's written order (heaviest first), and how thick it is drawn as a share of
    /// the thinnest.
    pub strings: Vec<(f32, f32)>,
    /// The y of each fret wire, the nut or top edge first.
    pub frets: Vec<f32>,
    /// Whether the top edge is the nut.
    pub nut: bool,
    /// The fret the top space shows, to print beside it when the top edge is not the nut.
    pub first_fret: u8,
    /// Dots, barres excluded.
    pub dots: Vec<Dot>,
    /// Barres.
    pub bars: Vec<Bar>,
    /// Signs above the strings.
    pub signs: Vec<Sign>,
    /// A dot's radius.
    pub radius: f32,
}

/// A finger on one string.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Dot {
    /// Its middle.
    pub at: Pos2,
    /// Which finger; `None` when the lesson does not say.
    pub finger: Option<Finger>,
}

/// A finger across several strings.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Bar {
    /// Middle of its end on the heavier side.
    pub from: Pos2,
    /// Middle of its other end.
    pub to: Pos2,
    /// Which finger.
    pub finger: Finger,
}

/// What stands above a string.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Sign {
    /// Its middle.
    pub at: Pos2,
    /// Whether the string rings open; else it is kept silent.
    pub open: bool,
}

/// A finger put down: which, on which strings (from and to, as indices in written order), at which fret.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Placement {
    /// Which finger; `None` when the lesson does not say.
    pub finger: Option<Finger>,
    /// From and to: the same string unless it is a barre.
    pub strings: (usize, usize),
    /// The fret, from the capo.
    pub fret: u8,
}

/// The fingers of a shape in the order they are put down: barres, then from the heaviest string to the lightest. A
/// design choice of ours: the hand finds the bass first.
#[must_use]
pub fn placements(shape: &Shape) -> Vec<Placement> {
    let barres = shape.barres.iter().map(|barre| Placement {
        finger: Some(barre.finger),
        strings: (barre.from, barre.to),
        fret: barre.fret,
    });
    let dots = shape.strings.iter().enumerate().filter_map(|(string, used)| {
        let StringUse::Fret(fret) = *used else { return None };
        let finger = shape.fingers.get(string).copied().flatten();
        (!is_barred(shape, string, fret, finger)).then_some(Placement { finger, strings: (string, string), fret })
    });
    barres.chain(dots).collect()
}

/// Whether a barre holds this string at this fret.
fn is_barred(shape: &Shape, string: usize, fret: u8, finger: Option<Finger>) -> bool {
    shape.barres.iter().any(|barre| {
        barre.fret == fret && (barre.from..=barre.to).contains(&string) && finger.is_none_or(|f| f == barre.finger)
    })
}

/// Lays a shape out so that its fretboard fills `board`. Signs stand above it, outer dots reach a radius beyond it.
#[must_use]
pub fn lay_out(shape: &Shape, board: Rect, hand: Hand) -> Diagram {
    let (first_fret, frets) = fret_window(shape);
    let strings = shape.strings.len();
    #[expect(clippy::cast_precision_loss, reason = "strings are at most eight")]
    let gap = board.width() / (strings.max(2) - 1) as f32;
    let space = board.height() / f32::from(frets);
    let x = |string: usize| {
        #[expect(clippy::cast_precision_loss, reason = "strings are at most eight")]
        let offset = gap * string as f32;
        match hand {
            Hand::Right => board.left() + offset,
            Hand::Left => board.right() - offset,
        }
    };
    let y = |fret: u8| board.top() + space * (f32::from(fret.saturating_sub(first_fret)) + 0.5);
    let radius = (gap * 0.38).min(space * 0.42);
    let mut dots = Vec::new();
    let mut signs = Vec::new();
    for (string, used) in shape.strings.iter().enumerate() {
        let finger = shape.fingers.get(string).copied().flatten();
        match *used {
            StringUse::Fret(fret) if is_barred(shape, string, fret, finger) => {}
            StringUse::Fret(fret) => dots.push(Dot { at: pos2(x(string), y(fret)), finger }),
            StringUse::Open | StringUse::Muted => {
                let at = pos2(x(string), board.top() - radius - gap * 0.1);
                signs.push(Sign { at, open: *used == StringUse::Open });
            }
        }
    }
    let bars = shape.barres.iter().map(|barre| Bar {
        from: pos2(x(barre.from), y(barre.fret)),
        to: pos2(x(barre.to), y(barre.fret)),
        finger: barre.finger,
    });
    Diagram {
        strings: (0..strings).map(|string| (x(string), string_weight(string, strings))).collect(),
        frets: (0..=frets).map(|fret| board.top() + space * f32::from(fret)).collect(),
        nut: first_fret == 1,
        first_fret,
        dots,
        bars: bars.collect(),
        signs,
        radius,
    }
}

/// The first fret shown and how many: from the nut when everything fits there, else from the lowest fret used.
fn fret_window(shape: &Shape) -> (u8, u8) {
    let used = || shape.strings.iter().filter_map(|string| string.fret()).filter(|fret| *fret > 0);
    let (lowest, highest) = (used().min().unwrap_or(1), used().max().unwrap_or(1));
    if highest <= LEAST_FRETS { (1, LEAST_FRETS) } else { (lowest, (highest - lowest + 1).max(LEAST_FRETS)) }
}

/// Heavier strings are drawn thicker: from twice the thinnest down to it.
#[expect(clippy::cast_precision_loss, reason = "strings are at most eight")]
fn string_weight(string: usize, strings: usize) -> f32 {
    2.0 - string as f32 / (strings.max(2) - 1) as f32
}

#[cfg(test)]
mod tests;
