//! The journal on a thread of its own, so that nobody waits for the disk.

use std::collections::BTreeMap;
use std::sync::mpsc::{RecvTimeoutError, SyncSender, TrySendError, sync_channel};
use std::sync::{Arc, Mutex, PoisonError};
use std::thread::{self, JoinHandle};
use std::time::Duration;

use sixrung_practice::{ClimbState, Day, Done, Felt, Moment, Step, UtcOffset};

use crate::changes::PlayedChange;
use crate::error::JournalError;
use crate::learned::LearnedKey;
use crate::open::{Journal, Notice};
use crate::passes::{PassId, PassRecord, PlayedPass};
use crate::round_trips::{DevicePair, RoundTrip};
use crate::sound_checks::SoundCheck;
use crate::stretches::StretchKey;
use crate::strokes::Strokes;
use check::{Check, StopCheck};
use scribe::Scribe;

/// Writes waiting. A commit takes milliseconds and a pass half a minute: this fills only while the disk fails.
const QUEUE: usize = 64;
/// How long a question waits for its answer.
const PATIENCE: Duration = Duration::from_secs(3);

/// The queue is full: nothing was taken. Keep what was to be written, and try again later.
#[derive(Debug)]
pub struct Full<T>(pub T);

/// How the writing goes.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Status {
    /// Passes on the disk since the start.
    pub saved: u64,
    /// What keeps the journal from being written at the moment. It is tried again and again.
    pub trouble: Option<JournalError>,
    /// Writes given up, since trying again cannot help.
    pub given_up: u64,
    /// Damage found after opening, and what was done about it.
    pub restored: Option<Notice>,
}

/// The journal behind a queue. Jobs are done in order: a question sees everything recorded before it.
///
/// Dropping it does what [`JournalWorker::finish`] does.
#[derive(Debug)]
pub struct JournalWorker {
    jobs: Option<SyncSender<Job>>,
    status: Arc<Mutex<Status>>,
    stop: Option<SyncSender<()>>,
    stop_check: StopCheck,
    thread: Option<JoinHandle<Vec<PassRecord>>>,
}

type Question = Box<dyn FnOnce(&mut Journal) + Send>;

enum Job {
    Write(Write),
    Ask(Question),
    /// As a question, with the file to itself.
    Alone(Question),
}

enum Write {
    Pass(Box<PassRecord>),
    Climb(StretchKey, Box<ClimbState>),
    Setting(String, String),
    RoundTrip(DevicePair, RoundTrip),
    SoundCheck(DevicePair, SoundCheck),
    Learned(LearnedKey, String, Moment),
    Forget(LearnedKey),
    Step(StretchKey, Step, Done, Moment),
    Change(PlayedChange),
    Felt(Felt, Moment),
}

impl JournalWorker {
    /// Starts the thread, and beside it one that checks what was not yet checked of the file and keeps the day's copy.
    ///
    /// # Errors
    /// When the system gives no thread.
    pub fn start(journal: Journal, today: Day) -> Result<Self, JournalError> {
        let (jobs, queue) = sync_channel(QUEUE);
        let (stop, stopped) = sync_channel(1);
        let status = Arc::new(Mutex::new(Status::default()));
        let check = Check::start(&journal, today)?;
        let stop_check = check.stopper();
        let mut scribe = Scribe {
            journal,
            today,
            status: Arc::clone(&status),
            stopped,
            stopping: false,
            unsaved: Vec::new(),
            check: Some(check),
            unchecked: Vec::new(),
        };
        let thread = thread::Builder::new()
            .name("journal".into())
            .spawn(move || {
                scribe.work(&queue);
                scribe.unsaved
            })
            .map_err(|error| JournalError::Other { why: error.to_string() })?;
        Ok(Self { jobs: Some(jobs), status, stop: Some(stop), stop_check, thread: Some(thread) })
    }

    /// Hands a pass over for keeping.
    ///
    /// # Errors
    /// When the queue is full the pass comes back: keep it and try again, it is not lost.
    pub fn record(&self, pass: PassRecord) -> Result<(), Full<Box<PassRecord>>> {
        self.write(Write::Pass(Box::new(pass))).map_err(|write| match write {
            Write::Pass(pass) => Full(pass),
            _ => unreachable!("what comes back is what was handed over"),
        })
    }

    /// Keeps where a climb stands when it moved without a pass.
    ///
    /// # Errors
    /// When the queue is full; try again later.
    pub fn set_climb(&self, key: StretchKey, state: ClimbState) -> Result<(), Full<()>> {
        self.write(Write::Climb(key, Box::new(state))).map_err(|_| Full(()))
    }

    /// Keeps a setting.
    ///
    /// # Errors
    /// When the queue is full; try again later.
    pub fn set(&self, key: &str, value: &str) -> Result<(), Full<()>> {
        self.write(Write::Setting(key.into(), value.into())).map_err(|_| Full(()))
    }

    /// Keeps a round trip.
    ///
    /// # Errors
    /// When the queue is full; try again later.
    pub fn set_round_trip(&self, pair: DevicePair, trip: RoundTrip) -> Result<(), Full<()>> {
        self.write(Write::RoundTrip(pair, trip)).map_err(|_| Full(()))
    }

    /// Keeps a sound check.
    ///
    /// # Errors
    /// When the queue is full; try again later.
    pub fn set_sound_check(&self, pair: DevicePair, check: SoundCheck) -> Result<(), Full<()>> {
        self.write(Write::SoundCheck(pair, check)).map_err(|_| Full(()))
    }

    /// Keeps what the ear learned.
    ///
    /// # Errors
    /// When the queue is full; try again later.
    pub fn set_learned(&self, key: LearnedKey, value: String, at: Moment) -> Result<(), Full<()>> {
        self.write(Write::Learned(key, value, at)).map_err(|_| Full(()))
    }

    /// Forgets it.
    ///
    /// # Errors
    /// When the queue is full; try again later.
    pub fn forget_learned(&self, key: LearnedKey) -> Result<(), Full<()>> {
        self.write(Write::Forget(key)).map_err(|_| Full(()))
    }

    /// See [`Journal::all_learned`].
    ///
    /// # Errors
    /// As there, and `Busy` when the disk does not answer within three seconds.
    pub fn all_learned(&self, guitar: String) -> Result<Vec<(String, String, Moment)>, JournalError> {
        self.ask(move |journal| journal.all_learned(&guitar))
    }

    /// See [`Journal::guitars`].
    ///
    /// # Errors
    /// As there, and `Busy` when the disk does not answer within three seconds.
    pub fn guitars(&self) -> Result<Vec<String>, JournalError> {
        self.ask(Journal::guitars)
    }

    /// See [`Journal::climb`].
    ///
    /// # Errors
    /// As there, and `Busy` when the disk does not answer within three seconds.
    pub fn load_climb(&self, key: StretchKey) -> Result<Option<ClimbState>, JournalError> {
        self.ask(move |journal| journal.climb(&key))
    }

    /// See [`Journal::settings`].
    ///
    /// # Errors
    /// As there, and `Busy` when the disk does not answer within three seconds.
    pub fn settings(&self) -> Result<BTreeMap<String, String>, JournalError> {
        self.ask(Journal::settings)
    }

    /// See [`Journal::round_trip`].
    ///
    /// # Errors
    /// As there, and `Busy` when the disk does not answer within three seconds.
    pub fn round_trip(&self, pair: DevicePair) -> Result<Option<RoundTrip>, JournalError> {
        self.ask(move |journal| journal.round_trip(&pair))
    }

    /// See [`Journal::sound_check`].
    ///
    /// # Errors
    /// As there, and `Busy` when the disk does not answer within three seconds.
    pub fn sound_check(&self, pair: DevicePair) -> Result<Option<SoundCheck>, JournalError> {
        self.ask(move |journal| journal.sound_check(&pair))
    }

    /// See [`Journal::minutes_today`].
    ///
    /// # Errors
    /// As there, and `Busy` when the disk does not answer within three seconds.
    pub fn minutes_today(&self, now: Moment, zone: UtcOffset) -> Result<u32, JournalError> {
        self.ask(move |journal| journal.minutes_today(now, zone))
    }

    /// See [`Journal::recent_passes`].
    ///
    /// # Errors
    /// As there, and `Busy` when the disk does not answer within three seconds.
    pub fn recent_passes(
        &self,
        key: Option<StretchKey>,
        limit: u32,
    ) -> Result<Vec<(PassId, PlayedPass)>, JournalError> {
        self.ask(move |journal| journal.recent_passes(key.as_ref(), limit))
    }

    /// See [`Journal::strokes`].
    ///
    /// # Errors
    /// As there, and `Busy` when the disk does not answer within three seconds.
    pub fn strokes(&self, pass: PassId) -> Result<Option<Strokes>, JournalError> {
        self.ask(move |journal| journal.strokes(pass))
    }

    /// How the writing goes.
    #[must_use]
    pub fn status(&self) -> Status {
        self.status.lock().unwrap_or_else(PoisonError::into_inner).clone()
    }

    /// Writes all that waits, ends the thread and waits for it. What could not be written comes back.
    #[must_use]
    pub fn finish(mut self) -> Vec<PassRecord> {
        self.close()
    }

    fn close(&mut self) -> Vec<PassRecord> {
        drop(self.jobs.take());
        drop(self.stop.take());
        self.stop_check.stop();
        self.thread.take().and_then(|thread| thread.join().ok()).unwrap_or_default()
    }

    fn write(&self, write: Write) -> Result<(), Write> {
        let Some(jobs) = &self.jobs else { return Err(write) };
        jobs.try_send(Job::Write(write)).map_err(|error| match error {
            TrySendError::Full(Job::Write(write)) | TrySendError::Disconnected(Job::Write(write)) => write,
            _ => unreachable!("what comes back is what was sent"),
        })
    }

    /// Asks something of the journal that nothing else here does.
    ///
    /// # Errors
    /// What the question's own answer says, and `Busy` when the disk does not answer within three seconds.
    pub fn ask<T: Send + 'static>(
        &self,
        question: impl FnOnce(&Journal) -> Result<T, JournalError> + Send + 'static,
    ) -> Result<T, JournalError> {
        self.answer(PATIENCE, Job::Ask, |journal| question(journal))
    }

    /// Hands `question` over as `job` and waits for its answer.
    fn answer<T: Send + 'static>(
        &self,
        patience: Duration,
        job: fn(Question) -> Job,
        question: impl FnOnce(&mut Journal) -> Result<T, JournalError> + Send + 'static,
    ) -> Result<T, JournalError> {
        let (reply, answer) = sync_channel(1);
        let ask = Box::new(move |journal: &mut Journal| {
            // Whoever asked may have lost patience: then nobody hears the answer.
            drop(reply.send(question(journal)));
        });
        let jobs = self.jobs.as_ref().ok_or(JournalError::Closed)?;
        jobs.try_send(job(ask)).map_err(|error| match error {
            TrySendError::Full(_) => self.status().trouble.unwrap_or(JournalError::Busy),
            TrySendError::Disconnected(_) => JournalError::Closed,
        })?;
        answer.recv_timeout(patience).map_err(|error| match error {
            RecvTimeoutError::Timeout => self.status().trouble.unwrap_or(JournalError::Busy),
            RecvTimeoutError::Disconnected => JournalError::Closed,
        })?
    }
}

impl Drop for JournalWorker {
    fn drop(&mut self) {
        drop(self.close());
    }
}

mod check;
mod files;
mod look_back;
mod path;
mod scribe;
#[cfg(test)]
mod tests;
