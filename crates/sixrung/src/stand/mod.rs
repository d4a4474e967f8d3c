//! The stand: the sheet with what to play, the ladder beside it, the line with what can be done.

mod again;
mod controls;
mod elsewhere;
mod far;
mod guide;
mod hand_over;
mod hands;
mod intent;
mod journal;
mod layout;
mod lines;
mod mix;
mod path;
mod result;
mod sheet;
mod today;
mod view;

use egui::{Rect, Ui, pos2, vec2};

pub use guide::GuideWish;
pub use hand_over::{Asked, HandOverWish};
pub use intent::{
    ChangesWish, ChordsWish, HearAgain, InputChoice, Intent, LessonSource, Page, SectionChoice, ShapesWish, SongWish,
    Voice,
};
pub use journal::JournalWish;
pub use mix::{ClickChoice, Part, Volumes};
pub use path::{PathView, StepView};
pub use today::{TodayView, TodayWish};
pub use view::{
    BarStrip, ChordSpan, ChordView, ChordsView, HearAgainView, HearingState, HearingView, LadderView, MapBar, MapView,
    MarkKind, NextChord, Note, Pause, Phase, PlaceView, PlotMark, PlotView, Proposal, ResultView, RungState, RungView,
    SlotView, StandView, StringMark, SyllableView, WordLineView, WordsView,
};

use crate::draw::button::{self, Fill, button};
use crate::draw::pen::crisp;
use crate::draw::{Pen, ladder};
use crate::text;
use crate::theme::{Face, Step, Theme};
use layout::{Frame, Lines};

pub(crate) use lines::top_line;
pub(crate) use path::mark as step_mark;

/// How long the lines stay after the pointer moved, in seconds, when the stand is read from afar.
const LINES_STAY_S: f32 = 3.0;

/// Shows the stand in all of `ui`.
pub fn stand_ui(ui: &mut Ui, view: &StandView, intents: &mut Vec<Intent>) {
    let theme = Theme::new(view.look);
    let window = ui.max_rect();
    let frame = layout::frame(window, &view.look, !view.words.lines.is_empty(), lines(ui, view));
    let painter = ui.painter().clone();
    let pen = Pen::new(&painter, theme, frame.unit).reading(frame.least);
    pen.block(window, 0.0, theme.palette.surround);
    pen.paper(crisp(frame.sheet));
    if lines(ui, view) == Lines::Shown || frame.zones.next_diagram {
        lines::top_line(ui, &pen, frame.top, view, None, intents);
    }
    show_sheet(ui, &pen.with_unit(frame.sheet_unit), &frame, view, intents);
    // Wooden things keep their proportions while the room for them lasts.
    let ladder_unit = match frame.ladder_room() {
        ladder::Room::Narrow => frame.sheet_unit * 1.3,
        ladder::Room::Wide | ladder::Room::Plain => frame.ladder.width() / 312.0,
    };
    let space = match frame.ladder_room() {
        ladder::Room::Narrow => frame.ladder.shrink2(vec2(0.0, 36.0 * frame.sheet_unit)),
        ladder::Room::Wide | ladder::Room::Plain => frame.ladder,
    };
    if let Some(rung) = ladder::ladder(ui, &pen.with_unit(ladder_unit), space, &view.ladder, frame.ladder_room()) {
        intents.push(Intent::ChooseRung(rung));
    }
    if lines(ui, view) == Lines::Shown || frame.zones.next_diagram {
        controls::bottom(ui, &pen, frame.bottom, view, intents);
    }
}

fn show_sheet(ui: &Ui, pen: &Pen<'_>, frame: &Frame, view: &StandView, intents: &mut Vec<Intent>) {
    let is_far = !frame.zones.next_diagram;
    if view.place.title.is_empty() {
        empty(ui, pen, frame, intents);
    } else if hands::shows(&view.phase) {
        hands::show(ui, pen, frame, view, intents);
    } else if view.phase == Phase::SelfMark {
        result::ask(ui, pen, frame, view, intents);
    } else if let Some(result) = view.result.as_ref().filter(|_| shows_result(&view.phase)) {
        result::show(ui, pen, frame, view, result, intents);
    } else if is_far {
        far::show(ui, pen, frame, view);
    } else {
        sheet::show(ui, pen, frame, view, intents);
    }
}

/// The result lies on the sheet until the next count-in begins.
const fn shows_result(phase: &Phase) -> bool {
    matches!(phase, Phase::Idle | Phase::Between | Phase::Paused(_))
}

/// From afar the lines make room while playing, and come back when the pointer moves.
fn lines(ui: &Ui, view: &StandView) -> Lines {
    let is_playing = matches!(view.phase, Phase::CountIn { .. } | Phase::Playing | Phase::ListenFirst);
    let moved = ui.input(|input| input.pointer.time_since_last_movement());
    if is_playing && moved > LINES_STAY_S && view.notes.is_empty() { Lines::Hidden } else { Lines::Shown }
}

/// Nothing is open: what will be here, and the one thing that starts it.
fn empty(ui: &Ui, pen: &Pen<'_>, frame: &Frame, intents: &mut Vec<Intent>) {
    let unit = pen.unit;
    let corner = frame.sheet.min + vec2(44.0, 28.0) * unit;
    let room = (frame.sheet.width() - 88.0 * unit).min(620.0 * unit);
    let set = pen.set(Face::BookBold, Step::Large, pen.palette().ink);
    let title = pen.paragraph(corner, text::EMPTY_TITLE, set, room, 2);
    let set = pen.set(Face::Regular, Step::Body, pen.palette().quiet);
    let words = pen.paragraph(pos2(corner.x, title.bottom() + 8.0 * unit), text::EMPTY_WORDS, set, room, 4);
    let size = vec2(button::width(pen, text::EMPTY_BUTTON).max(196.0 * unit), (38.0 * unit).max(28.0));
    let rect = Rect::from_min_size(pos2(corner.x, words.bottom() + 24.0 * unit), size);
    if button(ui, pen, rect, text::EMPTY_BUTTON, Fill::Filled).clicked() {
        intents.push(Intent::OpenPage(Page::Lessons));
    }
}
