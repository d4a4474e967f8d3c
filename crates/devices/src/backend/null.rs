//! The output that is none: keeps time, makes no sound.

use std::sync::Arc;
use std::sync::atomic::{AtomicBool, Ordering};
use std::thread::{self, JoinHandle};
use std::time::{Duration, Instant};

use crate::backend::Driver;
use crate::callback::OutputSide;
use crate::clock::Times;
use crate::event::{Opened, Why};
use crate::watch::Build;

/// Frames a second where nothing else was asked for.
const RATE: u32 = 48_000;
/// Later than this (the machine slept), time goes on from now instead of being caught up with.
const TOO_LATE: Duration = Duration::from_secs(1);

/// A thread that plays the source at its pace and throws the sound away.
pub(crate) struct NullOutput {
    stop: Arc<AtomicBool>,
    thread: Option<JoinHandle<()>>,
}

impl Drop for NullOutput {
    fn drop(&mut self) {
        self.stop.store(true, Ordering::Release);
        if let Some(thread) = self.thread.take() {
            thread.thread().unpark();
            // Joined so that what the thread owns is home; if it panicked there is nothing more to be done about it.
            let _ = thread.join();
        }
    }
}

/// Opens and starts the null output; `note` says why there is no other.
pub(crate) fn open_null(
    rate: Option<u32>,
    buffer: u32,
    note: Option<String>,
    mut build: Build<OutputSide>,
) -> Result<(Driver, Opened), Why> {
    let (rate, buffer) = (rate.unwrap_or(RATE).max(1), buffer.clamp(16, 8192));
    if let Some(side) = build.cargo.get() {
        side.opened(rate);
    }
    let stop = Arc::new(AtomicBool::new(false));
    let asked = Arc::clone(&stop);
    let thread = thread::Builder::new()
        .name("null output".to_owned())
        .spawn(move || pace(build, rate, buffer, &asked))
        .map_err(|error| Why::Refused(error.to_string()))?;
    let opened = Opened { id: "null".to_owned(), name: "null output".to_owned(), rate, buffer, channels: 2, note };
    Ok((Driver::Null(NullOutput { stop, thread: Some(thread) }), opened))
}

fn pace(mut build: Build<OutputSide>, rate: u32, buffer: u32, stop: &AtomicBool) {
    let mut block = vec![0.0_f32; 2 * buffer as usize];
    let length = Duration::from_secs_f64(f64::from(buffer) / f64::from(rate));
    let origin = Instant::now();
    let ns = |since: Duration| i64::try_from(since.as_nanos()).unwrap_or(i64::MAX);
    let (mut start, mut blocks) = (Duration::ZERO, 0_u32);
    while !stop.load(Ordering::Acquire) {
        let due = start + length * blocks;
        let now = origin.elapsed();
        if now < due {
            thread::park_timeout(due - now);
            continue;
        }
        if now - due > TOO_LATE || blocks == u32::MAX {
            (start, blocks) = (now, 0);
            continue;
        }
        blocks += 1;
        build.health.block();
        sixrung_audio::flush_denormals();
        if let Some(side) = build.cargo.get() {
            // As with a device, a block sounds once the one before it has: one block later.
            let times = Times { callback_ns: ns(now), device_ns: ns(due + length) };
            side.render(&mut block, 2, times);
        }
    }
}
