//! The lesson as it will be printed, page by page, and the choices it is printed by.

use std::sync::Arc;

use egui::{
    Align, EventFilter, Key, Layout, Rect, Response, ScrollArea, Sense, Ui, UiBuilder, WidgetInfo, accesskit::Role,
    pos2, vec2,
};
use sixrung_drawing::Hand as Strumming;
use sixrung_exchange::guide::{Guide, Paper, Print};

use super::parts::Hand;
use crate::draw::{Pen, paper};
use crate::stand::{GuideWish, Intent};
use crate::text::guide_page as text;

/// What the page shows.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct GuidePage {
    /// The pages; none when no lesson is open or it can't be laid out.
    pub guide: Option<Arc<Guide>>,
    /// Which is shown, from 0.
    pub page: usize,
    /// Whether half a page is shown, larger, and then whether the lower half.
    pub closer: Option<bool>,
    /// The paper chosen.
    pub paper: Paper,
    /// The hand chosen.
    pub hand: Strumming,
    /// The print chosen.
    pub print: Print,
    /// The arrangements by name, and which is chosen.
    pub arrangements: Vec<(String, bool)>,
    /// What came of the last wish.
    pub said: String,
}

/// Width of the choices, in units.
const CHOICES: f32 = 272.0;
/// Between the choices and the paper, in units.
const GAP: f32 = 48.0;
/// With less room for the paper than this, in units, it lies under the choices.
const NARROW: f32 = 240.0;

/// Draws the page.
pub(super) fn show(ui: &mut Ui, hand: Hand, view: &GuidePage, intents: &mut Vec<Intent>) {
    let Some(guide) = &view.guide else {
        hand.heading(ui, text::TITLE);
        return hand.sentence(ui, if view.said.is_empty() { text::EMPTY } else { &view.said });
    };
    let room = ui.clip_rect();
    let mut wishes = Vec::new();
    let area = ui.available_rect_before_wrap();
    let left = area.left() + (CHOICES + GAP) * hand.unit;
    if area.right() - left < NARROW * hand.unit {
        choices(ui, hand, view, guide, &mut wishes);
        hand.gap(ui, 16.0);
        let width = ui.available_width();
        let (rect, _) = ui.allocate_exact_size(paper::size(guide, width), Sense::hover());
        sheet(ui, hand, view, guide, rect, rect, &mut wishes);
    } else {
        // The paper stays where it is while the choices scroll.
        let column = Rect::from_min_max(area.min, pos2(left - GAP * 0.5 * hand.unit, room.bottom()));
        let mut child = ui.new_child(UiBuilder::new().max_rect(column).id_salt("choices"));
        ScrollArea::vertical().auto_shrink(false).show(&mut child, |ui| {
            ui.set_max_width(CHOICES * hand.unit);
            choices(ui, hand, view, guide, &mut wishes);
        });
        let beside = Rect::from_min_max(pos2(left, room.top()), pos2(area.right(), room.bottom()));
        let (rect, shown) = fitted(view, guide, beside);
        sheet(ui, hand, view, guide, rect, shown, &mut wishes);
    }
    intents.extend(wishes.into_iter().map(Intent::Guide));
}

/// Where the page lies, and which part of it is in sight: all of it, or its upper or lower half as wide as there is room.
fn fitted(view: &GuidePage, guide: &Guide, room: Rect) -> (Rect, Rect) {
    // A little inside, so that the ring of the keyboard is seen all round.
    let room = room.shrink(5.0);
    let whole = room.height() * guide.size.0 / guide.size.1;
    let Some(lower) = view.closer else {
        let size = paper::size(guide, whole.min(room.width())).floor();
        let rect = Rect::from_min_size(pos2(room.center().x - size.x / 2.0, room.top()).round(), size);
        return (rect, rect);
    };
    // A little of either half is seen with the other.
    let size = paper::size(guide, (whole * 1.9).min(room.width())).floor();
    let top = if lower { room.bottom() - size.y } else { room.top() };
    let rect = Rect::from_min_size(pos2(room.center().x - size.x / 2.0, top).round(), size);
    (rect, rect.intersect(room))
}

fn sheet(ui: &Ui, hand: Hand, view: &GuidePage, guide: &Guide, rect: Rect, shown: Rect, wishes: &mut Vec<GuideWish>) {
    let painter = ui.painter().with_clip_rect(ui.clip_rect().intersect(shown.expand(1.0)));
    paper::paint(&painter, hand.theme, rect, guide, view.page);
    let response = ui.interact(shown, ui.scope_id().with("sheet"), Sense::click());
    let name = text::page_name(view.page + 1, guide.pages.len(), &guide.title);
    response.widget_info(|| WidgetInfo::labeled(Role::Image, true, &name));
    if let Some(page) = guide.pages.get(view.page) {
        paper::say(ui, rect, guide, page);
    }
    if response.has_focus() {
        let pen = Pen::new(ui.painter(), hand.theme, hand.unit);
        pen.focus_ring(shown, 0.0);
        wishes.extend(turned(ui, &response));
    }
    if response.clicked() {
        wishes.push(GuideWish::Closer);
    }
}

/// While the page itself has the keyboard, arrows turn it rather than go on to the next control.
fn turned(ui: &Ui, response: &Response) -> Option<GuideWish> {
    let filter = EventFilter { horizontal_arrows: true, vertical_arrows: true, ..EventFilter::default() };
    ui.memory_mut(|memory| memory.set_focus_lock_filter(response.id, filter));
    if response.gained_focus() {
        // The arrows are its own from the second frame on.
        ui.ctx().request_repaint();
    }
    ui.input(|input| {
        let pressed = |keys: [Key; 2]| keys.into_iter().any(|key| input.key_pressed(key));
        if pressed([Key::ArrowRight, Key::ArrowDown]) {
            Some(GuideWish::Next)
        } else if pressed([Key::ArrowLeft, Key::ArrowUp]) {
            Some(GuideWish::Previous)
        } else {
            None
        }
    })
}

fn choices(ui: &mut Ui, hand: Hand, view: &GuidePage, guide: &Guide, wishes: &mut Vec<GuideWish>) {
    hand.heading(ui, text::TITLE);
    ui.allocate_ui_with_layout(vec2(ui.available_width(), 34.0 * hand.unit), Layout::left_to_right(Align::Min), |ui| {
        hand.words(ui, &text::place(view.page + 1, guide.pages.len()));
        if view.page > 0 && hand.link(ui, text::PREVIOUS) {
            wishes.push(GuideWish::Previous);
        }
        if view.page + 1 < guide.pages.len() && hand.link(ui, text::NEXT) {
            wishes.push(GuideWish::Next);
        }
    });
    if hand.toggle(ui, text::CLOSER, text::CLOSER, view.closer.is_some()) {
        wishes.push(GuideWish::Closer);
    }
    let papers = [Paper::A4, Paper::Letter].map(|one| (text::paper(one), one == view.paper, GuideWish::Paper(one)));
    pair(ui, hand, text::PAPER, papers, wishes);
    let hands =
        [Strumming::Right, Strumming::Left].map(|one| (text::hand(one), one == view.hand, GuideWish::Hand(one)));
    pair(ui, hand, text::HAND, hands, wishes);
    let prints = [Print::Usual, Print::Large].map(|one| (text::print(one), one == view.print, GuideWish::Print(one)));
    pair(ui, hand, text::PRINT, prints, wishes);
    hand.label(ui, text::ARRANGEMENT);
    let all: Vec<_> = (0..).zip(&view.arrangements).collect();
    for row in all.chunks(2) {
        let row =
            row.iter().map(|(place, (name, is_chosen))| (name.as_str(), *is_chosen, GuideWish::Arrangement(*place)));
        abreast(ui, hand, row, wishes);
    }
    hand.gap(ui, 16.0);
    if !guide.missing.is_empty() {
        let letters: String = guide.missing.iter().collect();
        hand.attention(ui, &text::missing(&letters));
    }
    if !view.said.is_empty() {
        hand.sentence(ui, &view.said);
    }
}

/// Two to choose from, under what they are.
fn pair(ui: &mut Ui, hand: Hand, label: &str, choices: [(&str, bool, GuideWish); 2], wishes: &mut Vec<GuideWish>) {
    hand.label(ui, label);
    abreast(ui, hand, choices.into_iter(), wishes);
}

/// One or two to choose from, side by side.
fn abreast<'a>(
    ui: &mut Ui,
    hand: Hand,
    choices: impl Iterator<Item = (&'a str, bool, GuideWish)>,
    wishes: &mut Vec<GuideWish>,
) {
    ui.columns(2, |columns| {
        for (ui, (words, is_chosen, wish)) in columns.iter_mut().zip(choices) {
            if hand.choice(ui, words, "", is_chosen).clicked() {
                wishes.push(wish);
            }
        }
    });
}
