//! What runs the callbacks: a sound device, a paced thread, or a test.

mod formats;
mod null;
mod simulated;
mod streams;
#[cfg(test)]
mod tests;

pub use simulated::{Room, SimulatedConfig, Simulation};

pub(crate) use formats::{Ask, FASTEST, SLOWEST, choose};
pub(crate) use null::{NullOutput, open_null};
pub(crate) use streams::{open_input, open_output};

/// Keeps callbacks coming until it is dropped.
pub(crate) enum Driver {
    /// A device's stream.
    Stream(#[expect(dead_code, reason = "held for its drop, which ends the stream")] cpal::Stream),
    /// A thread of our own.
    Null(#[expect(dead_code, reason = "held for its drop, which ends the thread")] NullOutput),
}
