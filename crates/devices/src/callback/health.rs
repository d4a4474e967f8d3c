//! What a stream's callbacks tell the watcher: counts, in atomics.

use std::sync::atomic::{AtomicBool, AtomicU64, Ordering::Relaxed};

/// Bumped by the callbacks of one stream, read by the watcher.
///
/// An error callback may be called hundreds of thousands of times a second once a sound server has died (measured:
/// 514,056 in two seconds), so it does nothing but count.
#[derive(Debug, Default)]
pub(crate) struct Health {
    blocks: AtomicU64,
    errors: AtomicU64,
    xruns: AtomicU64,
    gone: AtomicBool,
}

/// The counts at one moment.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub(crate) struct Pulse {
    pub(crate) blocks: u64,
    pub(crate) errors: u64,
    pub(crate) xruns: u64,
    /// The device said that it is gone, or the stream that it must be rebuilt.
    pub(crate) gone: bool,
}

impl Health {
    /// # Real-time
    /// One atomic.
    pub(crate) fn block(&self) {
        self.blocks.fetch_add(1, Relaxed);
    }

    /// # Real-time
    /// One atomic.
    pub(crate) fn error(&self, kind: cpal::ErrorKind) {
        use cpal::ErrorKind::{
            DeviceChanged, DeviceNotAvailable, HostUnavailable, RealtimeDenied, StreamInvalidated, Xrun,
        };
        match kind {
            Xrun => _ = self.xruns.fetch_add(1, Relaxed),
            DeviceNotAvailable | HostUnavailable | StreamInvalidated => self.gone.store(true, Relaxed),
            // The stream goes on: rerouted by the host, or without a real-time priority.
            DeviceChanged | RealtimeDenied => {}
            _ => _ = self.errors.fetch_add(1, Relaxed),
        }
    }

    pub(crate) fn pulse(&self) -> Pulse {
        Pulse {
            blocks: self.blocks.load(Relaxed),
            errors: self.errors.load(Relaxed),
            xruns: self.xruns.load(Relaxed),
            gone: self.gone.load(Relaxed),
        }
    }
}
