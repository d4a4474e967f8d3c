//! Distances on a neck, and how many fingers a hand needs.

use super::{REACH_MM, fingers_needed, wire_mm};
use crate::text::frets::parse_frets;

/// Equal temperament on 650 mm: frets 1 to 3 lie 66.9 mm apart, 1 to 4 97.6 mm, and a capo at 3 scales by 2^(−3/12).
#[test]
fn frets_lie_where_equal_temperament_puts_them() {
    let span = |low, high| wire_mm(high) - wire_mm(low);
    assert!((span(1, 3) - 66.9).abs() < 0.05, "{}", span(1, 3));
    assert!((span(1, 4) - 97.6).abs() < 0.05, "{}", span(1, 4));
    assert!((span(4, 7) / span(1, 4) - 0.8409).abs() < 0.0001);
    assert!((wire_mm(12) - 325.0).abs() < 1e-9, "the octave halves the string");
    // One finger a fret is within reach at the nut, a fret more only further up.
    assert!(span(1, 4) < REACH_MM && span(1, 5) > REACH_MM && span(5, 9) < REACH_MM);
}

#[test]
fn a_barre_saves_fingers_unless_a_lower_string_lies_between() {
    for (frets, needed) in [
        ("xxxxxx", 0),
        ("000000", 0),
        ("xx0232", 2),
        ("133211", 3),
        ("x24432", 3),
        ("x02020", 2),
        ("222222", 1),
        ("x54321", 5),
        ("2x2x2x", 1),
        ("212121", 4),
    ] {
        assert_eq!(fingers_needed(&parse_frets(frets).expect("frets")), needed, "{frets}");
    }
}
