//! The one thing the app sees of sound devices.

use std::sync::Arc;
use std::thread::{self, JoinHandle};
use std::time::Duration;

use crossbeam_channel::{Receiver, Sender, bounded};

use crate::backend::{SimulatedConfig, Simulation};
use crate::callback::{input_side, output_side};
use crate::clock::Clock;
use crate::config::Config;
use crate::event::{Event, Status};
use crate::reader::InputReader;
use crate::shared::Shared;
use crate::source::{Inbox, Source};
use crate::watch::{Command, Worker};

/// Events under way to the app. When full, new ones are dropped; [`Sound::status`] stays true.
const EVENTS: usize = 64;
/// Commands under way to the devices thread. When full (it hangs in a frozen sound server), new ones are dropped.
const COMMANDS: usize = 8;

/// Speakers and microphone, kept open by a thread of their own until dropped.
///
/// Nothing here fails: what cannot be had is told by [`Sound::status`] and [`Sound::next_event`], and is silence
/// meanwhile.
pub struct Sound {
    shared: Arc<Shared>,
    clock: Clock,
    events: Receiver<Event>,
    inbox: Inbox,
    reader: Option<InputReader>,
    thread: Option<(Sender<Command>, JoinHandle<()>)>,
}

impl Sound {
    /// Begins to open what is asked for. Returns at once; an [`Event::Opened`] follows for each direction, or an
    /// [`Event::Lost`]. With no output device to be had, the null output takes its place.
    ///
    /// # Panics
    /// If the system gives no thread.
    #[must_use]
    pub fn open(config: Config) -> Self {
        let (clock, shared) = (Clock::start(), Arc::new(Shared::new()));
        let (output, inbox, desk, played) = output_side(clock.clone());
        let (input, input_ends) = input_side(clock.clone());
        let (commands, commands_out) = bounded(COMMANDS);
        let (events_in, events) = bounded(EVENTS);
        let worker = Worker::new(config, (output, input), desk, Arc::clone(&shared), events_in);
        let thread = thread::Builder::new()
            .name("devices".to_owned())
            .spawn(move || worker.run(&commands_out))
            .expect("a program that can be started can start a thread");
        let reader = Some(InputReader::new(input_ends, played, Arc::clone(&shared)));
        Self { shared, clock, events, inbox, reader, thread: Some((commands, thread)) }
    }

    /// Sound without devices or threads, for tests: nothing moves but by [`Simulation::advance`].
    #[must_use]
    pub fn simulated(config: SimulatedConfig) -> (Self, Simulation) {
        let shared = Arc::new(Shared::new());
        let (events_in, events) = bounded(EVENTS);
        let (simulation, clock, inbox, (input_ends, played)) = Simulation::new(config, Arc::clone(&shared), events_in);
        let reader = Some(InputReader::new(input_ends, played, Arc::clone(&shared)));
        (Self { shared, clock, events, inbox, reader, thread: None }, simulation)
    }

    /// Lets `source` play in place of the one before, which is freed. Frames count from its first.
    ///
    /// It must be made for the rate of the opened output ([`Opened::rate`](crate::Opened)).
    pub fn play(&self, source: Box<dyn Source>) {
        self.inbox.put(source);
    }

    /// Changes what is open, or looks again for what was not to be had. What stays the same goes on playing.
    pub fn configure(&self, config: Config) {
        if let Some((commands, _)) = &self.thread {
            let _ = commands.try_send(Command::Configure(Box::new(config)));
        }
    }

    /// The microphone's end, for the listener's thread. There is one: the second call gets `None`.
    pub const fn take_reader(&mut self) -> Option<InputReader> {
        self.reader.take()
    }

    /// The next thing that happened, if any.
    pub fn next_event(&self) -> Option<Event> {
        self.events.try_recv().ok()
    }

    /// The next thing that happened, waited for. `None` when time is up.
    pub fn wait_event(&self, timeout: Duration) -> Option<Event> {
        self.events.recv_timeout(timeout).ok()
    }

    /// How things stand.
    #[must_use]
    pub fn status(&self) -> Status {
        self.shared.status().clone()
    }

    /// The source's frame that is heard now: the output's own delay is taken out. `None` while there is no output or
    /// its clock is not yet known (8 blocks).
    #[must_use]
    #[expect(clippy::cast_precision_loss, reason = "nanoseconds of days fit an f64 to well under a microsecond")]
    pub fn frame_now(&self) -> Option<f64> {
        self.shared.status().output.opened()?;
        self.shared.output_times().frame_at(self.clock.now_ns() as f64)
    }
}

impl Drop for Sound {
    fn drop(&mut self) {
        if let Some((commands, thread)) = self.thread.take() {
            let _ = commands.try_send(Command::Stop);
            crate::ending::join(thread);
        }
    }
}
