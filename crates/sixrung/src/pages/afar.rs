//! How large those pages are drawn that are used with both hands on the guitar.

use egui::{Vec2, vec2};

use super::PageView;
use crate::theme::{Look, Step};

/// Up to this size, in points, what must be read to act is as large as titles are anyway, and a little to spare.
const READ_UP_TO: f32 = 1.1 * Step::Title.points();

/// What must be in sight of a page, in units, and the lines under it, in sizes of the large type; `None` for a page that
/// is used with a hand on the keys.
const fn in_sight(page: &PageView) -> Option<(Vec2, f32)> {
    match page {
        PageView::Tuner(_) => Some((vec2(690.0, 384.0), 0.0)),
        PageView::Chords(_) => Some((vec2(790.0, 440.0), 0.0)),
        PageView::Shapes(_) => Some((vec2(770.0, 424.0), 0.0)),
        PageView::Changes(_) => Some((vec2(790.0, 322.0), super::changes::far::LINES)),
        _ => None,
    }
}

/// How many points a unit of this page is when it is read from afar and `room` is left: as many as keep in sight what
/// must be read, but no more than make its sentences large enough. `None` near by, where a unit is `near` points.
pub(super) fn unit(page: &PageView, look: &Look, room: Vec2, near: f32) -> Option<f32> {
    let (needs, lines) = in_sight(page)?;
    let least = look.least_pt();
    let wanted = near * least / (Step::Lead.points() * look.scale);
    // The lines are as large as must be, or as is drawn.
    let high = ((room.y - lines * least) / needs.y).min(room.y / (needs.y + lines * Step::Large.points()));
    let fits = high.min(room.x / needs.x);
    (least > READ_UP_TO * look.scale).then(|| wanted.min(fits).max(near * 0.6))
}

#[cfg(test)]
mod tests {
    use egui::vec2;

    use super::unit;
    use crate::pages::{PageView, TunerView};
    use crate::theme::Look;

    #[test]
    fn what_both_hands_are_busy_with_grows_with_the_distance_and_nothing_else_does() {
        let tuner = PageView::Tuner(TunerView::default());
        let room = vec2(1128.0, 608.0);
        let at = |page: &PageView, distance_m| unit(page, &Look { distance_m, ..Look::default() }, room, 1.0);
        for (distance_m, least, most) in [(0.6, 1.0, 1.0), (0.9, 1.0, 1.0), (1.0, 1.45, 1.55), (1.5, 1.55, 1.6)] {
            let unit = at(&tuner, distance_m).unwrap_or(1.0);
            assert!((least..=most).contains(&unit), "{distance_m} m: {unit}");
            assert_eq!(at(&PageView::Care, distance_m), None);
        }
    }
}
