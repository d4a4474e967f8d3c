//! The end of a thread that may hang in the system.

use std::thread::{self, JoinHandle};
use std::time::{Duration, Instant};

/// How long the end waits for a thread. One that hangs in a frozen sound server is left behind.
const PATIENCE: Duration = Duration::from_secs(2);

/// Waits for a thread that was told to stop.
pub(crate) fn join(thread: JoinHandle<()>) {
    let asked = Instant::now();
    while !thread.is_finished() && asked.elapsed() < PATIENCE {
        thread::sleep(Duration::from_millis(1));
    }
    if thread.is_finished() {
        // If it panicked there is nothing left to close.
        let _ = thread.join();
    }
}
