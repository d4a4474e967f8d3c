//! Where the ear sits: on a thread of its own beside the microphone, or, in tests, wherever the test pumps it.

use std::thread::{self, JoinHandle};
use std::time::Duration;

use crossbeam_channel::{Receiver, Sender, TryRecvError, bounded};
use sixrung_devices::InputReader;

use super::desk::{Desk, Told};
use super::shown::Shown;
use crate::session::Heard;

/// Orders and findings that may wait. A finding waits for room; a level is dropped, the next one is as good.
const WAITING: usize = 64;
/// How long the thread sleeps when the microphone gave nothing.
const NAP: Duration = Duration::from_millis(4);

/// Tells the window that there is something new to show.
pub(crate) type Wake = Box<dyn Fn() + Send>;

/// The ear, wherever it sits.
pub(crate) enum Seat {
    /// On the thread `listener`.
    Apart { told: Sender<Told>, heard: Receiver<Heard>, thread: Option<JoinHandle<()>> },
    /// Here: it hears when asked what it heard.
    Here(Box<Desk>),
}

impl Seat {
    /// Starts the thread `listener`.
    pub(crate) fn apart(reader: InputReader, wake: Wake) -> std::io::Result<Self> {
        let (told, told_out) = bounded(WAITING);
        let (heard_in, heard) = bounded(WAITING);
        let thread = thread::Builder::new()
            .name("listener".to_owned())
            .spawn(move || listen(Desk::new(reader), &told_out, &heard_in, &wake))?;
        Ok(Self::Apart { told, heard, thread: Some(thread) })
    }

    pub(crate) fn here(reader: InputReader) -> Self {
        Self::Here(Box::new(Desk::new(reader)))
    }

    pub(crate) fn tell(&mut self, told: Told) {
        match self {
            // Sixty-four orders ahead of an ear that hears a hundred times faster than real time cannot be.
            Self::Apart { told: to, .. } => drop(to.try_send(told)),
            Self::Here(desk) => desk.told(told),
        }
    }

    pub(crate) fn heard(&mut self) -> Vec<Heard> {
        match self {
            Self::Apart { heard, .. } => heard.try_iter().collect(),
            Self::Here(desk) => desk.pump().0,
        }
    }
}

impl Drop for Seat {
    fn drop(&mut self) {
        if let Self::Apart { told, heard, thread } = self {
            // Hanging up is how the thread learns that it is over.
            *told = bounded(0).0;
            *heard = bounded(0).1;
            if let Some(thread) = thread.take() {
                drop(thread.join());
            }
        }
    }
}

fn listen(mut desk: Desk, told: &Receiver<Told>, heard: &Sender<Heard>, wake: &Wake) {
    let mut shown = Shown::default();
    loop {
        loop {
            match told.try_recv() {
                Ok(order) => desk.told(order),
                Err(TryRecvError::Empty) => break,
                Err(TryRecvError::Disconnected) => return,
            }
        }
        let (found, heard_any) = desk.pump();
        for finding in found {
            let is_news = match &finding {
                Heard::Level(level) => Some(shown.is_level_news(level)),
                Heard::Tuned(sounding) => Some(shown.is_needle_news(*sounding)),
                Heard::Learning(progress) => Some(shown.is_stroke_news(*progress)),
                Heard::Pass { .. } | Heard::Change(_) | Heard::FourStrokes | Heard::Learned(_) | Heard::Measured(_) => {
                    None
                }
            };
            if let Some(is_news) = is_news {
                if is_news && heard.try_send(finding).is_ok() {
                    wake();
                }
            } else if heard.send(finding).is_ok() {
                wake();
            } else {
                return;
            }
        }
        if !heard_any {
            thread::sleep(NAP);
        }
    }
}
