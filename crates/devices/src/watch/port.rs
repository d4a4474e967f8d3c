//! One direction: its supervisor, its stream, and what goes into the stream's callback and comes home.

use std::sync::Arc;
use std::thread;
use std::time::{Duration, Instant};

use crossbeam_channel::{Receiver, Sender};

use crate::backend::Driver;
use crate::callback::{Health, Pulse, Returning, home};
use crate::event::{Opened, Why};
use crate::watch::supervisor::{Effect, Input, Supervisor};

/// How long a dropped stream's callback may take to end and give back what it owns.
const HOMECOMING: Duration = Duration::from_millis(500);

/// A stream in the making.
pub(crate) struct Build<T> {
    /// Moves into the callback.
    pub(crate) cargo: Returning<T>,
    /// Bumped by the callbacks.
    pub(crate) health: Arc<Health>,
}

pub(crate) struct PortKeeper<T> {
    supervisor: Supervisor,
    began: Instant,
    driver: Option<Driver>,
    health: Arc<Health>,
    xruns: u64,
    cargo: Option<Box<T>>,
    way_home: (Sender<Box<T>>, Receiver<Box<T>>),
}

impl<T> PortKeeper<T> {
    pub(crate) fn new(cargo: Box<T>) -> Self {
        Self {
            supervisor: Supervisor::new(),
            began: Instant::now(),
            driver: None,
            health: Arc::default(),
            xruns: 0,
            cargo: Some(cargo),
            way_home: home(),
        }
    }

    /// What the callback owns, while no stream is open.
    pub(crate) fn cargo(&mut self) -> Option<&mut T> {
        self.cargo.as_deref_mut()
    }

    /// Forgets the stream and starts over.
    pub(crate) fn restart(&mut self) {
        self.close();
        self.tell(&Input::Wanted);
    }

    /// Drops the stream. What its callback owned comes home: at once as a rule, much later from a server that is frozen
    /// and lets no stream end. That is waited for elsewhere.
    pub(crate) fn close(&mut self) {
        let Some(driver) = self.driver.take() else { return };
        // Without a thread to be had the closure is dropped, and with it the driver: here and now.
        let _ = thread::Builder::new().name("devices closing".to_owned()).spawn(move || drop(driver));
        self.cargo = self.way_home.1.recv_timeout(HOMECOMING).ok();
    }

    /// New xruns since the last look, and what is to be done.
    pub(crate) fn look(&mut self) -> (u64, Effect) {
        let pulse = if self.driver.is_some() { self.health.pulse() } else { Pulse::default() };
        let new_xruns = pulse.xruns.saturating_sub(self.xruns);
        self.xruns = pulse.xruns;
        let effect = self.tell(&Input::Counted(pulse));
        if matches!(effect, Effect::Close(_)) {
            self.close();
        }
        (new_xruns, effect)
    }

    /// Opens a stream with `build`.
    pub(crate) fn open(
        &mut self,
        build: impl FnOnce(Build<T>) -> Result<(Driver, Opened), Why>,
    ) -> Result<Opened, Why> {
        self.health = Arc::default();
        self.xruns = 0;
        let late = || self.way_home.1.try_recv().ok();
        let Some(cargo) = self.cargo.take().or_else(late) else {
            self.tell(&Input::Refused);
            return Err(Why::Refused("the last stream does not let go of its device".to_owned()));
        };
        let cargo = Returning::new(cargo, self.way_home.0.clone());
        match build(Build { cargo, health: Arc::clone(&self.health) }) {
            Ok((driver, opened)) => {
                self.driver = Some(driver);
                self.tell(&Input::Opened);
                Ok(opened)
            }
            Err(why) => {
                self.cargo = self.way_home.1.recv_timeout(HOMECOMING).ok();
                self.tell(&Input::Refused);
                Err(why)
            }
        }
    }
}

impl<T> PortKeeper<T> {
    /// The time is taken anew each time: opening a device may have taken seconds.
    fn tell(&mut self, input: &Input) -> Effect {
        self.supervisor.update(input, self.began.elapsed())
    }
}

impl<T> Drop for PortKeeper<T> {
    fn drop(&mut self) {
        self.close();
    }
}
