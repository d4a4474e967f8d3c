//! The stand fits every window, scale and distance.

use egui::{Rect, pos2, vec2};

use super::{Lines, Zones, frame};
use crate::theme::Look;

fn window(width: f32, height: f32) -> Rect {
    Rect::from_min_size(pos2(0.0, 0.0), vec2(width, height))
}

fn look(scale: f32, distance_m: f32) -> Look {
    Look { scale, distance_m, ..Look::default() }
}

#[test]
fn at_the_drawn_size_everything_lies_where_it_is_drawn() {
    let frame = frame(window(1280.0, 800.0), &look(1.0, 0.6), true, Lines::Shown);
    assert_eq!(frame.sheet, Rect::from_min_max(pos2(32.0, 72.0), pos2(968.0, 728.0)));
    assert_eq!((frame.unit, frame.sheet_unit), (1.0, 1.0));
    assert_eq!(frame.zones, Zones { percents: true, third: true, map: true, next_diagram: true });
}

#[test]
fn parts_never_overlap_and_never_leave_the_window() {
    for (width, height) in [(960.0, 600.0), (1280.0, 800.0), (1920.0, 1080.0), (3840.0, 2160.0), (600.0, 900.0)] {
        for scale in [0.75, 1.0, 1.5, 2.0, 3.0] {
            for distance in [0.5, 0.6, 1.0, 1.5, 3.0] {
                for lines in [Lines::Shown, Lines::Hidden] {
                    let window = window(width, height);
                    let frame = frame(window, &look(scale, distance), true, lines);
                    let parts = [frame.top, frame.sheet, frame.ladder, frame.bottom];
                    let case = format!("{width}×{height}, scale {scale}, {distance} m, {lines:?}");
                    for part in parts {
                        assert!(window.expand(0.1).contains_rect(part) && part.is_positive(), "{case}: {part:?}");
                    }
                    assert!(frame.sheet.right() <= frame.ladder.left() + 0.1, "{case}");
                    assert!(frame.top.bottom() <= frame.sheet.top() + 0.1, "{case}");
                    assert!(frame.sheet.bottom() <= frame.bottom.top() + 0.1, "{case}");
                    assert!(frame.sheet.height() > height * 0.5, "{case}: the sheet is most of the window");
                }
            }
        }
    }
}

#[test]
fn zones_leave_in_a_fixed_order_as_the_player_sits_farther_away() {
    let mut before = 4;
    for step in 0..60_u8 {
        let distance = 0.5 + f32::from(step) * 0.025;
        let zones = frame(window(1280.0, 800.0), &look(1.0, distance), true, Lines::Shown).zones;
        let there = [zones.next_diagram, zones.map, zones.third, zones.percents];
        let count = there.iter().take_while(|zone| **zone).count();
        assert_eq!(count, there.iter().filter(|zone| **zone).count(), "{distance} m: a later zone left first");
        assert!(count <= before, "{distance} m: a zone came back");
        before = count;
    }
    assert_eq!(before, 0, "from two metres only what is played is left");
}

#[test]
fn the_smallest_window_keeps_its_zones_at_arm_s_length() {
    let zones = frame(window(960.0, 600.0), &look(1.0, 0.6), true, Lines::Shown).zones;
    assert!(zones.map && zones.third && zones.next_diagram);
}
