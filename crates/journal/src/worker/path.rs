//! Steps, changes of chord and how it felt, through the queue.

use sixrung_practice::{Done, Felt, Moment, Step, StepsDone};

use super::{Full, JournalWorker, Write};
use crate::changes::{ChangePair, PlayedChange};
use crate::error::JournalError;
use crate::stretches::StretchKey;

impl JournalWorker {
    /// Keeps that a step is done.
    ///
    /// # Errors
    /// When the queue is full; try again later.
    pub fn set_step(&self, key: StretchKey, step: Step, done: Done, at: Moment) -> Result<(), Full<()>> {
        self.write(Write::Step(key, step, done, at)).map_err(|_| Full(()))
    }

    /// Keeps a change of chord.
    ///
    /// # Errors
    /// When the queue is full; try again later.
    pub fn record_change(&self, change: PlayedChange) -> Result<(), Full<()>> {
        self.write(Write::Change(change)).map_err(|_| Full(()))
    }

    /// Keeps how the hands felt.
    ///
    /// # Errors
    /// When the queue is full; try again later.
    pub fn record_felt(&self, felt: Felt, at: Moment) -> Result<(), Full<()>> {
        self.write(Write::Felt(felt, at)).map_err(|_| Full(()))
    }

    /// See [`crate::Journal::last_felt`].
    ///
    /// # Errors
    /// As there, and `Busy` when the disk does not answer within three seconds.
    pub fn last_felt(&self) -> Result<Option<(Felt, Moment)>, JournalError> {
        self.ask(crate::Journal::last_felt)
    }

    /// See [`crate::Journal::steps`].
    ///
    /// # Errors
    /// As there, and `Busy` when the disk does not answer within three seconds.
    pub fn steps(&self, key: StretchKey) -> Result<StepsDone, JournalError> {
        self.ask(move |journal| journal.steps(&key))
    }

    /// See [`crate::Journal::recent_changes`].
    ///
    /// # Errors
    /// As there, and `Busy` when the disk does not answer within three seconds.
    pub fn recent_changes(&self, pair: Option<ChangePair>, limit: u32) -> Result<Vec<PlayedChange>, JournalError> {
        self.ask(move |journal| journal.recent_changes(pair.as_ref(), limit))
    }
}
