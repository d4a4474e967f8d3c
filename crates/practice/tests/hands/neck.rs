//! Distances on the neck.

use approx::assert_abs_diff_eq;
use sixrung_practice::hands::{ShapeParts, span_mm, wire_mm};

use crate::shapes::{COMMON, common, usual};

#[test]
fn wires_lie_where_equal_temperament_puts_them() {
    // The octave halves the string: geometry.
    assert_abs_diff_eq!(wire_mm(0), 0.0, epsilon = 1e-9);
    assert_abs_diff_eq!(wire_mm(12), 325.0, epsilon = 1e-9);
    // Computed from the formula elsewhere, to a tenth of a millimetre.
    assert_abs_diff_eq!(span_mm(1, 3, 0), 66.9, epsilon = 0.05);
    assert_abs_diff_eq!(span_mm(1, 4, 0), 97.6, epsilon = 0.05);
    assert_abs_diff_eq!(span_mm(4, 1, 0), span_mm(1, 4, 0), epsilon = 1e-9);
}

#[test]
fn a_capo_makes_every_span_smaller() {
    // A capo at the third fret: .8409 = 2^(−3/12).
    assert_abs_diff_eq!(span_mm(1, 3, 3) / span_mm(1, 3, 0), 0.8409, epsilon = 5e-5);
    for (name, ..) in COMMON {
        let (shape, grip) = (common(name), usual(name));
        for capo in 1..=7 {
            let (with, without) = (grip.span_mm(capo), grip.span_mm(capo - 1));
            assert!(with < without || without == 0.0, "{name}, capo {capo}: {with} mm, {without} mm");
            let cost = |capo| ShapeParts::of(&shape, &grip, capo).cost();
            assert!(cost(capo) <= cost(capo - 1), "{name} is no harder with the capo at {capo}");
        }
    }
}
