//! The tuner allocates nothing, from its first block on.
#![expect(unsafe_code, reason = "a counting global allocator is the only way to see allocations")]

mod common;
#[path = "common/counting.rs"]
mod counting;

use common::strummed;
use counting::allocations;
use sixrung_lesson::Tuning;
use sixrung_listen::{Sounding, Tuner};

#[test]
fn listening_to_strings_allocates_nothing() {
    // Six strings 6 ms apart have no one pitch; what is measured is that every path is walked without an allocation.
    let mut sound = strummed(&[0.5, 1.5], 48_000, 3.0);
    let string = (0..96_000_u32).map(|frame| {
        let time = f64::from(frame) / 48_000.0;
        let partials = (1..=8).map(f64::from).map(|k| (std::f64::consts::TAU * k * 110.0 * time).sin() / k);
        0.2 * (-2.0 * time).exp() * partials.sum::<f64>()
    });
    sound.extend(vec![0.0; 24_000]);
    #[expect(clippy::cast_possible_truncation, reason = "samples")]
    sound.extend(string.map(|sample| sample as f32));
    let mut tuner = Tuner::new(48_000, &Tuning::standard_guitar(), 0).expect("a rate we take");
    let before = allocations();
    let mut heard = 0;
    for block in sound.chunks(480) {
        heard += usize::from(matches!(tuner.feed(block), Sounding::String(_)));
    }
    let after = allocations();
    assert!(heard > 100, "{heard}");
    assert_eq!(after - before, 0);
}
