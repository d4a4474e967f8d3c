//! What comes back from the output callback: stamps to be placed, old sources to be freed.

use crossbeam_channel::Receiver;
use rtrb::Consumer;

use crate::clock::{Gap, Stamp};
use crate::shared::Shared;
use crate::source::Source;

/// The devices thread's end of the output callback (in a simulation, the simulation's).
pub(crate) struct OutputDesk {
    pub(crate) stamps: Consumer<Stamp>,
    pub(crate) outbox: Receiver<Box<dyn Source>>,
}

impl OutputDesk {
    /// Places what has come and frees old sources. The latest gap, if any was found.
    pub(crate) fn look(&mut self, shared: &Shared) -> Option<Gap> {
        self.outbox.try_iter().for_each(drop);
        let mut latest = None;
        while let Ok(stamp) = self.stamps.pop() {
            // Locked anew for each, so that the listener never waits for a long queue.
            let gap = shared.output_times().push(&stamp);
            if gap.is_some() {
                shared.status().gaps += 1;
                latest = gap;
            }
        }
        latest
    }
}
