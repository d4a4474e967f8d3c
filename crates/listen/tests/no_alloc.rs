//! The listener allocates nothing in steady state.
#![expect(unsafe_code, reason = "a counting global allocator is the only way to see allocations")]

mod common;
#[path = "common/counting.rs"]
mod counting;

use common::strummed;
use counting::allocations;
use sixrung_listen::{Learning, Listener};

#[test]
fn blocks_cost_no_allocation_once_one_of_their_length_was_heard() {
    let times: Vec<f64> = (0..12).map(|index| 0.2 + 0.25 * f64::from(index)).collect();
    let sound = strummed(&times, 48_000, 4.0);
    let mut listener = Listener::new(48_000).expect("a rate we take");
    let mut learning = Learning::new();
    let blocks: Vec<(u64, &[f32])> = (0..).step_by(1024).zip(sound.chunks(1024)).collect();
    let at_s = |block: usize| f64::from(u32::try_from(1024 * block).expect("few")) / 48_000.0;
    listener.played(0.0, 48_000, blocks[0].1);
    let (mut onsets, mut before) = (0, 0);
    for (index, (frame, block)) in blocks.iter().enumerate() {
        // The first block begins the listener, the second the learning: of the first it is not known what was played
        // before it.
        if index == 2 {
            before = allocations();
        }
        // What we play is what is heard, a block ahead: any sound will do.
        listener.played(at_s(index + 1), 48_000, block);
        let caught = listener.feed(*frame, block);
        onsets += caught.onsets.len();
        learning.take_in(caught);
    }
    let after = allocations();
    assert!(onsets >= 12, "{onsets}");
    assert_eq!(after - before, 0);
}
