//! What pages are made of: headings, labels, rows to choose from, sliders, sentences. No boxes in boxes.

mod field;

use std::ops::RangeInclusive;

use egui::accesskit::Role;
use egui::{CursorIcon, Rect, Response, Sense, Ui, WidgetInfo, pos2, vec2};

use crate::draw::slider::slider;
use crate::draw::{Pen, Side, Type, press};
use crate::theme::{Face, Step, Theme};

/// How a page is drawn: the theme, how many points one drawn unit is, and whether it is read from afar: then only what
/// is needed to act is left, larger.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) struct Hand {
    pub(super) theme: Theme,
    pub(super) unit: f32,
    pub(super) is_far: bool,
}

impl Hand {
    fn with_pen<R>(self, ui: &Ui, draw: impl FnOnce(&Pen<'_>) -> R) -> R {
        draw(&Pen::new(ui.painter(), self.theme, self.unit))
    }

    /// A heading that makes room from afar.
    pub(super) fn heading_near(self, ui: &mut Ui, words: &str) {
        if !self.is_far {
            self.heading(ui, words);
        }
    }

    /// A sentence that makes room from afar.
    pub(super) fn sentence_near(self, ui: &mut Ui, words: &str) {
        if !self.is_far {
            self.sentence(ui, words);
        }
    }

    /// A heading.
    pub(super) fn heading(self, ui: &mut Ui, words: &str) {
        self.paragraph(ui, words, |pen| pen.set(Face::BookBold, Step::Large, pen.palette().ink));
        self.gap(ui, 12.0);
    }

    /// A quiet label above what belongs together.
    pub(super) fn label(self, ui: &mut Ui, words: &str) {
        self.gap(ui, 12.0);
        self.paragraph(ui, words, |pen| pen.set(Face::SemiBold, Step::Label, pen.palette().quiet));
        self.gap(ui, 4.0);
    }

    /// A sentence in quiet ink.
    pub(super) fn sentence(self, ui: &mut Ui, words: &str) {
        self.paragraph(ui, words, |pen| pen.set(Face::Regular, Step::Label, pen.palette().quiet));
    }

    /// What counts, in plain ink.
    pub(super) fn line(self, ui: &mut Ui, words: &str) {
        self.paragraph(ui, words, |pen| pen.set(Face::Medium, Step::Body, pen.palette().ink));
    }

    /// A sentence to look at, with its sign.
    pub(super) fn attention(self, ui: &mut Ui, words: &str) {
        let words = format!("△ {words}");
        self.paragraph(ui, &words, |pen| pen.set(Face::Medium, Step::Label, pen.palette().late));
    }

    /// Room between things, in units.
    pub(super) fn gap(self, ui: &mut Ui, units: f32) {
        ui.add_space(units * self.unit);
    }

    fn paragraph(self, ui: &mut Ui, words: &str, set: impl FnOnce(&Pen<'_>) -> Type) {
        let corner = ui.cursor().min;
        let width = ui.available_width();
        let drawn = self.with_pen(ui, |pen| pen.paragraph(corner, words, set(pen), width, 12));
        let response = ui.allocate_rect(drawn, Sense::empty());
        response.widget_info(|| WidgetInfo::labeled(Role::Label, true, words));
    }

    /// One of several to choose from: a ring, filled when chosen, its name, and a quiet word after it.
    pub(super) fn choice(self, ui: &mut Ui, words: &str, detail: &str, is_chosen: bool) -> Response {
        let size = vec2(ui.available_width(), 34.0 * self.unit);
        let (rect, response) = ui.allocate_exact_size(size, Sense::click());
        let response = response.on_hover_cursor(CursorIcon::PointingHand);
        response.widget_info(|| WidgetInfo::selected(Role::RadioButton, true, is_chosen, words));
        self.with_pen(ui, |pen| {
            let unit = pen.unit;
            let palette = *pen.palette();
            if response.hovered() {
                pen.block(rect, 4.0 * unit, palette.shade);
            }
            let at = pos2(rect.left() + 16.0 * unit, rect.center().y);
            if is_chosen {
                pen.dot(at, 7.0 * unit, palette.ink);
            } else {
                pen.ring(at, 7.0 * unit, (1.8 * unit).max(1.5), palette.thin);
            }
            let face = if is_chosen { Face::SemiBold } else { Face::Regular };
            let left = rect.left() + 36.0 * unit;
            let set = pen.set(face, Step::Body, palette.ink);
            let drawn = pen.text_level(pos2(left, at.y), Side::Left, words, set, rect.right() - left);
            let after = drawn.right() + 14.0 * unit;
            let set = pen.set(Face::Regular, Step::Label, palette.quiet);
            pen.text_level(pos2(after, at.y), Side::Left, detail, set, rect.right() - after);
            if response.has_focus() {
                pen.focus_ring(rect, 4.0 * unit);
            }
        });
        response
    }

    /// Something that is or is not: a box, ticked when it is. Says whether it was pressed; `name` is what is read aloud.
    pub(super) fn toggle(self, ui: &mut Ui, words: &str, name: &str, is_on: bool) -> bool {
        let width = self.with_pen(ui, |pen| pen.width(words, pen.set(Face::SemiBold, Step::Label, pen.palette().ink)));
        let size = vec2(width + 40.0 * self.unit, 34.0 * self.unit);
        let (rect, response) = ui.allocate_exact_size(size, Sense::click());
        let response = response.on_hover_cursor(CursorIcon::PointingHand);
        response.widget_info(|| WidgetInfo::selected(Role::CheckBox, true, is_on, name));
        self.with_pen(ui, |pen| {
            let unit = pen.unit;
            let palette = *pen.palette();
            if response.hovered() {
                pen.block(rect, 4.0 * unit, palette.shade);
            }
            let middle = pos2(rect.left() + 15.0 * unit, rect.center().y);
            let square = Rect::from_center_size(middle, vec2(14.0, 14.0) * unit);
            if is_on {
                pen.block(square, 2.0 * unit, palette.ink);
                let [from, turn, to] = [(-4.0, 0.0), (-1.0, 3.5), (4.5, -4.0)].map(|(x, y)| middle + vec2(x, y) * unit);
                pen.path(vec![from, turn, to], 2.0 * unit, palette.sheet);
            } else {
                pen.frame(square, 2.0 * unit, (1.8 * unit).max(1.5), palette.thin);
            }
            let face = if is_on { Face::SemiBold } else { Face::Regular };
            let set = pen.set(face, Step::Label, palette.ink);
            pen.text_level(pos2(rect.left() + 30.0 * unit, middle.y), Side::Left, words, set, rect.width());
            if response.has_focus() {
                pen.focus_ring(rect, 4.0 * unit);
            }
        });
        response.clicked()
    }

    /// A cell that can be pressed, marked while it is pointed at or has the focus; what is in it is drawn on top.
    pub(super) fn cell(self, ui: &Ui, cell: Rect, id: (&str, &str), info: impl Fn() -> WidgetInfo) -> Response {
        let response = ui.interact(cell, ui.scope_id().with(id), Sense::click());
        let response = response.on_hover_cursor(CursorIcon::PointingHand);
        response.widget_info(info);
        self.with_pen(ui, |pen| {
            if response.has_focus() {
                pen.focus_ring(cell.shrink(3.0), 4.0);
            } else if response.hovered() {
                pen.block(cell.shrink(2.0), 4.0 * pen.unit, pen.palette().shade);
            }
        });
        response
    }

    /// A name, a slider, its value in words; gives the new value.
    pub(super) fn slider(
        self,
        ui: &mut Ui,
        words: &str,
        value: (f32, &str),
        range: &RangeInclusive<f32>,
        step: f32,
    ) -> Option<f32> {
        let size = vec2(ui.available_width(), 34.0 * self.unit);
        let (rect, _) = ui.allocate_exact_size(size, Sense::hover());
        self.with_pen(ui, |pen| {
            let unit = pen.unit;
            let set = pen.set(Face::Regular, Step::Body, pen.palette().ink);
            pen.text_level(pos2(rect.left() + 4.0, rect.center().y), Side::Left, words, set, 110.0 * unit);
            let left = rect.left() + 126.0 * unit;
            let right = (rect.right() - 84.0 * unit).min(left + 240.0 * unit).max(left + 40.0 * unit);
            let rail = Rect::from_min_max(pos2(left, rect.top() + 4.0), pos2(right, rect.bottom() - 4.0));
            let set = pen.set(Face::Medium, Step::Label, pen.palette().quiet);
            pen.text_level(
                pos2(right + 16.0 * unit, rect.center().y),
                Side::Left,
                value.1,
                set,
                rect.right() - right - 16.0 * unit,
            );
            slider(ui, pen, rail, words, value.0, range, step)
        })
    }

    /// Words that do something, as a link.
    pub(super) fn link(self, ui: &mut Ui, words: &str) -> bool {
        let corner = ui.cursor().min;
        let width = ui.available_width();
        let rect = self.with_pen(ui, |pen| {
            let set = pen.set(Face::SemiBold, Step::Label, pen.palette().now);
            let level = corner + vec2(4.0, 17.0 * pen.unit);
            let drawn = pen.text_level(level, Side::Left, words, set, width);
            Rect::from_min_size(corner, vec2(drawn.width() + 8.0, 34.0 * pen.unit))
        });
        ui.allocate_rect(rect, Sense::hover());
        self.with_pen(ui, |pen| press(ui, pen, rect, words, words).clicked())
    }

    /// A few words before links, as high as these.
    pub(super) fn words(self, ui: &mut Ui, words: &str) {
        let corner = ui.cursor().min;
        let rect = self.with_pen(ui, |pen| {
            let set = pen.set(Face::Medium, Step::Body, pen.palette().ink);
            let level = corner + vec2(0.0, 17.0 * pen.unit);
            let drawn = pen.text_level(level, Side::Left, words, set, ui.available_width());
            Rect::from_min_size(corner, vec2(drawn.width() + 12.0 * pen.unit, 34.0 * pen.unit))
        });
        let response = ui.allocate_rect(rect, Sense::empty());
        response.widget_info(|| WidgetInfo::labeled(Role::Label, true, words));
    }

    /// Two columns when there is room for them, else one after the other.
    pub(super) fn columns(self, ui: &mut Ui, first: impl FnOnce(&mut Ui), second: impl FnOnce(&mut Ui)) {
        if ui.available_width() < 640.0 * self.unit {
            first(ui);
            self.gap(ui, 16.0);
            second(ui);
        } else {
            ui.spacing_mut().item_spacing.x = 48.0 * self.unit;
            ui.columns(2, |columns| {
                first(&mut columns[0]);
                second(&mut columns[1]);
            });
        }
    }
}
