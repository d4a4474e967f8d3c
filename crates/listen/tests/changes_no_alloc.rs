//! Where nothing rises the change drill's ear allocates nothing.
#![expect(unsafe_code, reason = "a counting global allocator is the only way to see allocations")]

mod common;
#[path = "common/counting.rs"]
mod counting;
#[path = "common/guitar.rs"]
mod guitar;

use counting::allocations;
use guitar::{Guitar, SHAPES, shapes};
use sixrung_lesson::Direction;
use sixrung_listen::{ChangeEar, Listener};

#[test]
fn blocks_in_which_nothing_rises_cost_no_allocation() {
    let mut guitar = Guitar::new(8_000, 4);
    (0..4).for_each(|index| guitar.strum(&SHAPES[index % 2].1, Direction::Down, 2.0));
    let sound = guitar.recorded();
    let shapes = shapes();
    let mut ear = ChangeEar::new([shapes[0].clone(), shapes[1].clone()], None);
    let mut listener = Listener::new(8_000).expect("a rate we take");
    let (mut quiet, mut told, mut rose_at) = (0, 0, 0);
    for (frame, block) in (0_u64..).step_by(200).zip(sound.chunks(200)) {
        let caught = listener.feed(frame, block);
        // Noise rises by less all the time.
        if caught.onsets.iter().any(|onset| onset.rise_db >= 4.0 && onset.gain_db >= 3.0) {
            rose_at = frame;
        }
        let before = allocations();
        told += ear.take_in(caught).len();
        // What is told of a stroke is told within a second.
        if frame > 20_000 && frame - rose_at > 8_000 {
            quiet += 1;
            assert_eq!(allocations() - before, 0, "at frame {frame}");
        }
    }
    assert!(quiet > 50 && told >= 4 + 3, "{quiet} quiet blocks, {told} events");
}
