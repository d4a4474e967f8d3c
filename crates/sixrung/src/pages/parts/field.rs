//! A field to type in.

use egui::accesskit::Role;
use egui::{Id, Key, Response, RichText, TextEdit, Ui, WidgetInfo, vec2};

use super::Hand;
use crate::theme::{Face, Step, font};

impl Hand {
    /// A line of text to be changed; `name` is what is read aloud, `hint` stands in it while it is empty.
    pub(in crate::pages) fn field(self, ui: &mut Ui, name: &str, hint: &str, typed: &mut String) -> Response {
        let font = font(Face::Regular, Step::Label.points() * self.unit);
        let hint = RichText::new(hint).color(self.theme.palette.quiet).font(font.clone());
        let field = TextEdit::singleline(typed)
            .id_salt(name)
            .hint_text(hint)
            .font(font)
            .text_color(self.theme.palette.ink)
            .margin(vec2(10.0, 8.0) * self.unit)
            .desired_width(f32::INFINITY);
        let response = ui.add(field);
        response.widget_info(|| WidgetInfo::labeled(Role::TextInput, true, name));
        response
    }

    /// A field whose text is the window's own affair until it is sent with Enter; then it is empty again.
    pub(in crate::pages) fn field_to_send(self, ui: &mut Ui, name: &str) -> Option<String> {
        let id = Id::unique(name);
        let mut typed = ui.data_mut(|data| data.get_temp::<String>(id)).unwrap_or_default();
        let response = self.field(ui, name, name, &mut typed);
        let is_sent = response.lost_focus() && ui.input(|input| input.key_pressed(Key::Enter));
        let text = typed.trim().to_owned();
        let sent = (is_sent && !text.is_empty()).then_some(text);
        ui.data_mut(|data| data.insert_temp(id, if sent.is_some() { String::new() } else { typed }));
        sent
    }
}
