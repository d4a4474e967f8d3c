//! The learner's own recording: read when its lesson comes onto the stand, slowed for the rung now and its neighbours,
//! handed to the performer with the timeline it belongs to.

mod page;
mod wishes;

use std::path::PathBuf;
use std::sync::Arc;

use sixrung_audio::Song;
use sixrung_practice::Moment;
use sixrung_song::{Passage, Taps};
use sixrung_timeline::{Tempo, Timeline};

use super::Studio;
use crate::library::Source;
use crate::session::Input;
use crate::song::{Answer, Kept, Loaded, Marks, Order, Placed, Worker, key, wanted};
use crate::stand::Note;

/// Slowed passages are kept up to this many bytes in all; beyond it the oldest go. One passage is 184 MB at most.
const MOST_BYTES: usize = 200_000_000;

/// A passage, slowed, with the marks it was slowed by.
struct Ready {
    passage: Passage,
    marks: Marks,
    song: Arc<Song>,
}

/// What is being done.
#[derive(Clone, Debug, PartialEq)]
enum Work {
    Read(PathBuf),
    Slow(Passage, Marks),
}

/// The recording of the lesson on the stand.
pub(super) struct Songs {
    worker: Worker,
    work: Option<Work>,
    /// Whose recording this is.
    source: Option<Source>,
    kept: Option<Kept>,
    loaded: Option<Arc<Loaded>>,
    placed: Option<Placed>,
    ready: Vec<Ready>,
    /// What could not be done, or was stopped: not tried again until something changes.
    refused: Vec<Work>,
    trouble: Option<Note>,
    /// What plays was begun before its passage was ready.
    plays_without: bool,
    /// Marks changed then: passages wait until the next second, so that not every step of a mark is slowed.
    changed: Option<Moment>,
    desk: Desk,
}

/// The page's own state.
struct Desk {
    cursor_s: f64,
    zoom_s: f64,
    clicks: bool,
    taps: Taps,
    preview: Option<Preview>,
    previews: u64,
}

/// The recording as it is, playing from a place.
struct Preview {
    id: u64,
    from_s: f64,
    started: Option<u64>,
}

impl Songs {
    pub(super) fn new(worker: Worker) -> Self {
        let desk = Desk { cursor_s: 0.0, zoom_s: 8.0, clicks: true, taps: Taps::default(), preview: None, previews: 0 };
        Self {
            worker,
            work: None,
            source: None,
            kept: None,
            loaded: None,
            placed: None,
            ready: Vec::new(),
            refused: Vec::new(),
            trouble: None,
            plays_without: false,
            changed: None,
            desk,
        }
    }

    fn marks(&self) -> Option<&Marks> {
        self.kept.as_ref()?.marks.as_ref()
    }

    fn ready(&self, passage: &Passage) -> Option<&Arc<Song>> {
        let marks = self.marks()?;
        self.ready.iter().find(|ready| ready.passage == *passage && ready.marks == *marks).map(|ready| &ready.song)
    }

    fn bytes(&self) -> usize {
        self.ready.iter().map(|ready| ready.song.bytes()).sum()
    }

    /// Keeps a passage; what has other marks goes, then, while all take too much, the oldest that is not wanted.
    fn keep(&mut self, passage: Passage, marks: Marks, song: Arc<Song>, wanted: &[Passage]) {
        self.ready.retain(|ready| ready.marks == marks && ready.passage != passage);
        self.ready.push(Ready { passage, marks, song });
        while self.ready.len() > 1 && self.bytes() > MOST_BYTES {
            let oldest = self.ready.iter().position(|ready| !wanted.contains(&ready.passage));
            self.ready.remove(oldest.unwrap_or(0));
        }
    }

    /// Whether what was done is still of use: the same file, the same marks.
    fn is_current(&self, work: &Work) -> bool {
        match work {
            Work::Read(path) => self.kept.as_ref().is_some_and(|kept| kept.path == *path),
            Work::Slow(_, marks) => self.marks() == Some(marks),
        }
    }
}

impl Studio {
    /// Everything about the recording that happened, and what is to be done next. Called each frame.
    pub(super) fn song_step(&mut self, now: Moment) {
        self.follow_lesson();
        self.place_song();
        if let Some(answer) = self.songs.worker.answer() {
            self.song_answer(answer, now);
        }
        if self.songs.changed.is_some_and(|changed| changed != now) {
            self.songs.changed = None;
        }
        if !self.songs.worker.is_busy()
            && let Some((work, order)) = self.next_work()
        {
            self.songs.work = Some(work);
            self.songs.worker.order(order);
        }
    }

    /// Whether the page moves, or shows a progress.
    #[must_use]
    pub fn song_moves(&self) -> bool {
        self.songs.desk.preview.is_some() || self.songs.worker.is_busy()
    }

    /// The passage for a timeline about to be played, if it is ready.
    pub(super) fn song_for(&mut self, timeline: &Timeline) -> Option<Arc<Song>> {
        self.place_song();
        let passage = self.passage(timeline.grid.tempo())?;
        let fits = passage.grid == timeline.grid && passage.length == timeline.pass;
        let song = self.songs.ready(&passage).filter(|_| fits).cloned();
        self.songs.plays_without = song.is_none() && self.songs.marks().is_some();
        song
    }

    /// Another lesson on the stand: its recording, if it has one.
    fn follow_lesson(&mut self) {
        let source = self.session.stage().map(|stage| stage.source.clone());
        if self.songs.source == source {
            return;
        }
        self.songs.worker.stop();
        let kept = source.as_ref().and_then(|source| self.keeper.settings().get(&key(source)).cloned());
        let songs = &mut self.songs;
        songs.source = source;
        songs.kept = kept.and_then(|kept| Kept::from_text(&kept));
        (songs.loaded, songs.placed, songs.trouble) = (None, None, None);
        songs.ready.clear();
        songs.refused.clear();
        songs.desk.cursor_s = songs.marks().map_or(0.0, |marks| marks.start_s);
    }

    fn song_answer(&mut self, answer: Answer, now: Moment) {
        let Some(work) = self.songs.work.take().filter(|work| self.songs.is_current(work)) else { return };
        match answer {
            Answer::Read(loaded) => {
                self.songs.trouble = None;
                self.songs.loaded = Some(loaded);
                self.mark_what_was_found(now);
            }
            Answer::Slowed(passage, marks, song) => {
                let wanted: Vec<_> = self.wanted_passages().collect();
                self.songs.keep(passage, marks, song, &wanted);
                let playing = self.session.tempo_playing();
                let is_playing = playing.and_then(|tempo| self.passage(tempo)) == Some(passage);
                if self.songs.plays_without && is_playing {
                    self.songs.plays_without = false;
                    self.take(Input::PartReady, now);
                }
            }
            Answer::Failed(note) => {
                self.songs.refused.push(work);
                self.songs.trouble = Some(note.clone());
                self.take(Input::Note(note), now);
            }
            Answer::Stopped => self.songs.refused.push(work),
        }
    }

    /// A recording nothing was marked in begins with what was found: bar 1 on the first beat.
    fn mark_what_was_found(&mut self, now: Moment) {
        let found = self.songs.loaded.as_ref().and_then(|loaded| loaded.found.clone());
        let Some(kept) = self.songs.kept.as_mut().filter(|kept| kept.marks.is_none()) else { return };
        let lesson = self.session.stage().map(|stage| stage.lesson.tempo);
        let tempo = found.as_ref().map(|found| found.tempo).or(lesson);
        let start_s = found.and_then(|found| found.beats_s.first().copied()).unwrap_or(0.0);
        kept.marks = tempo.map(|tempo| Marks { start_s, tempo, anchors: Vec::new(), semitones: 0 });
        self.songs.desk.cursor_s = start_s;
        self.song_changed(now);
    }

    /// Keeps the marks and lets passages follow.
    fn song_changed(&mut self, now: Moment) {
        self.songs.refused.clear();
        self.songs.changed = Some(now);
        if matches!(&self.songs.work, Some(Work::Slow(_, marks)) if self.songs.marks() != Some(marks)) {
            self.songs.worker.stop();
        }
        if let Some(source) = &self.songs.source {
            let text = self.songs.kept.as_ref().map(Kept::to_text).unwrap_or_default();
            self.keeper.set(&key(source), &text);
        }
    }

    /// What to do next: read the file, then slow the rung now, then its neighbours where there is room for them.
    fn next_work(&self) -> Option<(Work, Order)> {
        let near = self.session.stage().map(|stage| stage.lesson.tempo);
        let kept = self.songs.kept.as_ref()?;
        let Some(loaded) = self.songs.loaded.clone() else {
            let path = kept.path.clone();
            let work = Work::Read(path.clone());
            return (!self.songs.refused.contains(&work)).then_some((work, Order::Read(path, near)));
        };
        let marks = kept.marks.clone().filter(|_| self.songs.changed.is_none())?;
        // Room is only taken by what is wanted: what else is kept goes first.
        let mut taken = 0;
        for (place, passage) in self.wanted_passages().enumerate() {
            let work = Work::Slow(passage, marks.clone());
            #[expect(
                clippy::cast_possible_truncation,
                clippy::cast_sign_loss,
                reason = "minutes of frames, never negative"
            )]
            let bytes = (passage.grid.seconds(passage.length) * f64::from(passage.grid.rate())) as usize * 8;
            taken += bytes;
            let has_room = place == 0 || taken <= MOST_BYTES;
            if has_room && self.songs.ready(&passage).is_none() && !self.songs.refused.contains(&work) {
                return Some((work, Order::Slow { sound: loaded, marks, passage }));
            }
        }
        None
    }

    /// The passages for the rung now and its neighbours.
    fn wanted_passages(&self) -> impl Iterator<Item = Passage> {
        self.wanted_tempi().into_iter().filter_map(|tempo| self.passage(tempo))
    }

    fn wanted_tempi(&self) -> Vec<Tempo> {
        let Some(climb) = self.session.climb() else { return Vec::new() };
        wanted(climb.at(), climb.ladder().rungs())
    }

    /// What of the recording belongs to the stretch on the stand at a tempo; `None` before sound is open.
    fn passage(&self, tempo: Tempo) -> Option<Passage> {
        let rate = self.session.sound().rate;
        let stage = self.session.stage().filter(|_| rate > 0)?;
        self.songs.placed.as_ref().filter(|placed| placed.is_of(stage))?.passage(&stage.lesson, tempo, rate)
    }

    /// Finds the stretch on the stand in the piece, when it is another than before.
    fn place_song(&mut self) {
        let Some(stage) = self.session.stage() else { return };
        if self.songs.placed.as_ref().is_none_or(|placed| !placed.is_of(stage)) {
            self.songs.placed = Some(Placed::new(stage));
        }
    }
}
