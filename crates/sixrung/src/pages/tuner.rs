//! The tuner: which string sounds, how far off it is, and which way to turn the peg.

use egui::{Rect, Sense, Ui, WidgetInfo, accesskit::Role, pos2, vec2};
use sixrung_listen::{Reading, Sounding};

use super::parts::Hand;
use super::view::{TunedString, TunerView};
use crate::draw::{Pen, Side, Type, say};
use crate::stand::{HearingState, Intent};
use crate::text::pages as text;
use crate::theme::{Face, Hand as Strumming, Step};

/// The scale reaches this far to each side, in cents: half a semitone.
const REACH: f64 = 50.0;
/// So near is in tune, in cents: under what is heard between two strings (5 cents: common practice).
const IN_TUNE: f64 = 3.0;

/// Draws the page.
pub(super) fn show(ui: &mut Ui, hand: Hand, view: &TunerView, intents: &mut Vec<Intent>) {
    hand.heading_near(ui, text::TUNER);
    // From afar there is no air above and below.
    let (height, above) = if hand.is_far { (296.0, 20.0) } else { (330.0, 0.0) };
    let size = vec2(ui.available_width(), height * hand.unit);
    let (space, _) = ui.allocate_exact_size(size, Sense::hover());
    let rect = Rect::from_min_max(space.min - vec2(0.0, above * hand.unit), space.max);
    let pen = Pen::new(ui.painter(), hand.theme, hand.unit).reading(hand.theme.look.least_pt());
    let words = match view.sounding {
        _ if view.hearing.state == HearingState::NoMicrophone => text::TUNER_DEAF.to_owned(),
        Sounding::Nothing => text::TUNER_NOTHING.to_owned(),
        Sounding::Unclear => text::TUNER_UNCLEAR.to_owned(),
        Sounding::String(reading) => {
            let number = view.strings.get(reading.string).map_or(0, |string| string.number);
            string(&pen, rect, reading, number);
            let verdict = verdict(reading.cents);
            format!("{}, {verdict}", text::string_name(number, reading.target))
        }
    };
    scale(&pen, rect, view.sounding);
    if !matches!(view.sounding, Sounding::String(_)) {
        let set = pen.read(Face::Regular, Step::Title, pen.palette().quiet);
        let set = pen.fitted(&words, set, rect.width());
        pen.text_centred(pos2(rect.center().x, rect.top() + 110.0 * pen.unit), &words, set);
    }
    say(ui, space, "tuner", &words);
    strings(ui, hand, view, intents);
    hand.gap(ui, 10.0);
    if view.capo > 0 {
        hand.sentence(ui, &text::capo(view.capo));
    }
    hand.sentence_near(ui, text::TUNER_HINT);
}

fn verdict(cents: f64) -> String {
    if cents.abs() <= IN_TUNE { text::IN_TUNE.to_owned() } else { text::off(cents) }
}

/// The string's name, how far off it is, and what to do.
fn string(pen: &Pen<'_>, rect: Rect, reading: Reading, number: usize) {
    let unit = pen.unit;
    let palette = *pen.palette();
    let middle = rect.center().x;
    let set = pen.set(Face::Bold, Step::Now, palette.ink);
    pen.text_centred(pos2(middle, rect.top() + 56.0 * unit), &reading.target.to_string(), set);
    let set = pen.read(Face::Medium, Step::Lead, palette.quiet);
    pen.text_centred(pos2(middle, rect.top() + 118.0 * unit), &text::string_number(number), set);
    let is_right = reading.cents.abs() <= IN_TUNE;
    let colour = if is_right { palette.heard } else { palette.late };
    let below = rect.top() + 284.0 * unit;
    let verdict = verdict(reading.cents);
    let set = pen.read(Face::SemiBold, Step::Huge, colour);
    if is_right {
        pen.text_centred(pos2(middle, below), &verdict, set);
        return;
    }
    // Beside it the arrow and what to do; where that does not fit, all of it lies in the middle.
    let cure = text::cure(reading.cents);
    let cure_set = pen.read(Face::Medium, Step::Lead, palette.ink);
    let beside = pen.width(cure, cure_set) + 94.0 * unit;
    let set = pen.fitted(&verdict, set, (rect.width() - beside).max(120.0 * unit));
    let half = pen.width(&verdict, set) / 2.0;
    let out = (half + beside - rect.width() / 2.0).max(0.0);
    let shift = if out > 0.0 { beside / 2.0 } else { 0.0 };
    let middle = if reading.cents < 0.0 { middle - shift } else { middle + shift };
    let drawn = pen.text_centred(pos2(middle, below), &verdict, set);
    // The arrow points where the pitch has to go: right is up.
    let right = reading.cents < 0.0;
    let way = if right { 1.0 } else { -1.0 };
    let tip = middle + way * (drawn.width() / 2.0 + 78.0 * unit);
    let back = tip - way * 44.0 * unit;
    let neck = tip - way * 18.0 * unit;
    pen.line(pos2(back, below), pos2(neck, below), 5.0 * unit, colour);
    pen.triangle([pos2(tip, below), pos2(neck, below - 14.0 * unit), pos2(neck, below + 14.0 * unit)], colour);
    let side = if right { Side::Left } else { Side::Right };
    pen.text_level(pos2(tip + way * 16.0 * unit, below), side, cure, cure_set, f32::INFINITY);
}

/// The line from half a semitone flat to half a semitone sharp, and the needle on it.
fn scale(pen: &Pen<'_>, rect: Rect, sounding: Sounding) {
    let unit = pen.unit;
    let palette = *pen.palette();
    let level = rect.top() + 214.0 * unit;
    let half = (rect.width() / 2.0 - 70.0 * unit).min(430.0 * unit);
    #[expect(clippy::cast_possible_truncation, reason = "points on the screen")]
    let x = |cents: f64| rect.center().x + (cents.clamp(-REACH, REACH) / REACH) as f32 * half;
    let goal = Rect::from_min_max(pos2(x(-IN_TUNE), level - 34.0 * unit), pos2(x(IN_TUNE), level + 18.0 * unit));
    pen.block(goal, 3.0 * unit, palette.shade);
    pen.frame(goal, 3.0 * unit, (1.5 * unit).max(1.0), palette.thin);
    pen.line(pos2(x(-REACH), level), pos2(x(REACH), level), (1.5 * unit).max(1.0), palette.thin);
    for tens in -5..=5 {
        let reach = if tens % 5 == 0 { 14.0 } else { 8.0 } * unit;
        let at = x(f64::from(tens) * 10.0);
        pen.line(pos2(at, level - reach), pos2(at, level), (1.5 * unit).max(1.0), palette.thin);
    }
    let set = pen.set(Face::Medium, Step::Body, palette.quiet);
    pen.text_level(pos2(x(-REACH) - 14.0 * unit, level), Side::Right, text::FLAT, set, 60.0 * unit);
    pen.text_level(pos2(x(REACH) + 14.0 * unit, level), Side::Left, text::SHARP, set, 60.0 * unit);
    let Sounding::String(reading) = sounding else { return };
    let at = x(reading.cents);
    let colour = if reading.cents.abs() <= IN_TUNE { palette.heard } else { palette.ink };
    // A needle not sure yet is thin.
    let width = if reading.is_steady { 6.0 } else { 3.0 } * unit;
    pen.line(pos2(at, level - 40.0 * unit), pos2(at, level + 22.0 * unit), width, colour);
    pen.triangle(
        [
            pos2(at, level - 36.0 * unit),
            pos2(at - 11.0 * unit, level - 56.0 * unit),
            pos2(at + 11.0 * unit, level - 56.0 * unit),
        ],
        colour,
    );
}

/// The strings to choose from, laid out as the player sees them, and a place for all of them.
fn strings(ui: &mut Ui, hand: Hand, view: &TunerView, intents: &mut Vec<Intent>) {
    let sounds = match view.sounding {
        Sounding::String(reading) => Some(reading.string),
        _ => None,
    };
    let size = vec2(ui.available_width(), 82.0 * hand.unit);
    let (row, _) = ui.allocate_exact_size(size, Sense::hover());
    let mut shown: Vec<(Option<usize>, Option<&TunedString>)> = vec![(None, None)];
    let numbered = view.strings.iter().enumerate().map(|(index, string)| (Some(index), Some(string)));
    if hand.theme.look.hand == Strumming::Left {
        shown.extend(numbered.rev());
    } else {
        shown.extend(numbered);
    }
    #[expect(clippy::cast_precision_loss, reason = "nine at most")]
    let width = (row.width() / shown.len() as f32).min(150.0 * hand.unit);
    #[expect(clippy::cast_precision_loss, reason = "nine at most")]
    let left = row.center().x - width * shown.len() as f32 / 2.0;
    for (place, (index, string)) in shown.into_iter().enumerate() {
        #[expect(clippy::cast_precision_loss, reason = "nine at most")]
        let corner = pos2(left + place as f32 * width, row.top());
        let cell = Rect::from_min_size(corner, vec2(width, row.height()));
        let is_sounding = index.is_some() && index == sounds;
        if cell_ui(ui, hand, cell, string, (view.only == index, is_sounding)) {
            intents.push(Intent::ListenForString(index));
        }
    }
}

/// One of them: a ring, filled when it is listened for, its name, and what it should sound.
fn cell_ui(ui: &Ui, hand: Hand, cell: Rect, string: Option<&TunedString>, (only, sounds): (bool, bool)) -> bool {
    let name = string.map_or_else(|| text::ANY_STRING.to_owned(), |it| text::string_name(it.number, it.pitch));
    let response =
        hand.cell(ui, cell, ("string", name.as_str()), || WidgetInfo::selected(Role::RadioButton, true, only, &name));
    let pen = Pen::new(ui.painter(), hand.theme, hand.unit).reading(hand.theme.look.least_pt());
    let unit = pen.unit;
    let palette = *pen.palette();
    let middle = cell.center().x;
    let at = pos2(middle, cell.top() + 12.0 * unit);
    if only {
        pen.dot(at, 6.0 * unit, palette.ink);
    } else {
        pen.ring(at, 6.0 * unit, (1.8 * unit).max(1.5), palette.thin);
    }
    let face = if sounds || (only && string.is_none()) { Face::Bold } else { Face::Medium };
    let words = string.map_or_else(|| text::ANY_STRING.to_owned(), |it| it.pitch.to_string());
    let step = if string.is_some() { Step::Title } else { Step::Body };
    // No higher than the cell has room for.
    let set = pen.read(face, step, palette.ink);
    let set = Type { size: set.size.min(30.0 * unit), ..set };
    let set = pen.fitted(&words, set, cell.width() - 8.0 * unit);
    let drawn = pen.text_centred(pos2(middle, cell.top() + 38.0 * unit), &words, set);
    if let Some(string) = string {
        let set = pen.set(Face::Regular, Step::Small, palette.quiet);
        pen.text_centred(pos2(middle, cell.top() + 66.0 * unit), &text::hertz(string.pitch), set);
    }
    if sounds {
        let level = cell.top() + 54.0 * unit;
        pen.line(pos2(drawn.left(), level), pos2(drawn.right(), level), 3.0 * unit, palette.ink);
    }
    response.clicked()
}
