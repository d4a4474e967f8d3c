//! The pages that lie over the stand: lessons, sections and arrangements, sound, tuner, appearance and keys.

mod afar;
mod calibrate;
mod care;
mod changes;
mod chords;
mod foot;
mod guide;
mod hand_over;
mod journal;
mod lessons;
mod look;
mod mix;
mod parts;
mod path;
mod sections;
mod shapes;
mod signs;
mod song;
mod sound;
mod today;
mod tuner;
mod view;

use egui::{Rect, ScrollArea, Ui, UiBuilder, pos2, vec2};

pub use view::{
    AnswerView, ArrangementItem, AskView, AskedChord, BeatMark, CalibrateView, ChangeItem, ChangesPage, ChordItem,
    ChordState, ChordsPage, DrillView, FingerMarks, FoundBeats, HandOverPage, HandOverSide, InputItem, JournalPage,
    LessonItem, LessonsView, OffsetDay, OpenedPass, OutputItem, PageView, PairItem, PartsView, PassItem, ReportView,
    RoundTrip, RungSong, SectionItem, SectionLine, SectionsView, ShapeItem, ShapesPage, SongPage, SongState, SoundView,
    TappedBeats, TunedString, TunerView,
};

pub use guide::GuidePage;
pub use today::{MINUTES, TodayItem, TodayPage};

use crate::draw::Pen;
use crate::draw::pen::crisp;
use crate::stand::{Intent, Page, StandView};
use crate::theme::{Look, Theme, visuals};
use parts::Hand;

impl PageView {
    /// Which page this is.
    #[must_use]
    pub const fn page(&self) -> Page {
        match self {
            Self::Lessons(_) => Page::Lessons,
            Self::Sections(_) => Page::Sections,
            Self::Sound(_) => Page::Sound,
            Self::Parts(_) => Page::Parts,
            Self::Calibrate(_) => Page::Calibrate,
            Self::Tuner(_) => Page::Tuner,
            Self::Chords(_) => Page::Chords,
            Self::Song(_) => Page::Song,
            Self::Today(_) => Page::Today,
            Self::Path(_) => Page::Path,
            Self::Shapes(_) => Page::Shapes,
            Self::Changes(_) => Page::Changes,
            Self::Journal(_) => Page::Journal,
            Self::HandOver(_) => Page::HandOver,
            Self::Guide(_) => Page::Guide,
            Self::Signs => Page::Signs,
            Self::Care => Page::Care,
            Self::Look(..) => Page::Look,
        }
    }
}

/// Shows a page in all of `ui`, over what is on the stand.
pub fn page_ui(ui: &mut Ui, page: &PageView, stand: &StandView, intents: &mut Vec<Intent>) {
    let theme = Theme::new(stand.look);
    let window = ui.max_rect();
    let unit = page_unit(window, &stand.look);
    let painter = ui.painter().clone();
    let pen = Pen::new(&painter, theme, unit);
    let (margin, line) = (32.0 * unit, 72.0 * unit);
    let sheet = crisp(Rect::from_min_max(
        pos2(window.left() + margin, window.top() + line),
        pos2(window.right() - margin, window.bottom() - line),
    ));
    pen.block(window, 0.0, theme.palette.surround);
    pen.paper(sheet);
    let top = Rect::from_min_max(pos2(sheet.left(), window.top()), pos2(sheet.right(), sheet.top()));
    crate::stand::top_line(ui, &pen, top, stand, Some(page.page()), intents);
    let inside = sheet.shrink2(vec2(44.0, 24.0) * unit);
    // What can be scrolled to fades into the paper it is on.
    let paper = egui::Frame::NONE.fill(theme.palette.sheet);
    let stack = egui::UiStackInfo::new(egui::UiKind::CentralPanel).with_frame(paper);
    let builder = UiBuilder::new().max_rect(inside).id_salt(page.page()).ui_stack_info(stack);
    let mut child = ui.new_child(builder);
    *child.visuals_mut() = visuals(&theme);
    child.spacing_mut().scroll.fade.strength = 1.0;
    let far = afar::unit(page, &stand.look, inside.size(), unit);
    let hand = Hand { theme, unit: far.unwrap_or(unit), is_far: far.is_some() };
    child.spacing_mut().item_spacing = vec2(8.0, 2.0) * hand.unit;
    ScrollArea::vertical().auto_shrink(false).show(&mut child, |ui| match page {
        PageView::Lessons(view) => lessons::show(ui, hand, view, intents),
        PageView::Sections(view) => sections::show(ui, hand, view, intents),
        PageView::Sound(view) => sound::show(ui, hand, view, intents),
        PageView::Parts(view) => mix::show(ui, hand, view, intents),
        PageView::Calibrate(view) => calibrate::show(ui, hand, view, intents),
        PageView::Tuner(view) => tuner::show(ui, hand, view, intents),
        PageView::Chords(view) => chords::show(ui, hand, view, intents),
        PageView::Song(view) => song::show(ui, hand, view, intents),
        PageView::Today(view) => today::show(ui, hand, view, intents),
        PageView::Path(view) => path::show(ui, hand, view, intents),
        PageView::Changes(view) => changes::show(ui, hand, view, intents),
        PageView::Shapes(view) => shapes::show(ui, hand, view, intents),
        PageView::Care => care::show(ui, hand, intents),
        PageView::Journal(view) => journal::show(ui, hand, view, intents),
        PageView::HandOver(view) => hand_over::show(ui, hand, view, intents),
        PageView::Guide(view) => guide::show(ui, hand, view, intents),
        PageView::Signs => signs::show(ui, hand, stand),
        PageView::Look(look, pedals) => look::show(ui, hand, look, (stand, pedals), intents),
    });
    let foot = window.bottom() - line / 2.0;
    foot::show(ui, &pen, pos2(sheet.left(), foot), page, intents);
}

/// Pages scroll, so they follow the scale farther than the stand can.
fn page_unit(window: Rect, look: &Look) -> f32 {
    let fit = (window.width() / 1280.0).min(window.height() / 800.0);
    (look.scale * fit.clamp(1.0, 1.6)).min(fit * 1.15 * look.scale.max(1.0).sqrt()).max(0.5)
}
