//! The thread that writes.

use std::sync::mpsc::{Receiver, RecvTimeoutError};
use std::sync::{Arc, Mutex, PoisonError};
use std::time::Duration;

use sixrung_practice::Day;

use super::check::{Check, Outcome};
use super::{Job, Status, Write};
use crate::error::JournalError;
use crate::open::Journal;
use crate::passes::PassRecord;

/// Between two tries to write to a disk that fails.
const RETRY: Duration = Duration::from_secs(2);
/// How often the thread looks whether the check is over.
const LOOK_UP: Duration = Duration::from_millis(100);
/// Writes kept in mind until the file is checked: more than anyone plays in the seconds it takes.
const KEPT_IN_MIND: usize = 256;

/// The thread's own side.
pub(super) struct Scribe {
    pub(super) journal: Journal,
    pub(super) today: Day,
    pub(super) status: Arc<Mutex<Status>>,
    pub(super) stopped: Receiver<()>,
    /// Asked to stop while the disk fails: what still waits is handed back untried, so that stopping takes no longer.
    pub(super) stopping: bool,
    pub(super) unsaved: Vec<PassRecord>,
    /// The check of the file, while it runs.
    pub(super) check: Option<Check>,
    /// What was written into a file that was not checked whole: should it be damaged, it is written again.
    pub(super) unchecked: Vec<Write>,
}

impl Scribe {
    /// Until the other side hangs up, and then until the queue is empty.
    pub(super) fn work(&mut self, queue: &Receiver<Job>) {
        loop {
            let patience = if self.check.is_some() { LOOK_UP } else { Duration::MAX };
            let job = queue.recv_timeout(patience);
            if let Some(check) = self.check.take_if(|check| check.is_over()) {
                self.checked(check.outcome());
            }
            match job {
                Ok(job) => self.take(job),
                Err(RecvTimeoutError::Timeout) => {}
                Err(RecvTimeoutError::Disconnected) => return,
            }
        }
    }

    fn take(&mut self, job: Job) {
        match job {
            Job::Write(write) => self.write(write),
            Job::Ask(ask) => ask(&mut self.journal),
            Job::Alone(ask) => {
                // The check has the file open too.
                drop(self.check.take());
                ask(&mut self.journal);
            }
        }
    }

    /// The check is over. A damaged file is put aside as it is on opening, the newest copy taken in its place, and what
    /// was written since is written again.
    pub(super) fn checked(&mut self, outcome: Outcome) {
        match outcome {
            Outcome::Stopped => {}
            Outcome::Sound => {
                self.journal.checked = true;
                self.unchecked.clear();
            }
            // Without the copy practice goes on; the reason is told.
            Outcome::NoCopy(trouble) => {
                self.journal.checked = true;
                self.unchecked.clear();
                self.tell(|status| status.trouble = Some(trouble));
            }
            Outcome::Damaged => drop(self.mend()),
        }
    }

    /// Puts the damaged file aside, takes the newest copy in its place, and writes again what was written since the
    /// opening. Whether that went well.
    fn mend(&mut self) -> bool {
        drop(self.check.take());
        match self.journal.mend(self.today) {
            Ok(notice) => {
                self.tell(|status| status.restored = Some(notice));
                for write in std::mem::take(&mut self.unchecked) {
                    if let Err(error) = self.try_write(&write) {
                        self.tell(|status| status.trouble = Some(error));
                    }
                }
                true
            }
            Err(trouble) => {
                self.tell(|status| status.trouble = Some(trouble));
                false
            }
        }
    }

    /// Tries until it is written. Only when asked to stop, or when trying again cannot help, is it given up.
    pub(super) fn write(&mut self, write: Write) {
        let mut is_mended = false;
        while !self.stopping {
            let Err(error) = self.try_write(&write) else {
                let passes = u64::from(matches!(write, Write::Pass(_)));
                if !self.journal.checked && self.unchecked.len() < KEPT_IN_MIND {
                    self.unchecked.push(write);
                }
                return self.tell(|status| {
                    status.saved += passes;
                    status.trouble = None;
                });
            };
            if matches!(error, JournalError::Damaged { .. }) && !is_mended {
                is_mended = true;
                if self.mend() {
                    continue;
                }
            }
            let may_pass = error.may_pass();
            self.tell(|status| status.trouble = Some(error));
            if !may_pass {
                break;
            }
            // The other side never sends here: it hangs up when the journal is to stop.
            self.stopping = self.stopped.recv_timeout(RETRY) == Err(RecvTimeoutError::Disconnected);
        }
        self.tell(|status| status.given_up += 1);
        if let Write::Pass(pass) = write {
            self.unsaved.push(*pass);
        }
    }

    fn try_write(&mut self, write: &Write) -> Result<(), JournalError> {
        match write {
            Write::Pass(pass) => self.journal.record(pass).map(drop),
            Write::Climb(key, state) => self.journal.set_climb(key, state),
            Write::Setting(key, value) => self.journal.set(key, value),
            Write::RoundTrip(pair, trip) => self.journal.set_round_trip(pair, trip),
            Write::SoundCheck(pair, check) => self.journal.set_sound_check(pair, check),
            Write::Learned(key, value, at) => self.journal.set_learned(key, value, *at),
            Write::Forget(key) => self.journal.forget_learned(key),
            Write::Step(key, step, done, at) => self.journal.set_step(key, *step, *done, *at),
            Write::Change(change) => self.journal.record_change(change),
            Write::Felt(felt, at) => self.journal.record_felt(*felt, *at),
        }
    }

    fn tell(&self, change: impl FnOnce(&mut Status)) {
        change(&mut self.status.lock().unwrap_or_else(PoisonError::into_inner));
    }
}
