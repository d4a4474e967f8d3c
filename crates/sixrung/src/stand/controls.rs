//! The line below the sheet: the forward control, volumes, the level meter.

use egui::{Rect, Ui, pos2, vec2};

use super::{HearingState, Intent, Page, Part, Pause, Phase, StandView, Volumes};
use crate::draw::button::{self, Fill, button};
use crate::draw::slider::slider;
use crate::draw::{Pen, Side, meter, press};
use crate::text;
use crate::theme::{Face, Step};

/// Width of the three volumes together, and of the meter with its word, in units.
const VOLUMES_WIDTH: f32 = 394.0;
const HEARING_WIDTH: f32 = 204.0;
const GAP: f32 = 24.0;

/// What there is room for in the line. The minutes go first, then the keys, then the volumes, which the sound page
/// has too.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) struct Room {
    pub(super) minutes: bool,
    pub(super) hint: bool,
    pub(super) volumes: bool,
}

/// What fits into `width` units, the button, the keys and the minutes taking theirs.
pub(super) fn room(width: f32, button: f32, hint: f32, minutes: f32) -> Room {
    let always = button + GAP + HEARING_WIDTH;
    let volumes = always + GAP + VOLUMES_WIDTH;
    let hints = volumes + GAP + hint;
    Room { volumes: volumes <= width, hint: hints <= width, minutes: hints + GAP + minutes <= width }
}

/// Draws it in `rect`.
pub(super) fn bottom(ui: &Ui, pen: &Pen<'_>, rect: Rect, view: &StandView, intents: &mut Vec<Intent>) {
    let unit = pen.unit;
    let level = rect.center().y - unit;
    let quiet = pen.set(Face::Regular, Step::Small, pen.palette().quiet);
    let has_lesson = !view.place.title.is_empty();
    let words = text::forward_label(view);
    let hint = text::hint(view);
    let minutes = text::minutes(view.minutes_playing);
    let button_width = button::width(pen, words);
    let room = room(
        rect.width() / unit,
        button_width / unit,
        pen.width(&hint, quiet) / unit + 14.0,
        pen.width(&minutes, quiet) / unit + 60.0,
    );
    let pill = Rect::from_min_size(pos2(rect.left(), level - 17.0 * unit), vec2(button_width, 34.0 * unit));
    // With nothing open the one thing to do is on the sheet.
    if has_lesson && button(ui, pen, pill, words, fill(view)).clicked() {
        intents.push(Intent::Forward);
    }
    if has_lesson && room.hint {
        pen.text_level(pos2(pill.right() + 14.0 * unit, level), Side::Left, &hint, quiet, f32::INFINITY);
    }
    let mut right = rect.right();
    if room.minutes {
        let drawn = pen.text_level(pos2(right, level), Side::Right, &minutes, quiet, f32::INFINITY);
        // The meter keeps its place while the minutes count.
        right = drawn.left().min(right - 88.0 * unit) - 62.0 * unit;
    }
    let hearing =
        Rect::from_min_max(pos2(right - HEARING_WIDTH * unit, level - 17.0 * unit), pos2(right, level + 17.0 * unit));
    let spare = if room.volumes { 0.0 } else { (hearing.left() - pill.right() - GAP * unit).max(0.0) };
    show_hearing(ui, pen, hearing, view, spare, intents);
    if room.volumes {
        show_volumes(ui, pen, pos2(hearing.left() - GAP * unit - VOLUMES_WIDTH * unit, level), &view.volumes, intents);
    }
}

/// The forward control is filled unless the sheet has the next thing to do.
fn fill(view: &StandView) -> Fill {
    let is_elsewhere = match view.phase {
        Phase::SelfMark | Phase::AskHands | Phase::Paused(Pause::Hurts | Pause::HurtBefore) => true,
        Phase::CountIn { .. } | Phase::Playing | Phase::ListenFirst => false,
        Phase::Idle | Phase::Between | Phase::Paused(_) => view.proposal.is_some(),
    };
    if is_elsewhere { Fill::Outline } else { Fill::Filled }
}

/// The word and the meter; `spare` points to the left may be used by a long word.
fn show_hearing(ui: &Ui, pen: &Pen<'_>, rect: Rect, view: &StandView, spare: f32, intents: &mut Vec<Intent>) {
    let unit = pen.unit;
    let state = view.hearing.state;
    let palette = pen.palette();
    let colour = match state {
        HearingState::HearsYou => palette.heard,
        HearingState::Listening | HearingState::NoMicrophone => palette.quiet,
        HearingState::CannotHear | HearingState::TooLoud => palette.late,
    };
    let bars = Rect::from_min_max(
        pos2(rect.right() - 98.0 * unit, rect.center().y - 9.0 * unit),
        pos2(rect.right(), rect.center().y + 9.0 * unit),
    );
    let has_meter = state != HearingState::NoMicrophone;
    if has_meter {
        meter::paint(pen, bars, view.hearing.level, state == HearingState::TooLoud);
    }
    let right = if has_meter { bars.left() - 11.0 * unit } else { rect.right() };
    let words = text::hearing(state);
    let set = pen.set(Face::SemiBold, Step::Small, colour);
    let width = right - rect.left() + spare;
    let set = pen.fitted(words, set, width);
    let drawn = pen.text_level(pos2(right, rect.center().y), Side::Right, words, set, width + 1.0);
    let target = Rect::from_min_max(pos2(drawn.left() - 4.0, rect.top()), rect.max);
    if press(ui, pen, target, "hearing", &text::controls::hearing_name(state)).clicked() {
        intents.push(Intent::OpenPage(Page::Sound));
    }
}

fn show_volumes(ui: &Ui, pen: &Pen<'_>, left: egui::Pos2, volumes: &Volumes, intents: &mut Vec<Intent>) {
    let unit = pen.unit;
    let set = pen.set(Face::Medium, Step::Small, pen.palette().quiet);
    let parts = [
        (text::CLICK, Part::Click, volumes.click_db, 49.0),
        (text::GUITAR, Part::Guitar, volumes.guitar_db, 187.0),
        (text::MASTER, Part::Master, volumes.master_db, 325.0),
    ];
    for (words, part, value, x) in parts {
        let rail = Rect::from_min_size(pos2(left.x + x * unit, left.y - 12.0 * unit), vec2(69.0, 24.0) * unit);
        pen.text_level(pos2(rail.left() - 11.0 * unit, left.y), Side::Right, words, set, 60.0 * unit);
        let range = Volumes::SILENT_DB..=Volumes::LOUDEST_DB;
        if let Some(new) = slider(ui, pen, rail, words, value, &range, 3.0) {
            intents.push(Intent::SetVolume(part, new));
        }
    }
}

#[cfg(test)]
mod tests {
    use super::{Room, room};

    #[test]
    fn the_line_sheds_minutes_then_keys_then_volumes() {
        let rows = [
            (1216.0, Room { minutes: true, hint: true, volumes: true }),
            (1040.0, Room { minutes: false, hint: true, volumes: true }),
            (800.0, Room { minutes: false, hint: false, volumes: true }),
            (500.0, Room { minutes: false, hint: false, volumes: false }),
        ];
        for (width, expected) in rows {
            assert_eq!(room(width, 150.0, 170.0, 150.0), expected, "{width}");
        }
    }
}
