//! What the devices thread, the listener and the app all look at. No audio thread ever does.

use std::sync::{Mutex, MutexGuard, PoisonError};

use crate::clock::OutputTimes;
use crate::event::Status;

pub(crate) struct Shared {
    output: Mutex<OutputTimes>,
    status: Mutex<Status>,
}

impl Shared {
    pub(crate) fn new() -> Self {
        Self { output: Mutex::new(OutputTimes::new()), status: Mutex::new(Status::default()) }
    }

    pub(crate) fn output_times(&self) -> MutexGuard<'_, OutputTimes> {
        self.output.lock().unwrap_or_else(PoisonError::into_inner)
    }

    pub(crate) fn status(&self) -> MutexGuard<'_, Status> {
        self.status.lock().unwrap_or_else(PoisonError::into_inner)
    }
}
