//! Looking back, taking passes out and players, through the queue.

use sixrung_practice::Moment;

use super::{Job, JournalWorker, PATIENCE};
use crate::error::JournalError;
use crate::look_back::{KeptPass, LookBack, PassPlace, Wanted};
use crate::passes::{PassId, PlayedPass};
use crate::players::{Player, PlayerId};

impl JournalWorker {
    /// See [`crate::Journal::look_back`].
    ///
    /// # Errors
    /// As there, and `Busy` when the disk does not answer within three seconds.
    pub fn look_back(&self, wanted: Wanted) -> Result<LookBack, JournalError> {
        self.ask(move |journal| journal.look_back(&wanted))
    }

    /// See [`crate::Journal::passes_before`].
    ///
    /// # Errors
    /// As there, and `Busy` when the disk does not answer within three seconds.
    pub fn passes_before(
        &self,
        title: Option<String>,
        place: PassPlace,
        limit: u32,
    ) -> Result<Vec<(PassId, PlayedPass)>, JournalError> {
        self.ask(move |journal| journal.passes_before(title.as_deref(), place, limit))
    }

    /// See [`crate::Journal::kept_pass`].
    ///
    /// # Errors
    /// As there, and `Busy` when the disk does not answer within three seconds.
    pub fn kept_pass(&self, id: PassId) -> Result<Option<KeptPass>, JournalError> {
        self.ask(move |journal| journal.kept_pass(id))
    }

    /// See [`crate::Journal::delete_passes`].
    ///
    /// # Errors
    /// As there, and `Busy` when the disk does not answer within three seconds.
    pub fn delete_passes(&self, passes: Vec<PassId>, now: Moment) -> Result<u64, JournalError> {
        self.change(move |journal| journal.delete_passes(&passes, now))
    }

    /// See [`crate::Journal::undo_delete`].
    ///
    /// # Errors
    /// As there, and `Busy` when the disk does not answer within three seconds.
    pub fn undo_delete(&self) -> Result<u64, JournalError> {
        self.change(crate::Journal::undo_delete)
    }

    /// See [`crate::Journal::deleted_passes`].
    ///
    /// # Errors
    /// As there, and `Busy` when the disk does not answer within three seconds.
    pub fn deleted_passes(&self) -> Result<u64, JournalError> {
        self.ask(crate::Journal::deleted_passes)
    }

    /// Everyone who plays, and whose turn it is.
    ///
    /// # Errors
    /// When the file cannot be read, and `Busy` when the disk does not answer within three seconds.
    pub fn players(&self) -> Result<(Vec<Player>, PlayerId), JournalError> {
        self.ask(|journal| Ok((journal.players()?, journal.player())))
    }

    /// See [`crate::Journal::add_player`].
    ///
    /// # Errors
    /// As there, and `Busy` when the disk does not answer within three seconds.
    pub fn add_player(&self, name: String) -> Result<PlayerId, JournalError> {
        self.change(move |journal| journal.add_player(&name))
    }

    /// See [`crate::Journal::rename_player`].
    ///
    /// # Errors
    /// As there, and `Busy` when the disk does not answer within three seconds.
    pub fn rename_player(&self, player: PlayerId, name: String) -> Result<(), JournalError> {
        self.change(move |journal| journal.rename_player(player, &name))
    }

    /// See [`crate::Journal::choose_player`]. What was handed over before is kept for the player before.
    ///
    /// # Errors
    /// As there, and `Busy` when the disk does not answer within three seconds.
    pub fn choose_player(&self, player: PlayerId) -> Result<(), JournalError> {
        self.change(move |journal| journal.choose_player(player))
    }

    /// Something that changes the journal and is waited for.
    fn change<T: Send + 'static>(
        &self,
        change: impl FnOnce(&mut crate::Journal) -> Result<T, JournalError> + Send + 'static,
    ) -> Result<T, JournalError> {
        self.answer(PATIENCE, Job::Ask, change)
    }
}
