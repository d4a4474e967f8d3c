//! What is kept between days: passes, climbs, round trips, settings. Without a journal everything works, and is
//! forgotten at the end.

use std::collections::VecDeque;
use std::path::{Path, PathBuf};

use sixrung_journal::{
    DevicePair, Full, Journal, JournalError, JournalWorker, LearnedKey, LessonRef, PassRecord, PlayedChange, PlayedPass,
};
use sixrung_journal::{Notice, RoundTrip, SoundCheck, StretchKey, Strokes};
use sixrung_practice::{ClimbState, Done, Felt, Moment, Step, StepsDone, UtcOffset};

use crate::session::{ClimbKey, PassDone};
use crate::stand::Note;

/// The journal, and what still waits for it.
pub(crate) struct Keeper {
    journal: Option<JournalWorker>,
    folder: Option<PathBuf>,
    waiting: VecDeque<Box<PassRecord>>,
    told_of_trouble: bool,
    told_of_damage: bool,
}

impl Keeper {
    /// Opens the journal in `folder`; what went wrong or is worth knowing comes along as notes.
    pub(crate) fn open(folder: &Path, now: Moment, zone: UtcOffset) -> (Self, Vec<Note>) {
        let today = now.day(zone);
        let mut notes = Vec::new();
        let opened = Journal::open(&folder.join("journal.sqlite"), today).and_then(|opened| {
            notes.extend(opened.notices.iter().map(note_of));
            JournalWorker::start(opened.journal, today)
        });
        let journal = opened
            .map_err(|error| {
                let hint = error.hint().to_string();
                notes.push(Note { text: format!("the journal is not kept: {error}"), hint });
            })
            .ok();
        (
            Self {
                journal,
                folder: Some(folder.to_owned()),
                waiting: VecDeque::new(),
                told_of_trouble: false,
                told_of_damage: false,
            },
            notes,
        )
    }

    /// Keeps nothing.
    pub(crate) fn forgetful() -> Self {
        Self { journal: None, folder: None, waiting: VecDeque::new(), told_of_trouble: false, told_of_damage: false }
    }

    /// Keeps a pass; when the queue is full it waits here and is tried again.
    pub(crate) fn record(&mut self, done: &PassDone, sound: String) {
        self.waiting.push_back(Box::new(record_of(done, sound)));
        self.flush();
    }

    /// Hands on what waits.
    pub(crate) fn flush(&mut self) {
        let Some(journal) = &self.journal else { return self.waiting.clear() };
        while let Some(record) = self.waiting.pop_front() {
            if let Err(Full(back)) = journal.record(*record) {
                self.waiting.push_front(back);
                break;
            }
        }
    }

    /// What keeps the journal from being written, or what was found of it, said once.
    pub(crate) fn trouble(&mut self) -> Option<Note> {
        let status = self.journal.as_ref()?.status();
        if let Some(restored) = status.restored.filter(|_| !self.told_of_damage) {
            self.told_of_damage = true;
            return Some(note_of(&restored));
        }
        let news = status.trouble.is_some() && !self.told_of_trouble;
        self.told_of_trouble = status.trouble.is_some();
        let error = status.trouble.filter(|_| news)?;
        Some(Note { text: format!("the journal can't be written just now: {error}"), hint: error.hint().to_string() })
    }

    pub(crate) fn climb(&self, key: &ClimbKey, title: &str) -> Option<ClimbState> {
        self.journal.as_ref()?.load_climb(stretch_key(key, title)).ok()?
    }

    pub(crate) fn set_climb(&self, key: &ClimbKey, title: &str, state: ClimbState) {
        if let Some(journal) = &self.journal {
            // A full queue loses only where the player stood by hand; the next pass keeps it.
            drop(journal.set_climb(stretch_key(key, title), state));
        }
    }

    pub(crate) fn steps(&self, key: &ClimbKey, title: &str) -> StepsDone {
        let journal = self.journal.as_ref();
        journal.and_then(|journal| journal.steps(stretch_key(key, title)).ok()).unwrap_or_default()
    }

    pub(crate) fn set_step(&self, key: &ClimbKey, title: &str, (step, done, at): (Step, Done, Moment)) {
        if let Some(journal) = &self.journal {
            // A full queue loses it: the step is done on the stand, and can be marked another day.
            drop(journal.set_step(stretch_key(key, title), step, done, at));
        }
    }

    /// Keeps how the hands felt.
    pub(crate) fn record_felt(&self, felt: Felt, at: Moment) {
        if let Some(journal) = &self.journal {
            // A full queue loses it: what follows from it now does not depend on the journal.
            drop(journal.record_felt(felt, at));
        }
    }

    /// The last answer, and when it was given.
    pub(crate) fn last_felt(&self) -> Option<(Felt, Moment)> {
        self.journal.as_ref()?.last_felt().ok()?
    }

    /// Keeps a change of chord.
    pub(crate) fn record_change(&self, change: PlayedChange) {
        if let Some(journal) = &self.journal {
            // A full queue loses one change of many.
            drop(journal.record_change(change));
        }
    }

    /// The newest changes of chord, newest first.
    pub(crate) fn recent_changes(&self, limit: u32) -> Vec<PlayedChange> {
        self.journal.as_ref().and_then(|journal| journal.recent_changes(None, limit).ok()).unwrap_or_default()
    }

    /// All that was learned of a guitar: what, how it was kept, when.
    pub(crate) fn all_learned(&self, guitar: &str) -> Vec<(String, String, Moment)> {
        self.journal.as_ref().and_then(|journal| journal.all_learned(guitar.to_owned()).ok()).unwrap_or_default()
    }

    /// The guitars anything was learned of.
    pub(crate) fn guitars(&self) -> Vec<String> {
        self.journal.as_ref().and_then(|journal| journal.guitars().ok()).unwrap_or_default()
    }

    /// Keeps something learned, or forgets it.
    pub(crate) fn set_learned(&self, guitar: &str, what: &str, kept: Option<(String, Moment)>) {
        let Some(journal) = &self.journal else { return };
        let key = LearnedKey { guitar: guitar.to_owned(), what: what.to_owned() };
        // A full queue loses it: what is known now is still used, and can be played again another day.
        drop(match kept {
            Some((value, at)) => journal.set_learned(key, value, at),
            None => journal.forget_learned(key),
        });
    }

    pub(crate) fn set(&self, key: &str, value: &str) {
        if let Some(journal) = &self.journal {
            // A full queue loses a slider's position between two others.
            drop(journal.set(key, value));
        }
    }

    pub(crate) fn settings(&self) -> std::collections::BTreeMap<String, String> {
        self.journal.as_ref().and_then(|journal| journal.settings().ok()).unwrap_or_default()
    }

    pub(crate) fn seconds_today(&self, now: Moment, zone: UtcOffset) -> u32 {
        self.journal.as_ref().and_then(|journal| journal.minutes_today(now, zone).ok()).unwrap_or(0) * 60
    }

    /// Asks the journal something; `None` where there is none, or it has no answer.
    pub(super) fn ask<T>(&self, question: impl FnOnce(&JournalWorker) -> Result<T, JournalError>) -> Option<T> {
        question(self.journal.as_ref()?).ok()
    }

    /// Has the journal do something, and says what became of it; `None` where there is none.
    pub(super) fn tell<T>(
        &self,
        order: impl FnOnce(&JournalWorker) -> Result<T, JournalError>,
    ) -> Option<Result<T, JournalError>> {
        self.journal.as_ref().map(order)
    }

    /// Where the journal lies.
    pub(super) fn folder(&self) -> Option<&Path> {
        self.folder.as_deref()
    }

    /// Whether anything is kept.
    pub(crate) const fn keeps(&self) -> bool {
        self.journal.is_some()
    }

    pub(crate) fn round_trip(&self, pair: DevicePair) -> Option<RoundTrip> {
        self.journal.as_ref()?.round_trip(pair).ok()?
    }

    pub(crate) fn sound_check(&self, pair: DevicePair) -> Option<SoundCheck> {
        self.journal.as_ref()?.sound_check(pair).ok()?
    }

    pub(crate) fn set_sound_check(&self, pair: DevicePair, check: SoundCheck) {
        if let Some(journal) = &self.journal {
            drop(journal.set_sound_check(pair, check));
        }
    }

    pub(crate) fn set_round_trip(&self, pair: DevicePair, trip: RoundTrip) {
        if let Some(journal) = &self.journal {
            drop(journal.set_round_trip(pair, trip));
        }
    }
}

impl Drop for Keeper {
    fn drop(&mut self) {
        self.flush();
        if let Some(journal) = self.journal.take() {
            drop(journal.finish());
        }
    }
}

fn note_of(notice: &Notice) -> Note {
    match notice {
        Notice::Restored { damaged, backup } => Note {
            text: format!("the journal was damaged; it now lies in {}", damaged.display()),
            hint: match backup {
                Some(backup) => format!("it goes on from the copy {}", backup.display()),
                None => "there was no copy of it, so it begins anew".to_owned(),
            },
        },
        Notice::Migrated { .. } => {
            Note { text: "the journal has a new form".to_owned(), hint: "the old one is kept beside it".to_owned() }
        }
    }
}

fn record_of(done: &PassDone, sound: String) -> PassRecord {
    let starts_s = done.verdict.strokes.first().map_or(0.0, |stroke| stroke.expected_s);
    let strokes = Strokes::of(&done.verdict, starts_s);
    #[expect(clippy::cast_possible_truncation, clippy::cast_sign_loss, reason = "a pass lasts minutes")]
    let duration_ms = (done.seconds * 1000.0).round() as u32;
    PassRecord {
        pass: PlayedPass {
            key: stretch_key(&done.key, &done.title),
            ended: done.at,
            duration_ms,
            tempo: done.tempo,
            step: done.step,
            rung: Some(done.tempo),
            rung_after: done.climb.as_ref().map(|climb| climb.at),
            verdict: done.verdict.verdict,
            marked: done.marked,
            level: done.level,
            allowed_faults: done.verdict.allowed_faults,
            counts: strokes.counts(),
            median_offset_ms: done.verdict.median_offset_ms,
            spread_ms: done.verdict.spread_ms,
            sound,
        },
        strokes,
        climb: done.climb.clone(),
    }
}

fn stretch_key(key: &ClimbKey, title: &str) -> StretchKey {
    StretchKey {
        lesson: LessonRef { hash: key.lesson, title: title.to_owned() },
        stretch: key.stretch.clone(),
        arrangement: key.arrangement.clone(),
    }
}
