//! The change drill: two chords to and fro at the player's own pace, and how long each change takes.
//!
//! Phases: [`strokes`] finds strokes among the listener's onsets, with no score → the chord ear asks of each whether it
//! sounds the one chord or the other, and [`ring`] whether it rings at all → [`turns`] makes changes of that: from the last
//! stroke of the old chord to the first clean one of the new. Blocks may have any length: the outcome is the same.
//!
//! Memory is asked for only where something rises that may be a stroke, as when a pass is judged; other blocks cost none
//! once the longest has been seen.

mod event;
mod ring;
mod strokes;
mod take;
mod turns;

use std::collections::VecDeque;
use std::fmt;
use std::sync::Arc;

pub use event::{ChangeEvent, DrillChord, HeardChord};
pub use take::hear_changes;

use crate::chord::{PairEar, Told};
use crate::learned::Learned;
use crate::listener::Caught;
use crate::plan::PlannedShape;
use crate::sound::PassSound;
use crate::strums::Strum;
use crate::verdict::ChordFinding;

use ring::ring_db;
use strokes::{KNOWN_AFTER_S, Strokes};
use turns::{Heard, Turns};

/// So long after a stroke its chord is looked at, in seconds: the third of the lengths of a look, the attack before it
/// and the lift after it.
const SOON_S: f64 = 0.37;
/// What could not be told then is looked at again after so long, if it still rings undisturbed, in seconds: two of the
/// longest looks.
const LATER_S: f64 = 0.86;
/// What the listener has reported lags behind its sound by less than this, in seconds: 28 ticks of a millisecond and the
/// filter before them.
const ONSETS_LAG_S: f64 = 0.05;
/// At a stream's start its noise sets in, which is no stroke: so much is not listened to, in seconds.
const START_S: f64 = 0.25;
/// Sound is kept for so long behind the newest, and dropped when it is twice that, in seconds.
const KEPT_S: f64 = 3.0;
/// A stroke is rather the one chord than the other when the log-odds speak for it by so much more. Right strokes of made
/// drills (seed 71000) lie at 5 and more, most of them at 7.
const LEANS_BY: f32 = 3.0;
/// A stroke that dies away by so much within a sixth of a second is no chord, in decibels: of 1,355 clean strokes of the
/// same drills none falls by 6, of deadened ones most by 14 and more.
const DIES_DB: f32 = -10.0;
/// And one of whose strings so many are silent.
const MOSTLY_SILENT: f32 = 0.5;

/// Listens to a change drill. Feed it all that a listener catches.
pub struct ChangeEar {
    strokes: Strokes,
    sound: PassSound,
    pair: PairEar,
    turns: Turns,
    /// Strokes whose chord is not yet told, by time; and whether they were looked at once.
    open: VecDeque<(Strum, bool)>,
    /// Where the next stroke may begin, in seconds on the take's clock.
    from_s: f64,
    events: Vec<ChangeEvent>,
}

impl fmt::Debug for ChangeEar {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.debug_struct("ChangeEar").field("turns", &self.turns).finish_non_exhaustive()
    }
}

impl ChangeEar {
    /// An ear for these two shapes, capo and tuning in them; `learned` is how this player's shapes sound on this guitar.
    #[must_use]
    pub fn new(shapes: [PlannedShape; 2], learned: Option<Arc<Learned>>) -> Self {
        Self {
            strokes: Strokes::with_room(),
            sound: PassSound::with_room(2.0 * KEPT_S + 1.0),
            pair: PairEar::new(shapes, learned),
            turns: Turns::default(),
            open: VecDeque::with_capacity(8),
            from_s: f64::NEG_INFINITY,
            events: Vec::with_capacity(8),
        }
    }

    /// Takes what the listener caught next; gives what is told since the last time, by time. A stroke's chord is told
    /// 0.42 s after it, or 0.91 s when it could not be told at once.
    pub fn take_in(&mut self, caught: Caught<'_>) -> &[ChangeEvent] {
        self.events.clear();
        if caught.moments.iter().any(|moment| moment.gap) {
            self.lost();
        }
        if self.from_s == f64::NEG_INFINITY {
            self.from_s = caught.sound.at_s + START_S;
        }
        self.strokes.take_in(caught.onsets);
        let (at_s, rate) = (caught.sound.at_s, caught.sound.rate);
        // A block may be longer than what is kept: it is gone through in pieces.
        #[expect(clippy::cast_possible_truncation, clippy::cast_sign_loss, reason = "a second of samples")]
        let piece = (rate as usize).max(1);
        for (index, samples) in caught.sound.samples.chunks(piece).enumerate() {
            #[expect(clippy::cast_precision_loss, reason = "a block")]
            self.sound.append(at_s + (index * piece) as f64 / rate, rate, samples);
            self.go_on();
        }
        &self.events
    }

    /// Part of the sound was lost: a change in which that happened is not counted.
    fn lost(&mut self) {
        self.turns.forget();
        self.open.clear();
        self.strokes.forget_before(f64::INFINITY);
        self.sound.samples.clear();
        self.from_s = f64::NEG_INFINITY;
    }

    fn go_on(&mut self) {
        let settled_s = self.sound.ends_s() - ONSETS_LAG_S;
        while let Some(stroke) = self.strokes.next(&self.sound, self.from_s, settled_s) {
            self.from_s = Strokes::after_s(stroke.at_s);
            self.open.push_back((stroke, false));
        }
        while let Some((stroke, seen)) = self.open.front().copied() {
            if !self.look(&stroke, seen, settled_s) {
                break;
            }
        }
        if self.sound.ends_s() - self.sound.starts_s > 2.0 * KEPT_S {
            self.sound.forget_before(self.sound.ends_s() - KEPT_S);
        }
        let needed_s = self.open.front().map_or(self.from_s, |(stroke, _)| stroke.at_s);
        self.strokes.forget_before(needed_s);
    }

    /// Tells the chord of the first open stroke, when it is time; whether anything was done.
    fn look(&mut self, stroke: &Strum, seen: bool, settled_s: f64) -> bool {
        let due_s = stroke.at_s + if seen { LATER_S } else { SOON_S };
        let next_s = self.next_s(stroke, due_s);
        let ends_s = next_s.unwrap_or(due_s);
        if settled_s < ends_s.max(stroke.at_s + KNOWN_AFTER_S) {
            return false;
        }
        let told = self.pair.hear(&self.sound, stroke.at_s, ends_s);
        let (chord, leans) = tell(told, ring_db(&self.sound, stroke.at_s));
        let heard = Heard { at_s: stroke.at_s, chord, leans };
        if heard.chord == HeardChord::Unsure && next_s.is_none() && !seen {
            self.open[0].1 = true;
            return true;
        }
        self.open.pop_front();
        if let Some(chord) = heard.chord.drilled() {
            self.pair.remember(chord.index());
        }
        self.events.push(ChangeEvent::Stroke { at_s: heard.at_s, chord: heard.chord });
        self.events.extend(self.turns.take(heard));
        true
    }

    /// When the sound of a stroke is disturbed before `due_s`, as far as is known by then.
    fn next_s(&self, stroke: &Strum, due_s: f64) -> Option<f64> {
        let disturbed_s = self.strokes.disturbed_s(stroke, Strokes::after_s(stroke.at_s), due_s);
        let known = |next: &&(Strum, bool)| next.0.at_s + KNOWN_AFTER_S <= due_s;
        let next_s = self.open.get(1).filter(known).map(|next| next.0.at_s);
        disturbed_s.into_iter().chain(next_s).reduce(f64::min)
    }
}

/// What a stroke sounded, by what it is as either chord and by how it rings; and where that is not sure, what it far
/// rather is.
fn tell(told: Option<[Told; 2]>, ring_db: f32) -> (HeardChord, Option<DrillChord>) {
    if ring_db <= DIES_DB {
        return (HeardChord::Neither, None);
    }
    let Some([first, second]) = told else { return (HeardChord::Unsure, None) };
    let second_likelier = second.other < first.other;
    let (likelier, other) = if second_likelier { (second, first) } else { (first, second) };
    let finding = PairEar::finding(likelier.other);
    if finding == ChordFinding::Wrong || likelier.silent >= MOSTLY_SILENT {
        return (HeardChord::Neither, None);
    }
    if other.other - likelier.other < LEANS_BY {
        return (HeardChord::Unsure, None);
    }
    match (finding, second_likelier) {
        (ChordFinding::Right, false) => (HeardChord::First, None),
        (ChordFinding::Right, true) => (HeardChord::Second, None),
        (_, false) => (HeardChord::Unsure, Some(DrillChord::First)),
        (_, true) => (HeardChord::Unsure, Some(DrillChord::Second)),
    }
}
