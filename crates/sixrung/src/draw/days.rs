//! A plot over days: days to the right, whatever is measured upward. Where things lie is apart from the ink.

use egui::{Pos2, Rect, pos2};

use super::pen::{Pen, Side};
use crate::theme::{Face, Step};

/// Days from the first to the last one shown, and the labels under them.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct DaysAxis {
    /// The first day shown.
    pub first: i64,
    /// How many are shown.
    pub count: i64,
    /// Which are named, and how.
    pub labels: Vec<(i64, String)>,
}

/// Where days and values lie.
#[derive(Clone, Debug, PartialEq)]
pub struct DaysPlot<'a> {
    /// The axis.
    pub days: &'a DaysAxis,
    /// The paper between the lowest and the highest value.
    pub rect: Rect,
    /// The value at its foot, and at its head.
    pub range: (f32, f32),
}

impl DaysPlot<'_> {
    /// Where a day lies, from left to right.
    #[must_use]
    pub fn x(&self, day: i64) -> f32 {
        #[expect(clippy::cast_precision_loss, reason = "some thousand days")]
        let share = (day - self.days.first) as f32 / (self.days.count - 1).max(1) as f32;
        self.rect.left() + self.rect.width() * share.clamp(0.0, 1.0)
    }

    /// Where a value lies; one beyond the range at its edge.
    #[must_use]
    pub fn y(&self, value: f32) -> f32 {
        let (low, high) = self.range;
        let share = if high > low { (value - low) / (high - low) } else { 0.5 };
        self.rect.bottom() - self.rect.height() * share.clamp(0.0, 1.0)
    }

    /// Where a day's value lies.
    #[must_use]
    pub fn at(&self, day: i64, value: f32) -> Pos2 {
        pos2(self.x(day), self.y(value))
    }

    /// A hairline at each value, its name to the left of it.
    pub fn paint_levels(&self, pen: &Pen<'_>, levels: &[(f32, String)]) {
        let set = pen.set(Face::Regular, Step::Small, pen.palette().quiet);
        for (value, name) in levels {
            let y = self.y(*value);
            pen.rule(pos2(self.rect.left(), y), pos2(self.rect.right(), y), pen.unit.max(1.0), pen.palette().hair);
            pen.text_level(pos2(self.rect.left() - 12.0 * pen.unit, y), Side::Right, name, set, f32::INFINITY);
        }
    }

    /// The days that are named, under the plot.
    pub fn paint_days(&self, pen: &Pen<'_>) {
        let set = pen.set(Face::Regular, Step::Small, pen.palette().quiet);
        let level = self.rect.bottom() + 16.0 * pen.unit;
        let mut right = f32::NEG_INFINITY;
        for (day, name) in &self.days.labels {
            let half = pen.width(name, set) / 2.0;
            let x = self.x(*day).min(self.rect.right() - half);
            // Names that would run into each other are left out.
            if x - half > right + 8.0 * pen.unit {
                right = pen.text_level(pos2(x, level), Side::Centre, name, set, f32::INFINITY).right();
            }
        }
    }
}

/// Moves labels apart that would lie on each other: their heights from top to bottom at least `apart`, none above
/// `top` or, as far as there is room, below `bottom`. In the order given.
#[must_use]
pub fn moved_apart(heights: &[f32], apart: f32, (top, bottom): (f32, f32)) -> Vec<f32> {
    let mut order: Vec<usize> = (0..heights.len()).collect();
    order.sort_by(|one, other| heights[*one].total_cmp(&heights[*other]));
    let mut moved = heights.to_vec();
    let mut least = top;
    for place in &order {
        moved[*place] = moved[*place].max(least);
        least = moved[*place] + apart;
    }
    let mut most = bottom;
    for place in order.iter().rev() {
        moved[*place] = moved[*place].min(most).max(top);
        most = moved[*place] - apart;
    }
    moved
}

#[cfg(test)]
mod tests {
    use egui::{Rect, pos2};

    use super::{DaysAxis, DaysPlot, moved_apart};

    #[test]
    fn days_go_right_values_up_and_nothing_leaves_the_plot() {
        let days = DaysAxis { first: 100, count: 28, labels: Vec::new() };
        let rect = Rect::from_min_max(pos2(10.0, 20.0), pos2(280.0, 120.0));
        let plot = DaysPlot { days: &days, rect, range: (76.0, 126.0) };
        assert_eq!(plot.at(100, 76.0), pos2(10.0, 120.0));
        assert_eq!(plot.at(127, 126.0), pos2(280.0, 20.0));
        assert_eq!(plot.at(109, 101.0), pos2(100.0, 70.0));
        for (day, value) in [(0, 0.0), (1_000, 1_000.0)] {
            assert!(rect.expand(0.01).contains(plot.at(day, value)));
        }
        let one_day = DaysAxis { first: 5, count: 1, labels: Vec::new() };
        let flat = DaysPlot { days: &one_day, rect, range: (90.0, 90.0) };
        assert_eq!(flat.at(5, 90.0), pos2(10.0, 70.0));
    }

    #[test]
    fn labels_keep_their_distance_and_stay_inside() {
        assert_eq!(moved_apart(&[50.0, 10.0, 52.0], 16.0, (0.0, 100.0)), [50.0, 10.0, 66.0]);
        assert_eq!(moved_apart(&[98.0, 99.0, 97.0], 16.0, (0.0, 100.0)), [84.0, 100.0, 68.0]);
        assert_eq!(moved_apart(&[], 16.0, (0.0, 100.0)), [0.0; 0]);
    }
}
