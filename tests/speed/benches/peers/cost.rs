//! Thread CPU time, so that a machine shared with others does not count against anyone.

use rustix::time::{ClockId, clock_gettime};

use crate::score::{RATE, Stroke, strokes};

/// Frames a block.
pub(crate) const BLOCK: usize = 64;

/// Something that plays the strokes.
pub(crate) trait Player {
    /// What it is called in the table.
    fn name(&self) -> &'static str;
    /// Strikes a string, stopping what it sounded. Players that bring their own score do nothing.
    fn strike(&mut self, stroke: &Stroke);
    /// Makes the next block.
    fn block(&mut self, left: &mut [f32; BLOCK], right: &mut [f32; BLOCK]);
}

/// CPU time this thread has used, in nanoseconds.
pub(crate) fn thread_ns() -> f64 {
    let time = clock_gettime(ClockId::ThreadCPUTime);
    time.tv_sec as f64 * 1e9 + time.tv_nsec as f64
}

/// What a frame costs while `player` plays the strokes for `seconds`.
pub(crate) fn ns_a_frame(player: &mut dyn Player, seconds: u32) -> f64 {
    let (mut left, mut right) = ([0.0; BLOCK], [0.0; BLOCK]);
    let blocks = (seconds * RATE) as usize / BLOCK;
    let score = strokes(seconds);
    let (mut due, mut heard) = (score.iter().peekable(), 0.0_f32);
    let began = thread_ns();
    for block in 0..blocks {
        while let Some(stroke) = due.next_if(|stroke| stroke.frame < (block + 1) * BLOCK) {
            player.strike(stroke);
        }
        player.block(&mut left, &mut right);
        heard = heard.max(left[0].abs()).max(right[BLOCK - 1].abs());
    }
    let ns = thread_ns() - began;
    assert!(heard > 1e-4, "{} played nothing", player.name());
    ns / (blocks * BLOCK) as f64
}

/// The middle one.
pub(crate) fn middle(costs: &mut [f64]) -> f64 {
    costs.sort_by(f64::total_cmp);
    costs[costs.len() / 2]
}
