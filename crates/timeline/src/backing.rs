//! A plain bass and brushes, to play along with: roots under the chords, and a beat.

use sixrung_lesson::{Bar, ChordSymbol, Pitch, Score, Tick, Tuning};

use crate::event::{Brush, Event, EventKind};

/// The bass plays between A1 and G♯2: low enough to be a bass, high enough for a small speaker to be heard by its second
/// partial. A design choice of ours.
const LOWEST: u8 = 33;

/// Velocities: the first beat of a bar, another beat. Design choices of ours.
const FIRST: f32 = 0.8;
const LATER: f32 = 0.6;

/// The backing of a score, `offset` ticks late.
pub(crate) fn backing(score: &Score, tuning: &Tuning, offset: Tick, events: &mut Vec<Event>) {
    let mut bass = Bass { score, tuning, sounding: None };
    for bar in &score.bars {
        for beat in 0..bar.meter.beats() {
            let at = bar.start + bar.meter.beat() * beat;
            let velocity = if beat == 0 { FIRST } else { LATER };
            brush(bar, beat, offset + at, velocity, events);
            bass.beat(at, beat, bar, velocity, offset, events);
        }
    }
}

/// A sweep on every beat, and a tap where hands clap: on two and four; in three on two and three, softer.
fn brush(bar: &Bar, beat: u32, at: Tick, velocity: f32, events: &mut Vec<Event>) {
    let mut push = |brush, velocity| {
        events.push(Event { at, delay_ns: 0, kind: EventKind::Brush { brush, velocity } });
    };
    push(Brush::Sweep, velocity);
    let (claps, velocity) = match bar.meter.beats() {
        3 => (beat > 0, 0.45),
        _ => (beat % 2 == 1, 0.7),
    };
    if claps {
        push(Brush::Tap, velocity);
    }
}

struct Bass<'a> {
    score: &'a Score,
    tuning: &'a Tuning,
    sounding: Option<Pitch>,
}

impl Bass<'_> {
    /// The chord's lowest tone on the first beat, in the middle of an even bar, and wherever the chord has changed since
    /// the beat before; a chord that changes between beats is met there.
    fn beat(&mut self, at: Tick, beat: u32, bar: &Bar, velocity: f32, offset: Tick, events: &mut Vec<Event>) {
        let end = at + bar.meter.beat();
        let beats = bar.meter.beats();
        let is_strong = beat == 0 || (beats.is_multiple_of(2) && beats > 2 && beat == beats / 2);
        let changes = &self.score.changes;
        let held = changes.iter().rev().find(|change| change.at <= at).and_then(|change| change.shape);
        let begins = is_strong || self.pitch(held) != self.sounding;
        if begins {
            self.sound(held, at, velocity, offset, events);
        }
        for change in changes.iter().filter(|change| at < change.at && change.at < end) {
            self.sound(change.shape, change.at, LATER, offset, events);
        }
    }

    fn sound(&mut self, shape: Option<usize>, at: Tick, velocity: f32, offset: Tick, events: &mut Vec<Event>) {
        self.sounding = self.pitch(shape);
        let kind = self.sounding.map_or(EventKind::BassStop, |pitch| EventKind::Bass { pitch, velocity });
        events.push(Event { at: offset + at, delay_ns: 0, kind });
    }

    /// The lowest tone of a chord's symbol as it sounds with the capo; of a shape with another name what its heaviest
    /// string sounds.
    fn pitch(&self, shape: Option<usize>) -> Option<Pitch> {
        let shape = self.score.shapes.get(shape?)?;
        let class = match ChordSymbol::parse(&shape.name) {
            Some(symbol) => symbol.lowest_class() + self.score.capo,
            None => shape.pitches(self.tuning, self.score.capo).into_iter().flatten().next()?.0,
        };
        Some(in_bass_octave(Pitch(class)))
    }
}

/// The same tone in the bass's octave.
pub(crate) const fn in_bass_octave(Pitch(key): Pitch) -> Pitch {
    Pitch(LOWEST + (key % 12 + 12 - LOWEST % 12) % 12)
}
