//! Where the cursor stands.

use sixrung_lesson::{Action, Direction, Dynamic};

use super::{cursor_place, middle};
use crate::stand::{BarStrip, SlotView};

/// A bar of slots of these lengths, in parts of their sum.
fn bar(lengths: &[f32]) -> BarStrip {
    let whole: f32 = lengths.iter().sum();
    let mut at = 0.0;
    let mut slot = |length: &f32| {
        let width = length / whole;
        at += width;
        SlotView {
            at: at - width,
            width,
            action: Action::Strum,
            direction: Direction::Down,
            dynamic: Dynamic::Plain,
            count: String::new(),
            on_beat: true,
            change: None,
        }
    };
    BarStrip { slots: lengths.iter().map(&mut slot).collect(), beats: Vec::new() }
}

#[test]
fn the_cursor_meets_every_arrow_when_it_sounds() {
    for strip in [bar(&[1.0; 8]), bar(&[2.0, 1.0, 2.0, 1.0, 2.0, 1.0]), bar(&[1.0; 3])] {
        for slot in &strip.slots {
            let (place, turned) = cursor_place(slot.at, &strip, Some(&strip));
            assert!((place - middle(slot, &strip)).abs() < 1e-5);
            assert!(!turned);
        }
    }
}

#[test]
fn the_picture_turns_half_a_slot_early_and_the_cursor_arrives_in_the_first_middle() {
    let (this, next) = (bar(&[1.0; 8]), bar(&[1.0; 4]));
    let rows = [(0.93, false), (0.94, true), (0.97, true), (0.999, true)];
    for (at, expected) in rows {
        assert_eq!(cursor_place(at, &this, Some(&next)).1, expected, "{at}");
    }
    let (arrived, _) = cursor_place(1.0, &this, Some(&next));
    assert!((arrived - middle(&next.slots[0], &next)).abs() < 1e-5);
    let (entering, _) = cursor_place(1.0 - 0.5 / 8.0, &this, Some(&next));
    assert!(entering.abs() < 1e-5, "it enters at the left edge");
}

#[test]
fn the_cursor_never_leaves_the_bar_nor_turns_back() {
    let strip = bar(&[2.0, 1.0, 2.0, 1.0]);
    let mut before = 0.0;
    for step in 0..=1000 {
        #[expect(clippy::cast_precision_loss, reason = "up to a thousand")]
        let (place, turned) = cursor_place(step as f32 / 1000.0, &strip, None);
        assert!(!turned && (before..=1.0).contains(&place), "{place} after {before}");
        before = place;
    }
}
