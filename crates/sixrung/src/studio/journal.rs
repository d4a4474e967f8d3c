//! Looking back in the room: the journal is asked once when the page opens, and again only when something changes.

mod page;
mod plot;

use sixrung_journal::{
    ChangePair, JournalError, JournalWorker, KeptPass, LessonRef, LookBack, PassId, PassPlace, PlayedPass, Player,
    PlayerId, StretchKey, Table, Wanted,
};
use sixrung_lesson::{Stretch, frets_text, layout};
use sixrung_practice::hands::needed_changes;
use sixrung_practice::{Day, Moment, beats_between};

use super::Studio;
use crate::say::chord_name;
use crate::session::Stage;
use crate::stand::{JournalWish, Page};
use crate::text::journal as text;

/// How far one can look back, in days; the last is everything. Four weeks show a month of practice day by day.
const SPANS: [Option<i64>; 3] = [Some(28), Some(91), None];
/// Passes in sight at once.
const LISTED: u32 = 8;

/// What the room knows of the page.
#[derive(Default)]
pub(super) struct Looking {
    /// What was asked for and found; `None` where there is no journal.
    found: Option<LookBack>,
    today: Day,
    span: usize,
    changes: Vec<Change>,
    chosen: usize,
    passes: Vec<(PassId, PlayedPass)>,
    /// Where the pages before this one began.
    places: Vec<PassPlace>,
    has_older: bool,
    opened: Option<(PassId, KeptPass)>,
    deleted: u64,
    players: Vec<Player>,
    player: Option<PlayerId>,
    said: String,
}

/// A change of the lesson: its name, what the journal calls it, and the fewest beats there are for it.
struct Change {
    name: String,
    pair: ChangePair,
    beats: f64,
}

impl Studio {
    /// The page is opened.
    pub(super) fn open_journal(&mut self, now: Moment) {
        let Some(stage) = self.session.stage() else { return self.looking = Looking::default() };
        let sections = &stage.lesson.sections;
        let on_stand = stage.section_name();
        let chosen = sections.iter().position(|section| Some(&section.name) == on_stand.as_ref()).unwrap_or(0);
        let changes = changes_of(stage);
        let today = now.day(self.session.zone());
        self.looking = Looking { chosen, changes, today, ..Looking::default() };
        self.look_back();
        self.list(PassPlace::NEWEST);
    }

    /// Asks for everything the plots show.
    fn look_back(&mut self) {
        let Some(stage) = self.session.stage() else { return };
        let key = |name: &str| StretchKey {
            lesson: LessonRef { hash: stage.hash, title: stage.lesson.title.clone() },
            stretch: Stretch::Section(name.to_owned()),
            arrangement: stage.arrangement.name.clone(),
        };
        let since = SPANS[self.looking.span].map(|days| Day(self.looking.today.0 - days + 1));
        let wanted = Wanted {
            sections: stage.lesson.sections.iter().map(|section| key(&section.name)).collect(),
            changes: self.looking.changes.iter().map(|change| change.pair.clone()).collect(),
            since,
            zone: self.session.zone(),
        };
        self.looking.found = self.keeper.ask(|journal| journal.look_back(wanted));
        self.looking.deleted = self.keeper.ask(JournalWorker::deleted_passes).unwrap_or(0);
        let players = self.keeper.ask(JournalWorker::players);
        (self.looking.players, self.looking.player) =
            players.map_or((Vec::new(), None), |(players, player)| (players, Some(player)));
    }

    /// Lists the passes from a place on: one more than fits, which says whether there are older ones.
    fn list(&mut self, place: PassPlace) {
        let title = self.title();
        let found = self.keeper.ask(|journal| journal.passes_before(Some(title), place, LISTED + 1));
        self.looking.passes = found.unwrap_or_default();
        self.looking.has_older = self.looking.passes.len() > LISTED as usize;
        self.looking.passes.truncate(LISTED as usize);
    }

    /// The plots and the list anew, where they stand.
    fn look_again(&mut self) {
        self.look_back();
        self.list(self.looking.places.last().copied().unwrap_or(PassPlace::NEWEST));
    }

    pub(super) fn journal_wish(&mut self, wish: JournalWish, now: Moment) {
        let count = self.session.stage().map_or(0, |stage| stage.lesson.sections.len());
        self.looking.said.clear();
        match wish {
            JournalWish::Section(place) if place < count => self.looking.chosen = place,
            JournalWish::Section(_) => {}
            JournalWish::Next => self.looking.chosen = (self.looking.chosen + 1) % count.max(1),
            JournalWish::Previous => self.looking.chosen = (self.looking.chosen + count.max(1) - 1) % count.max(1),
            JournalWish::Span => {
                self.looking.span = (self.looking.span + 1) % SPANS.len();
                self.look_back();
            }
            JournalWish::Older => {
                if let Some((id, pass)) = self.looking.passes.last() {
                    let place = PassPlace { ended: pass.ended, id: *id };
                    self.looking.places.push(place);
                    self.list(place);
                }
            }
            JournalWish::Newer => {
                self.looking.places.pop();
                self.list(self.looking.places.last().copied().unwrap_or(PassPlace::NEWEST));
            }
            JournalWish::Open(place) => {
                let id = self.looking.passes.get(place).map(|(id, _)| *id);
                let kept = id.and_then(|id| Some((id, self.keeper.ask(|journal| journal.kept_pass(id))??)));
                self.looking.opened = kept;
            }
            JournalWish::Close => self.looking.opened = None,
            JournalWish::TakeOut => {
                if let Some((id, _)) = self.looking.opened.take() {
                    let done = self.keeper.tell(|journal| journal.delete_passes(vec![id], now));
                    self.look_again();
                    self.say_trouble(done);
                }
            }
            JournalWish::PutBack => {
                let done = self.keeper.tell(JournalWorker::undo_delete);
                self.look_again();
                self.say_trouble(done);
            }
            JournalWish::Export => self.export(now),
            JournalWish::BackUp => {
                let path = self.paper_path("journal-copy", ".sqlite", now);
                let written = path.clone();
                self.say_written(path.as_deref(), |keeper| {
                    keeper.tell(|journal| journal.back_up_to(written.unwrap_or_default()))
                });
            }
            JournalWish::Player(place) => {
                if let Some(player) = self.looking.players.get(place).map(|player| player.id) {
                    self.choose_player(player, now);
                }
            }
            JournalWish::AddPlayer(name) => match self.keeper.tell(|journal| journal.add_player(name)) {
                Some(Ok(player)) => self.choose_player(player, now),
                refused => self.say_trouble(refused),
            },
        }
    }

    /// Another player's turn: what is on the stand is found anew, as that player left it.
    fn choose_player(&mut self, player: PlayerId, now: Moment) {
        self.keeper.flush();
        let chosen = self.keeper.tell(|journal| journal.choose_player(player));
        if !matches!(chosen, Some(Ok(()))) {
            return self.say_trouble(chosen);
        }
        self.handing.forget_player();
        if let Some(source) = self.session.stage().map(|stage| stage.source.clone()) {
            self.open_lesson(source, now);
        }
        self.show_page(Some(Page::Journal), now);
    }

    /// Writes the passes and the changes as tables, and all of it as one text.
    fn export(&mut self, now: Moment) {
        let tables = [
            (Table::PassesCsv, "passes", ".csv"),
            (Table::ChangesCsv, "changes", ".csv"),
            (Table::Json, "journal", ".json"),
        ];
        for (table, name, ending) in tables {
            let Some(path) = self.paper_path(name, ending, now) else { return };
            let written = path.clone();
            self.say_written(Some(&path), |keeper| keeper.tell(|journal| journal.export_to(table, written)));
        }
    }

    /// What went wrong with a wish, if anything did.
    fn say_trouble<T>(&mut self, done: Option<Result<T, JournalError>>) {
        if let Some(Err(error)) = done {
            self.looking.said = format!("{error}; {}", error.hint());
        }
    }

    fn say_written(
        &mut self,
        path: Option<&std::path::Path>,
        write: impl FnOnce(&super::Keeper) -> Option<Result<(), JournalError>>,
    ) {
        match (write(&self.keeper), path) {
            (Some(Ok(())), Some(path)) => self.looking.said = text::written(path),
            (Some(Err(error)), _) => self.looking.said = format!("{error}; {}", error.hint()),
            _ => self.looking.said = text::NO_JOURNAL.to_owned(),
        }
    }
}

/// The lesson's changes, each once, with the fewest beats any section leaves for it.
fn changes_of(stage: &Stage) -> Vec<Change> {
    let lesson = &stage.lesson;
    let mut changes = Vec::<Change>::new();
    for section in &lesson.sections {
        let Ok(score) = layout(lesson, &Stretch::Section(section.name.clone()), &stage.arrangement) else { continue };
        for needed in needed_changes(&score) {
            let (Some(from), Some(to)) = (score.shapes.get(needed.from), score.shapes.get(needed.to)) else { continue };
            let Some(beats) = beats_between(&score, lesson.beat, needed.from, needed.to) else { continue };
            let (from_frets, to_frets) = (frets_text(&from.strings), frets_text(&to.strings));
            let pair = ChangePair { from: from_frets, to: to_frets, capo: score.capo };
            match changes.iter_mut().find(|change| change.pair == pair) {
                Some(known) => known.beats = known.beats.min(beats),
                None => {
                    let name = format!("{} – {}", chord_name(&from.name), chord_name(&to.name));
                    changes.push(Change { name, pair, beats });
                }
            }
        }
    }
    changes
}
