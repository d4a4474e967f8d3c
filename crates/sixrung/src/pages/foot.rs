//! The line under a page: its own next thing to do as the one filled button, and the way back to the stand.

use egui::{Rect, Ui, pos2, vec2};
use sixrung_drawing::diagram::placements;

use super::{HandOverSide, PageView};
use crate::draw::button::{self, Fill, button};
use crate::draw::{Pen, Side};
use crate::stand::{ChangesWish, GuideWish, HandOverWish, Intent, ShapesWish, TodayWish};
use crate::text::{changes, guide_page, hand_over, pages as text, shapes, today};
use crate::theme::{Face, Step};

/// A button's words, its key or nothing, and what it asks for.
type Next = (&'static str, &'static str, Intent);

/// A page's own next thing to do.
fn next(page: &PageView) -> Option<Next> {
    Some(match page {
        PageView::Shapes(view) => {
            let shape = view.shapes.get(view.now)?.chord.shape.as_ref()?;
            let left = placements(shape).len().saturating_sub(view.placed);
            let words = shapes::next(view.placed, left, view.listens, view.is_last);
            (words, text::NEXT_KEY, Intent::Shapes(ShapesWish::Next))
        }
        PageView::Changes(view) => {
            let words = if view.drill.as_ref()?.is_last { changes::NEXT_STEP } else { changes::NEXT_PAIR };
            (words, text::NEXT_KEY, Intent::Changes(ChangesWish::Next))
        }
        PageView::Today(view) if view.current.is_none() && !view.items.is_empty() => {
            (today::START, text::NEXT_KEY, Intent::Today(TodayWish::Start))
        }
        PageView::HandOver(view) => match &view.side {
            HandOverSide::Ask(ask) if ask.summary.is_ok() => {
                (hand_over::WRITE_ASSIGNMENT, "", Intent::HandOver(HandOverWish::WriteAssignment))
            }
            HandOverSide::Answer(answer) if answer.report.is_some() && answer.note_trouble.is_empty() => {
                (hand_over::WRITE_REPORT, "", Intent::HandOver(HandOverWish::WriteReport))
            }
            _ => return None,
        },
        PageView::Guide(view) if view.guide.is_some() => (guide_page::WRITE, "", Intent::Guide(GuideWish::Write)),
        _ => return None,
    })
}

/// Draws it from `left` on.
pub(super) fn show(ui: &Ui, pen: &Pen<'_>, left: egui::Pos2, page: &PageView, intents: &mut Vec<Intent>) {
    let mut x = left.x;
    let mut place = |words: &str, key: &str, fill: Fill| {
        let unit = pen.unit;
        let size = vec2(button::width(pen, words), 34.0 * unit);
        let rect = Rect::from_min_size(pos2(x, left.y - 17.0 * unit), size);
        let is_pressed = button(ui, pen, rect, words, fill).clicked();
        let set = pen.set(Face::Regular, Step::Small, pen.palette().quiet);
        let drawn = pen.text_level(pos2(rect.right() + 14.0 * unit, left.y), Side::Left, key, set, 80.0 * unit);
        x = drawn.right().max(rect.right()) + 24.0 * unit;
        is_pressed
    };
    let next = next(page);
    let back = if next.is_some() { Fill::Outline } else { Fill::Filled };
    if let Some((words, key, intent)) = next
        && place(words, key, Fill::Filled)
    {
        intents.push(intent);
    }
    if place(text::BACK, text::BACK_KEY, back) {
        intents.push(Intent::ClosePage);
    }
}
