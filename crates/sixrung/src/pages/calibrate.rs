//! Measuring: how long sound takes, and what is done to it on the way.

use egui::{Rect, Sense, Ui, pos2, vec2};
use sixrung_listen::Reason;

use super::parts::Hand;
use super::view::{CalibrateView, RoundTrip};
use crate::draw::{Pen, meter, say as name};
use crate::measuring::{Measure, Measured};
use crate::say;
use crate::stand::{HearingState, Intent, Page};
use crate::text::{self as words, calibrate as text, pages};

/// Draws the page.
pub(super) fn show(ui: &mut Ui, hand: Hand, view: &CalibrateView, intents: &mut Vec<Intent>) {
    hand.heading(ui, text::CALIBRATE);
    if !view.has_devices {
        hand.attention(ui, text::NO_DEVICES);
        if hand.link(ui, pages::SOUND) {
            intents.push(Intent::OpenPage(Page::Sound));
        }
        return;
    }
    let mut more = Vec::new();
    hand.columns(ui, |ui| trip(ui, hand, view, intents), |ui| check(ui, hand, view, &mut more));
    intents.append(&mut more);
    hand.gap(ui, 18.0);
    level(ui, hand, view);
}

fn trip(ui: &mut Ui, hand: Hand, view: &CalibrateView, intents: &mut Vec<Intent>) {
    hand.label(ui, pages::ROUND_TRIP);
    hand.line(ui, &pages::round_trip(view.trip));
    hand.gap(ui, 4.0);
    hand.sentence(ui, text::trip_kind(view.trip));
    hand.gap(ui, 10.0);
    step(ui, hand, view, Measure::Loopback, text::LOOPBACK, text::LOOPBACK_WORDS, intents);
    step(ui, hand, view, Measure::TapAlong, text::TAP_ALONG, text::TAP_ALONG_WORDS, intents);
    let refused = match &view.outcome {
        Some(Measured::Loopback(Err(why))) => Some((Measure::Loopback, *why)),
        Some(Measured::TapAlong(Err(why))) => Some((Measure::TapAlong, *why)),
        _ => None,
    };
    if let Some((measure, why)) = refused {
        hand.attention(ui, &text::sentence(&say::not_measured(measure, why)));
        hand.sentence(ui, &text::sentence(say::measure_hint(measure, why)));
    } else if let RoundTrip::Heard(..) = view.trip
        && let Some(Measured::Loopback(Ok(found))) = &view.outcome
    {
        hand.sentence(ui, &text::heard(found.trip.agreed, found.trip.asked, found.above_noise_db));
    }
}

fn check(ui: &mut Ui, hand: Hand, view: &CalibrateView, intents: &mut Vec<Intent>) {
    hand.label(ui, text::CHECK);
    let unheard = match &view.outcome {
        Some(Measured::Strums(found)) => found.iter().find(|found| matches!(found, Reason::Silence | Reason::Gap)),
        _ => None,
    };
    match &view.check {
        None => hand.line(ui, text::UNCHECKED),
        Some((found, _)) if found.is_empty() => hand.line(ui, text::PASSED),
        Some((found, overruled)) => {
            for found in found {
                hand.attention(ui, say::reason_sentence(*found));
                hand.sentence(ui, say::cure_sentence(*found));
                hand.gap(ui, 6.0);
            }
            if *overruled {
                hand.sentence(ui, text::OVERRULED);
            } else {
                hand.sentence(ui, text::STANDS);
                if hand.link(ui, text::OVERRULE) {
                    intents.push(Intent::OverruleCheck);
                }
            }
        }
    }
    if let Some(unheard) = unheard {
        hand.attention(ui, say::reason_sentence(*unheard));
        hand.sentence(ui, say::cure_sentence(*unheard));
    }
    hand.gap(ui, 10.0);
    step(ui, hand, view, Measure::Strums, text::STRUMS, text::STRUMS_WORDS, intents);
}

/// Something to start, and what to do meanwhile.
fn step(
    ui: &mut Ui,
    hand: Hand,
    view: &CalibrateView,
    measure: Measure,
    link: &str,
    what: &str,
    intents: &mut Vec<Intent>,
) {
    match view.running {
        Some((running, share)) if running == measure => {
            hand.line(ui, text::now(measure, share));
            let size = vec2(ui.available_width().min(320.0 * hand.unit), 12.0 * hand.unit);
            let (rect, _) = ui.allocate_exact_size(size, Sense::hover());
            bar(ui, hand, rect, share);
        }
        // One thing at a time.
        Some(_) => hand.sentence(ui, what),
        None => {
            if hand.link(ui, link) {
                intents.push(Intent::Measure(measure));
            }
            hand.sentence(ui, what);
        }
    }
    hand.gap(ui, 10.0);
}

/// How far it is.
pub(super) fn bar(ui: &Ui, hand: Hand, rect: Rect, share: f32) {
    let pen = Pen::new(ui.painter(), hand.theme, hand.unit);
    let palette = *pen.palette();
    pen.block(rect, 4.0 * pen.unit, palette.shade);
    let done = Rect::from_min_max(rect.min, pos2(rect.left() + share * rect.width(), rect.bottom()));
    pen.block(done, 4.0 * pen.unit, palette.now);
    name(ui, rect, "progress", &words::percent((share * 100.0).round() as u32));
}

fn level(ui: &mut Ui, hand: Hand, view: &CalibrateView) {
    hand.label(ui, words::hearing(view.hearing.state));
    let size = vec2(ui.available_width().min(320.0 * hand.unit), 24.0 * hand.unit);
    let (rect, _) = ui.allocate_exact_size(size, Sense::hover());
    let pen = Pen::new(ui.painter(), hand.theme, hand.unit);
    meter::paint(&pen, rect, view.hearing.level, view.hearing.state == HearingState::TooLoud);
}
