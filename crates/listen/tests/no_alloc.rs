//! The listener allocates nothing in steady state.
#![expect(unsafe_code, reason = "a counting global allocator is the only way to see allocations")]

mod common;

use std::alloc::{GlobalAlloc, Layout, System};
use std::sync::atomic::{AtomicU64, Ordering};

use common::strummed;
use sixrung_listen::{Learning, Listener};

struct Counting;

static ALLOCATIONS: AtomicU64 = AtomicU64::new(0);

// SAFETY: every call is handed on to the system allocator unchanged.
unsafe impl GlobalAlloc for Counting {
    unsafe fn alloc(&self, layout: Layout) -> *mut u8 {
        ALLOCATIONS.fetch_add(1, Ordering::Relaxed);
        // SAFETY: the caller keeps the contract of `alloc`.
        unsafe { System.alloc(layout) }
    }

    unsafe fn dealloc(&self, block: *mut u8, layout: Layout) {
        // SAFETY: `block` came from `alloc` above with this layout.
        unsafe { System.dealloc(block, layout) }
    }
}

#[global_allocator]
static COUNTING: Counting = Counting;

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
            before = ALLOCATIONS.load(Ordering::Relaxed);
        }
        // What we play is what is heard, a block ahead: any sound will do.
        listener.played(at_s(index + 1), 48_000, block);
        let caught = listener.feed(*frame, block);
        onsets += caught.onsets.len();
        learning.take_in(caught);
    }
    let after = ALLOCATIONS.load(Ordering::Relaxed);
    assert!(onsets >= 12, "{onsets}");
    assert_eq!(after - before, 0);
}
