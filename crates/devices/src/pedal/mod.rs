//! MIDI pedals: every MIDI input there is, heard for switches that are stepped on.

mod message;
mod ports;

use std::sync::{Arc, Mutex, PoisonError};
use std::thread::{self, JoinHandle};

use crossbeam_channel::{Receiver, Sender, bounded};

pub use message::{PedalKind, PedalPress};

use message::Switches;

/// Presses that may wait for the next frame. When full, further ones are dropped: nobody means so many steps at once,
/// and none should act long after.
const PRESSES: usize = 8;
/// What the simulated port is called.
const SIMULATED: &str = "simulated pedal";

/// Where the presses of all pedals come out. Nothing here fails: a machine without MIDI, or without a pedal, gives none.
#[derive(Default)]
pub struct Pedals {
    presses: Option<Receiver<PedalPress>>,
    names: Arc<Mutex<Vec<String>>>,
    thread: Option<(Sender<()>, JoinHandle<()>)>,
}

impl Pedals {
    /// Hears every MIDI input that is there, and every one that comes, from a thread named `pedals`. Returns at once.
    /// `wake` is called, from another thread, when there is a press.
    #[must_use]
    pub fn open(wake: impl Fn() + Clone + Send + 'static) -> Self {
        let (line, presses) = line(wake);
        let names = Arc::new(Mutex::new(Vec::new()));
        let (stop, stopped) = bounded(0);
        let shown = Arc::clone(&names);
        let thread = thread::Builder::new()
            .name("pedals".to_owned())
            .spawn(move || ports::keep_open(&stopped, &shown, &line))
            .map(|thread| (stop, thread));
        Self { presses: Some(presses), names, thread: thread.ok() }
    }

    /// A pedal that is stepped on by a test.
    #[must_use]
    pub fn simulated() -> (Self, SimulatedPedal) {
        let wake: fn() = || {};
        let (line, presses) = line(wake);
        let names = Arc::new(Mutex::new(vec![SIMULATED.to_owned()]));
        (Self { presses: Some(presses), names, thread: None }, SimulatedPedal(line))
    }

    /// The next press, if there was one.
    #[must_use]
    pub fn next_press(&self) -> Option<PedalPress> {
        self.presses.as_ref()?.try_recv().ok()
    }

    /// What is heard now, by name.
    #[must_use]
    pub fn names(&self) -> Vec<String> {
        self.names.lock().unwrap_or_else(PoisonError::into_inner).clone()
    }
}

impl Drop for Pedals {
    fn drop(&mut self) {
        if let Some((stop, thread)) = self.thread.take() {
            // Hanging up is how the thread learns that it is over.
            drop(stop);
            crate::ending::join(thread);
        }
    }
}

/// One simulated port.
pub struct SimulatedPedal(Line<fn()>);

impl SimulatedPedal {
    /// The pedal sends this message.
    pub fn send(&mut self, message: &[u8]) {
        self.0.message(message);
    }
}

/// From one port's messages to where presses come out.
struct Line<W> {
    switches: Switches,
    presses: Sender<PedalPress>,
    wake: W,
}

impl<W: Clone> Clone for Line<W> {
    /// The same for another port: none of its switches is down.
    fn clone(&self) -> Self {
        Self { switches: Switches::default(), presses: self.presses.clone(), wake: self.wake.clone() }
    }
}

impl<W: Fn()> Line<W> {
    fn message(&mut self, message: &[u8]) {
        if let Some(press) = self.switches.press(message)
            && self.presses.try_send(press).is_ok()
        {
            (self.wake)();
        }
    }
}

fn line<W>(wake: W) -> (Line<W>, Receiver<PedalPress>) {
    let (sender, presses) = bounded(PRESSES);
    (Line { switches: Switches::default(), presses: sender, wake }, presses)
}

#[cfg(test)]
mod tests {
    use std::cell::Cell;

    use super::{PRESSES, PedalKind, PedalPress, Pedals, line};

    #[test]
    fn a_press_comes_out_and_wakes_once_and_what_finds_no_room_is_dropped() {
        let woken = Cell::new(0);
        let (mut line, presses) = line(|| woken.set(woken.get() + 1));
        line.message(&[0xB0, 64, 100]);
        line.message(&[0xB0, 64, 127]);
        line.message(&[0xB0, 64, 0]);
        assert_eq!(presses.try_iter().count(), 1);
        assert_eq!(woken.get(), 1);
        for program in 0..20 {
            line.message(&[0xC0, program]);
        }
        assert_eq!(presses.try_iter().map(|press| press.number).collect::<Vec<_>>(), [0, 1, 2, 3, 4, 5, 6, 7]);
        assert_eq!(woken.get(), 1 + PRESSES);
    }

    #[test]
    fn two_ports_do_not_hold_each_others_switches() {
        let (mut one, presses) = line(|| {});
        let mut other = one.clone();
        one.message(&[0xB0, 64, 127]);
        other.message(&[0xB0, 64, 127]);
        assert_eq!(presses.try_iter().count(), 2);
    }

    #[test]
    fn a_simulated_pedal_is_heard_and_no_pedal_is_none() {
        let (pedals, mut pedal) = Pedals::simulated();
        assert_eq!((pedals.next_press(), pedals.names().len()), (None, 1));
        pedal.send(&[0x9F, 36, 100]);
        assert_eq!(pedals.next_press(), Some(PedalPress { kind: PedalKind::Note, channel: 15, number: 36 }));
        let none = Pedals::default();
        assert_eq!((none.next_press(), none.names().len()), (None, 0));
    }
}
