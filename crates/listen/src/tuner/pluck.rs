//! When a string was plucked, and whether it still sounds: levels against what the room gives when nobody plays.

/// Length of a frame in seconds: longer than one round of the lowest string taken, so that each holds its pulse.
pub(super) const FRAME_S: f64 = 0.02;
/// A pluck brightens the sound, or in a noisy room at least raises it, to this many times its power in the frames before.
const RISE: f32 = 4.0;
const BEFORE: usize = 3;
/// While it still brightens by this from frame to frame the pluck is not over.
const STILL_RISING: f32 = 1.5;
/// A note begins this far over the room and ends this far over it, in power.
const BEGINS: f32 = 4.0;
const ENDS: f32 = 1.6;
/// Under this power, −86 dB re full scale, nothing sounds.
const SILENCE: f32 = 2.5e-9;
/// How fast the room's power is followed, upward and downward, a frame.
const ROOM_UP: f32 = 0.03;
const ROOM_DOWN: f32 = 0.25;
/// Frames until the room is known.
const LEARNING: u32 = 5;
/// How fast the note's power is smoothed, a frame.
const SMOOTH: f32 = 0.3;

/// What a frame brought.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Event {
    /// Nobody plays.
    Quiet,
    /// A string was plucked just now: all sound before is over.
    Plucked,
    /// A string rings.
    Rings,
}

/// Follows levels a sample at a time.
#[derive(Debug)]
pub(super) struct PluckFinder {
    frame: u32,
    fill: u32,
    last: f32,
    power: f32,
    bright: f32,
    before: [(f32, f32); BEFORE],
    frames: u32,
    room: f32,
    note: Option<Note>,
}

#[derive(Clone, Copy, Debug)]
struct Note {
    power: f32,
    peak: f32,
    rising: bool,
}

impl PluckFinder {
    pub(super) fn new(rate: f64) -> Self {
        #[expect(clippy::cast_possible_truncation, clippy::cast_sign_loss, reason = "hundreds")]
        let frame = (rate * FRAME_S).round() as u32;
        Self {
            frame,
            fill: 0,
            last: 0.0,
            power: 0.0,
            bright: 0.0,
            before: [(f32::MAX, f32::MAX); BEFORE],
            frames: 0,
            room: 0.0,
            note: None,
        }
    }

    /// Takes one sample; says at the end of each frame what it brought.
    pub(super) fn push(&mut self, sample: f32) -> Option<Event> {
        self.power += sample * sample;
        // The difference of neighbours weighs the high partials, which only a new pluck brings back.
        self.bright += (sample - self.last) * (sample - self.last);
        self.last = sample;
        self.fill += 1;
        if self.fill < self.frame {
            return None;
        }
        #[expect(clippy::cast_precision_loss, reason = "hundreds")]
        let length = self.frame as f32;
        let (power, bright) = (self.power / length, self.bright / length);
        (self.fill, self.power, self.bright) = (0, 0.0, 0.0);
        let event = self.follow(power, bright);
        self.before.rotate_right(1);
        self.before[0] = (power, bright);
        Some(event)
    }

    fn follow(&mut self, power: f32, bright: f32) -> Event {
        self.frames = self.frames.saturating_add(1);
        if self.frames <= LEARNING {
            self.room = if self.frames == 1 { power } else { 0.5 * (self.room + power) };
            return Event::Quiet;
        }
        let (loudest, brightest) = self
            .before
            .iter()
            .fold((0.0, 0.0), |most: (f32, f32), (power, bright)| (most.0.max(*power), most.1.max(*bright)));
        let rises = bright >= RISE * brightest || power >= RISE * loudest;
        let struck = rises && power >= BEGINS * self.room && power > SILENCE;
        let rising = self.note.is_some_and(|note| note.rising) && bright >= STILL_RISING * self.before[0].1;
        if struck || rising {
            let peak = self.note.filter(|_| rising).map_or(power, |note| note.peak.max(power));
            self.note = Some(Note { power, peak, rising: true });
            return Event::Plucked;
        }
        let Some(note) = &mut self.note else {
            let speed = if power > self.room { ROOM_UP } else { ROOM_DOWN };
            self.room += speed * (power - self.room);
            return Event::Quiet;
        };
        note.rising = false;
        note.power += SMOOTH * (power - note.power);
        note.peak = note.peak.max(note.power);
        if note.power < ENDS * self.room || note.power < SILENCE {
            self.note = None;
            return Event::Quiet;
        }
        Event::Rings
    }

    /// How far the note has fallen from its loudest, in decibels; 0 when none sounds.
    pub(super) fn fallen_db(&self) -> f32 {
        self.note.map_or(0.0, |note| 10.0 * (note.peak / note.power.max(f32::MIN_POSITIVE)).log10())
    }

    /// What sounds is no string: it is part of the room from now on.
    pub(super) fn is_room(&mut self) {
        if let Some(note) = self.note.take() {
            self.room = self.room.max(note.power);
        }
    }
}
