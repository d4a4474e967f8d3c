//! What the output callback drives, and how it gets there.

use crossbeam_channel::{Receiver, Sender, TrySendError};

/// Something that plays: stereo, left and right by turns, at the rate of the opened output, any length.
///
/// # Real-time
/// `process` is called on the audio thread: it must not allocate, free, lock, wait, log or panic.
pub trait Source: Send {
    /// Fills the block, which comes zeroed.
    fn process(&mut self, interleaved_stereo: &mut [f32]);
}

/// Where a new source is left for the output callback. Room for one: a newer one takes the place of one that was not
/// fetched.
pub(crate) struct Inbox {
    pub(crate) entrance: Sender<Box<dyn Source>>,
    /// To take back what was not fetched.
    pub(crate) unfetched: Receiver<Box<dyn Source>>,
}

impl Inbox {
    pub(crate) fn put(&self, source: Box<dyn Source>) {
        let mut waiting = source;
        while let Err(TrySendError::Full(again)) = self.entrance.try_send(waiting) {
            let _ = self.unfetched.try_recv();
            waiting = again;
        }
    }
}

impl Source for sixrung_audio::Performer {
    fn process(&mut self, interleaved_stereo: &mut [f32]) {
        Self::process(self, interleaved_stereo);
    }
}
