//! Prepared sounds played through once: clicks, chucks, the bright beginning of a note.

use crate::shelf::{Shelf, TableRef};

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
    decay: f32,
}

impl Shot {
    /// A shot about to begin.
    ///
    /// # Real-time
    /// Copies numbers.
    pub(crate) fn new(table: TableRef, string: u8, gains: [f32; 2]) -> Self {
        Self { table, string, gains, at: 0, decay: 1.0 }
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

    /// Whether a shot still reads from shelf place `place`.
    ///
    /// # Real-time
    /// Looks through `N` places.
    pub(crate) fn reads(&self, place: u8) -> bool {
        self.slots.iter().flatten().any(|shot| shot.table.place == place)
    }

    /// Adds the next frames to `left` and `right`.
    ///
    /// # Real-time
    /// Reads prepared tables.
    pub(crate) fn add_into(&mut self, shelf: &Shelf, left: &mut [f32], right: &mut [f32]) {
        for slot in &mut self.slots {
            let Some(shot) = slot else { continue };
            let table = shelf.table(shot.table);
            let rest = table.get(shot.at..).unwrap_or(&[]);
            if shot.decay < 1.0 {
                for ((left, right), sample) in left.iter_mut().zip(right.iter_mut()).zip(rest) {
                    *left += sample * shot.gains[0];
                    *right += sample * shot.gains[1];
                    shot.gains = shot.gains.map(|gain| gain * shot.decay);
                }
            } else {
                add(rest, shot.gains[0], left);
                add(rest, shot.gains[1], right);
            }
            shot.at += left.len();
            if shot.at >= table.len() || shot.gains.iter().all(|gain| gain.abs() < 1e-7) {
                *slot = None;
            }
        }
    }
}

/// Adds `samples` times `gain` to `out`.
///
/// # Real-time
/// Arithmetic only.
fn add(samples: &[f32], gain: f32, out: &mut [f32]) {
    for (out, sample) in out.iter_mut().zip(samples) {
        *out += sample * gain;
    }
}
