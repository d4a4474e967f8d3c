//! Under the plot: the worst bar heard again, as the player, as the lesson has it, or both; slowly or not.

use egui::{Pos2, Rect, Ui, pos2, vec2};

use super::{HearAgain, HearAgainView, Intent, Voice};
use crate::draw::{Pen, Side, press};
use crate::text::again as text;
use crate::theme::{Face, Step};

/// Draws the line so that it ends at `right`, no wider than `room`.
pub(super) fn show(ui: &Ui, pen: &Pen<'_>, right: Pos2, room: f32, view: HearAgainView, intents: &mut Vec<Intent>) {
    let unit = pen.unit;
    let palette = *pen.palette();
    let voices = [Voice::You, Voice::Lesson, Voice::Both].map(|voice| {
        let (words, key) = text::voice(voice);
        (words, key, view.playing == Some(voice), HearAgain::Voice(voice))
    });
    let (slowly, key) = text::SLOWLY;
    let parts = [voices[0], voices[1], voices[2], (slowly, key, view.slowly, HearAgain::Slowly)];
    let before = text::hear(view.bar);
    let quiet = pen.set(Face::SemiBold, Step::Small, palette.quiet);
    let key_set = pen.set(Face::Regular, Step::Small, palette.quiet);
    let word = |is_on: bool| pen.set(if is_on { Face::Bold } else { Face::SemiBold }, Step::Small, palette.now);
    let (gap, near) = (18.0 * unit, 5.0 * unit);
    let width = |(words, key, is_on, _): &(&str, &str, bool, HearAgain)| {
        pen.width(words, word(*is_on)) + near + pen.width(key, key_set)
    };
    let needed = pen.width(&before, quiet) + parts.iter().map(|part| gap + width(part)).sum::<f32>();
    let mut x = right.x - needed.min(room);
    x = pen.text_level(pos2(x, right.y), Side::Left, &before, quiet, room).right();
    for (words, key, is_on, wish) in parts {
        x += gap;
        let drawn = pen.text_level(pos2(x, right.y), Side::Left, words, word(is_on), room);
        if is_on {
            // What is on is underlined, so that it is not told by colour alone.
            let level = right.y + 10.0 * unit;
            pen.rule(pos2(drawn.left(), level), pos2(drawn.right(), level), 2.0 * unit, palette.now);
        }
        let key = pen.text_level(pos2(drawn.right() + near, right.y), Side::Left, key, key_set, room);
        let target = Rect::from_min_max(drawn.min, pos2(key.right(), drawn.bottom())).expand2(vec2(6.0, 5.0) * unit);
        if press(ui, pen, target, ("again", words), &text::control(view.bar, words)).clicked() {
            intents.push(Intent::HearAgain(wish));
        }
        x = key.right();
    }
}
