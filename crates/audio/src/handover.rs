//! Between the window and the audio thread: two bounded queues each way, neither ever waited on.
//!
//! `crossbeam-channel` takes no lock as long as nobody blocks on a channel; here only `try_send` and `try_recv` exist.
//!
//! | queue | holds | when it is full |
//! |---|---|---|
//! | commands, to the performer | as many as [`pair`] was told | [`Controls::send`] gives the command back |
//! | reports, to the window | as many as [`pair`] was told | the report is dropped and counted: [`Report::Lost`] |
//! | timelines coming back | every one that can be out | cannot be: [`Controls::send`] lets at most eight out |

use crossbeam_channel::{Receiver, Sender, TrySendError, bounded};
use sixrung_timeline::{FineFrames, Frames};

use crate::prepared::Prepared;
use crate::shelf::PLACES;
use crate::units::{Decibels, Part};

/// What the performer can be told.
#[derive(Debug)]
pub enum Command {
    /// Play this from now on. What was playing is dropped and its strings are stopped as by a hand. Out of silence the
    /// sound opens over 60 ms first, and tick 0 follows that.
    Play(Box<Prepared>),
    /// Play this from the exact end of the running cycle; at once when nothing plays. A second one takes the place of
    /// one that still waits.
    PlayNext(Box<Prepared>),
    /// Close over 60 ms, then be silent.
    Stop,
    /// Move a part's gain.
    Gain(Part, Decibels),
    /// Move the gain of everything.
    Master(Decibels),
    /// Silence everything; playing goes on.
    Mute,
    /// Take the silence back.
    Unmute,
}

/// What the performer reports. Frames count what it has put out since it began; they are the program's clock.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Report {
    /// A timeline begins.
    Started {
        /// Its id.
        id: u64,
        /// Where its tick 0 is heard. May lie a little ahead.
        frame: Frames,
        /// The same, unrounded.
        fine: FineFrames,
    },
    /// A cycle begins.
    CycleStarted {
        /// The timeline's id.
        id: u64,
        /// Which cycle, from 0.
        cycle: u64,
        /// Where its tick 0 is heard.
        frame: Frames,
        /// The same, unrounded.
        fine: FineFrames,
    },
    /// A timeline has played all its passes. Its last sounds ring on.
    Finished {
        /// Its id.
        id: u64,
        /// Where its last cycle ends.
        frame: Frames,
    },
    /// Silent after [`Command::Stop`].
    Stopped {
        /// From here on.
        frame: Frames,
    },
    /// A timeline made for another sample rate was not taken.
    Refused {
        /// Its id.
        id: u64,
    },
    /// So many reports were dropped because nobody read them.
    Lost {
        /// How many since the last time.
        count: u32,
    },
}

/// The window's end. Never used on the audio thread.
#[derive(Debug)]
pub struct Controls {
    commands: Sender<Command>,
    reports: Receiver<Report>,
    returns: Receiver<Box<Prepared>>,
    out: usize,
}

/// The performer's end.
#[derive(Debug)]
pub struct PerformerEnd {
    commands: Receiver<Command>,
    reports: Sender<Report>,
    returns: Sender<Box<Prepared>>,
    lost: u32,
}

/// The two ends, with room for `capacity` commands one way and as many reports the other (at least 8).
#[must_use]
pub fn pair(capacity: usize) -> (Controls, PerformerEnd) {
    let capacity = capacity.max(8);
    let (command_in, command_out) = bounded(capacity);
    let (report_in, report_out) = bounded(capacity);
    let (return_in, return_out) = bounded(PLACES);
    let controls = Controls { commands: command_in, reports: report_out, returns: return_out, out: 0 };
    let end = PerformerEnd { commands: command_out, reports: report_in, returns: return_in, lost: 0 };
    (controls, end)
}

impl Controls {
    /// Hands a command over.
    ///
    /// # Errors
    /// Gives the command back when the queue is full, when eight timelines are out already, or when the performer is
    /// gone. Try again after the next callback.
    pub fn send(&mut self, command: Command) -> Result<(), Command> {
        self.free_returned();
        let carries = matches!(command, Command::Play(_) | Command::PlayNext(_));
        if carries && self.out >= PLACES {
            return Err(command);
        }
        self.commands.try_send(command).map_err(TrySendError::into_inner)?;
        self.out += usize::from(carries);
        Ok(())
    }

    /// The next report, if there is one. Also frees the timelines that came back.
    pub fn poll(&mut self) -> Option<Report> {
        self.free_returned();
        self.reports.try_recv().ok()
    }

    /// How many timelines the performer still holds.
    #[must_use]
    pub fn timelines_out(&self) -> usize {
        self.out
    }

    fn free_returned(&mut self) {
        while let Ok(returned) = self.returns.try_recv() {
            drop(returned);
            self.out -= 1;
        }
    }
}

impl PerformerEnd {
    /// The next command.
    ///
    /// # Real-time
    /// Takes no lock and waits for nobody.
    pub(crate) fn command(&mut self) -> Option<Command> {
        self.commands.try_recv().ok()
    }

    /// Reports, or counts the report as lost.
    ///
    /// # Real-time
    /// Takes no lock and waits for nobody; a report owns nothing that would have to be freed.
    pub(crate) fn report(&mut self, report: Report) {
        self.report_lost();
        if self.reports.try_send(report).is_err() {
            self.lost = self.lost.saturating_add(1);
        }
    }

    /// Says how many reports were lost, as soon as there is room to say it.
    ///
    /// # Real-time
    /// Takes no lock and waits for nobody.
    pub(crate) fn report_lost(&mut self) {
        if self.lost > 0 && self.reports.try_send(Report::Lost { count: self.lost }).is_ok() {
            self.lost = 0;
        }
    }

    /// Sends a timeline home to be freed there, or gives it back if that can't be done now.
    ///
    /// # Real-time
    /// Takes no lock, waits for nobody, frees nothing.
    pub(crate) fn send_home(&mut self, prepared: Box<Prepared>) -> Result<(), Box<Prepared>> {
        self.returns.try_send(prepared).map_err(TrySendError::into_inner)
    }
}
