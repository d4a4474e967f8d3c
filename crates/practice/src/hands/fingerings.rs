//! Every fingering of a shape that a hand can sensibly take.

use sixrung_lesson::{Finger, Shape, StringUse};

use super::grip::{Grip, Hold, named_finger};
use super::neck::span_mm;
use super::shape_cost::ShapeParts;

const FINGERS: [Finger; 4] = [Finger::Index, Finger::Middle, Finger::Ring, Finger::Little];

/// The fingerings of a shape, the easiest to hold first: the teacher's alone where one is given, else all that a hand
/// can sensibly take, in agreement with whatever fingers are named. Empty where there is none.
///
/// Fingers keep their order along the neck; of two at one fret the lower-numbered one is on the heavier string,
/// except that finger 1 may stand between 2 and a lighter string (A with finger 1 in the middle). Fingers 1 and 3 lie
/// across strings, where none between is to ring lower. The thumb is used only where it is named. Common practice;
/// how far two fingers part is a design choice of ours.
#[must_use]
pub fn fingerings(shape: &Shape, capo: u8) -> Vec<Grip> {
    match Grip::given(shape) {
        Some(grip) => vec![grip],
        None => all_fingerings(shape, capo, Named::Kept),
    }
}

/// Whether the fingers that a shape names bind.
#[derive(Clone, Copy, PartialEq, Eq)]
pub(super) enum Named {
    Kept,
    Ignored,
}

/// As [`fingerings`], though the teacher gave one. A thumb that is named stays the thumb's.
pub(super) fn all_fingerings(shape: &Shape, capo: u8, named: Named) -> Vec<Grip> {
    let mut stopped: Vec<(u8, usize)> = shape
        .strings
        .iter()
        .enumerate()
        .filter_map(|(string, used)| match used {
            StringUse::Fret(fret) => Some((*fret, string)),
            StringUse::Open | StringUse::Muted => None,
        })
        .collect();
    stopped.sort_unstable();
    let mut search =
        Search { shape, capo, named, stopped, fingers: vec![None; shape.strings.len()], found: Vec::new() };
    search.give(0);
    let mut found = search.found;
    found.sort_by(|one, other| {
        let cost = |grip: &Grip| ShapeParts::of(shape, grip, capo).cost();
        cost(one).total_cmp(&cost(other)).then_with(|| one.cmp(other))
    });
    found
}

struct Search<'a> {
    shape: &'a Shape,
    capo: u8,
    named: Named,
    /// Fret and string, the lowest fret first, of one fret the heaviest string first.
    stopped: Vec<(u8, usize)>,
    fingers: Vec<Option<Finger>>,
    found: Vec<Grip>,
}

impl Search<'_> {
    /// Gives the `next`th stopped string to each finger that can take it, and goes on.
    fn give(&mut self, next: usize) {
        let Some(&(_, string)) = self.stopped.get(next) else {
            if let Some(grip) = Grip::from_fingers(&self.shape.strings, &self.fingers)
                && is_sensible(&self.shape.strings, &grip, self.capo)
            {
                self.found.push(grip);
            }
            return;
        };
        let named =
            named_finger(self.shape, string).filter(|finger| self.named == Named::Kept || *finger == Finger::Thumb);
        for finger in FINGERS.into_iter().chain([Finger::Thumb]) {
            let wanted = named.map_or(finger != Finger::Thumb, |named| named == finger);
            if wanted && self.can_take(next, finger) {
                self.fingers[string] = Some(finger);
                self.give(next + 1);
                self.fingers[string] = None;
            }
        }
    }

    /// A finger takes another string only at its own fret, right after the last one given: else its barre would have
    /// another finger under it.
    fn can_take(&self, next: usize, finger: Finger) -> bool {
        let last = self.stopped[..next].iter().rposition(|(_, string)| self.fingers[*string] == Some(finger));
        last.is_none_or(|last| last + 1 == next && self.stopped[last].0 == self.stopped[next].0)
    }
}

fn is_sensible(strings: &[StringUse], grip: &Grip, capo: u8) -> bool {
    let holds: Vec<&Hold> = grip.fingers().collect();
    let pairs =
        || holds.iter().enumerate().flat_map(|(index, low)| holds[index + 1..].iter().map(move |high| (low, high)));
    grip.holds().iter().all(|hold| can_lie(strings, hold)) && pairs().all(|(low, high)| can_stand(low, high, capo))
}

/// Whether a finger may lie across its strings: nothing under it is to ring open or lower.
fn can_lie(strings: &[StringUse], hold: &Hold) -> bool {
    // How many strings each finger covers at most: common practice, from memory (the thumb two heavy ones).
    let most = match hold.finger {
        Finger::Index => strings.len(),
        Finger::Ring => 4,
        Finger::Thumb => 2,
        Finger::Middle | Finger::Little => 1,
    };
    hold.to - hold.from < most
        && strings[hold.from..=hold.to].iter().all(|string| string.fret().is_none_or(|fret| fret >= hold.fret))
}

/// Whether two fingers, the lower-numbered first, can stand so.
fn can_stand(low: &Hold, high: &Hold, capo: u8) -> bool {
    let crossed = low.fret == high.fret && low.from > high.to;
    let may_cross = (low.finger, high.finger) == (Finger::Index, Finger::Middle) && low.from == high.to + 1;
    low.fret <= high.fret
        && span_mm(low.fret, high.fret, capo) <= reach_mm(low.finger, high.finger)
        && (!crossed || may_cross && !low.is_barre() && !high.is_barre())
}

/// How far two fingers part along the neck. A design choice of ours, not evidence: fingers 1 and 2 as far as frets 1
/// to 3 of an open neck (66.9 mm), the others, less free, half a fret beyond one fret a finger; the whole hand 110 mm.
fn reach_mm(low: Finger, high: Finger) -> f64 {
    match (low, high) {
        (Finger::Index, Finger::Middle) => 70.0,
        (Finger::Index, Finger::Ring) => 85.0,
        (Finger::Index, _) => 110.0,
        (Finger::Middle, Finger::Little) => 80.0,
        _ => 50.0,
    }
}
