//! Prepared sounds played through once: clicks, chucks, the bright beginning of a note.

use crate::shelf::{Shelf, TableRef};
use crate::string::bank::BLOCK;

/// A shot that has faded this far is over: 140 dB.
const GONE: f32 = 1e-7;

/// One table, sounding.
#[derive(Clone, Copy, Debug)]
pub(crate) struct Shot {
    /// What sounds.
    pub table: TableRef,
    /// Which string it belongs to, so that a hand can stop it; any number for a click.
    pub string: u8,
    /// Gain on the left and the right.
    pub gains: [f32; 2],
    at: usize,
    /// How far it has faded, 1 at first.
    level: f32,
    decay: f32,
}

impl Shot {
    /// A shot about to begin.
    ///
    /// # Real-time
    /// Copies numbers.
    pub(crate) fn new(table: TableRef, string: u8, gains: [f32; 2]) -> Self {
        Self { table, string, gains, at: 0, level: 1.0, decay: 1.0 }
    }
}

/// Up to `N` shots at once.
pub(crate) struct Shots<const N: usize> {
    slots: [Option<Shot>; N],
}

impl<const N: usize> Shots<N> {
    /// None sounding.
    pub(crate) fn new() -> Self {
        Self { slots: [None; N] }
    }

    /// Begins `shot`. With all places taken it stays silent: the ear would not have told it from the others.
    ///
    /// # Real-time
    /// Looks through `N` places.
    pub(crate) fn start(&mut self, shot: Shot) {
        if let Some(slot) = self.slots.iter_mut().find(|slot| slot.is_none()) {
            *slot = Some(shot);
        }
    }

    /// Lets the shots of `string` fade by `decay` a frame from now on.
    ///
    /// # Real-time
    /// Looks through `N` places.
    pub(crate) fn fade(&mut self, string: u8, decay: f32) {
        for shot in self.slots.iter_mut().flatten().filter(|shot| shot.string == string) {
            shot.decay = shot.decay.min(decay);
        }
    }

    /// Silences all at once.
    ///
    /// # Real-time
    /// Clears `N` places.
    pub(crate) fn clear(&mut self) {
        self.slots = [None; N];
    }

    /// Whether any sounds.
    ///
    /// # Real-time
    /// Looks through `N` places.
    pub(crate) fn any(&self) -> bool {
        self.slots.iter().any(Option::is_some)
    }

    /// Whether a shot still reads from shelf place `place`.
    ///
    /// # Real-time
    /// Looks through `N` places.
    pub(crate) fn reads(&self, place: u8) -> bool {
        self.slots.iter().flatten().any(|shot| shot.table.place == place)
    }

    /// Writes the next frames, at most [`BLOCK`], to `left` and `right`. Does nothing and says so when none sounds.
    ///
    /// # Real-time
    /// Reads prepared tables.
    pub(crate) fn fill(&mut self, shelf: &Shelf, left: &mut [f32], right: &mut [f32]) -> bool {
        let sounds = self.any();
        if sounds {
            left.fill(0.0);
            right.fill(0.0);
            self.add_into(shelf, left, right);
        }
        sounds
    }

    /// Adds the next frames, at most [`BLOCK`], to `left` and `right`.
    ///
    /// # Real-time
    /// Reads prepared tables.
    #[inline(always)]
    pub(crate) fn add_into(&mut self, shelf: &Shelf, left: &mut [f32], right: &mut [f32]) {
        for slot in &mut self.slots {
            let Some(mut shot) = *slot else { continue };
            let table = shelf.table(shot.table);
            let rest = table.get(shot.at..).unwrap_or(&[]);
            if shot.decay < 1.0 {
                let mut faded = [0.0; BLOCK];
                let faded = &mut faded[..rest.len().min(left.len())];
                for (faded, sample) in faded.iter_mut().zip(rest) {
                    // Gone on its frame, not at the end of a block, so that blocks of every length sound the same.
                    *faded = if shot.level < GONE { 0.0 } else { sample * shot.level };
                    shot.level *= shot.decay;
                }
                add(faded, shot.gains[0], left);
                add(faded, shot.gains[1], right);
            } else {
                add(rest, shot.gains[0], left);
                add(rest, shot.gains[1], right);
            }
            shot.at += left.len();
            *slot = Some(shot);
        }
    }

    /// Lets go of what has been played through or faded out. Called at every whole block of the clock, so that the blocks
    /// asked for change nothing.
    ///
    /// # Real-time
    /// Looks through `N` places.
    pub(crate) fn settle(&mut self, shelf: &Shelf) {
        for slot in &mut self.slots {
            let over = |shot: &Shot| shot.at >= shelf.table(shot.table).len() || shot.level < GONE;
            if slot.as_ref().is_some_and(over) {
                *slot = None;
            }
        }
    }
}

/// Adds `samples` times `gain` to `out`.
///
/// # Real-time
/// Arithmetic only.
#[inline(always)]
fn add(samples: &[f32], gain: f32, out: &mut [f32]) {
    for (out, sample) in out.iter_mut().zip(samples) {
        *out += sample * gain;
    }
}
