//! The ear for four muted strokes allocates nothing, whatever it hears.
#![expect(unsafe_code, reason = "a counting global allocator is the only way to see allocations")]

#[path = "common/bystanders.rs"]
mod bystanders;
mod common;
#[path = "common/counting.rs"]
mod counting;

use bystanders::{Bystander, RATE, muted, noisy};
use common::Dice;
use counting::allocations;
use sixrung_listen::{Listener, StartEar};

#[test]
fn no_block_costs_an_allocation() {
    let dice = &mut Dice(4);
    let mut sound = muted(1.0, 0.5, dice).0;
    sound.extend(Bystander::Talking.sound(6.0, dice));
    sound.extend(muted(1.0, 0.7, dice).0);
    let sound = noisy(sound, dice);
    let before = allocations();
    let mut ear = StartEar::new();
    assert_eq!(allocations() - before, 0, "nor does making one");
    let mut listener = Listener::new(RATE).expect("a rate we take");
    let mut started = 0;
    for (frame, block) in (0_u64..).step_by(256).zip(sound.chunks(256)) {
        let caught = listener.feed(frame, block);
        let before = allocations();
        started += usize::from(ear.take_in(caught).is_some());
        assert_eq!(allocations() - before, 0, "at frame {frame}");
    }
    assert_eq!(started, 2);
}
