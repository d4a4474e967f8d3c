//! The devices thread: opens, watches and reopens, and tells the app.

use std::sync::Arc;
use std::time::Duration;

use crossbeam_channel::{Receiver, RecvTimeoutError, Sender};

use crate::backend::{Ask, open_input, open_null, open_output};
use crate::callback::{InputSide, OutputSide};
use crate::config::{Config, OutputChoice};
use crate::desk::OutputDesk;
use crate::event::{Event, Opened, Port, Which, Why};
use crate::shared::Shared;
use crate::watch::port::PortKeeper;
use crate::watch::supervisor::Effect;

/// How often the streams are looked at.
const LOOK: Duration = Duration::from_millis(20);

/// What the app may ask of the devices thread.
#[derive(Debug)]
pub(crate) enum Command {
    Configure(Box<Config>),
    Stop,
}

/// Everything the devices thread owns.
pub(crate) struct Worker {
    config: Config,
    output: PortKeeper<OutputSide>,
    input: PortKeeper<InputSide>,
    desk: OutputDesk,
    shared: Arc<Shared>,
    /// Never waited on: when the app does not fetch its events new ones are dropped; the status stays true.
    events: Sender<Event>,
    /// The output has been open before: from now on its loss is a loss, and no reason to fall silent.
    output_was_open: bool,
}

impl Worker {
    pub(crate) fn new(
        config: Config,
        sides: (Box<OutputSide>, Box<InputSide>),
        desk: OutputDesk,
        shared: Arc<Shared>,
        events: Sender<Event>,
    ) -> Self {
        let (output, input) = (PortKeeper::new(sides.0), PortKeeper::new(sides.1));
        Self { config, output, input, desk, shared, events, output_was_open: false }
    }

    /// Runs until told to stop, or until the app is gone.
    pub(crate) fn run(mut self, commands: &Receiver<Command>) {
        loop {
            self.look();
            match commands.recv_timeout(LOOK) {
                Ok(Command::Configure(config)) => self.configure(*config),
                Err(RecvTimeoutError::Timeout) => {}
                Ok(Command::Stop) | Err(RecvTimeoutError::Disconnected) => return,
            }
        }
    }

    fn configure(&mut self, config: Config) {
        let output_stays = config.output == self.config.output
            && config.buffer == self.config.buffer
            && config.rate == self.config.rate;
        let input_stays = output_stays && config.input == self.config.input;
        self.config = config;
        if !output_stays || self.shared.status().output.opened().is_none() {
            self.output_was_open = false;
            self.output.restart();
        }
        if !input_stays || self.shared.status().input.opened().is_none() {
            self.input.restart();
            self.shared.status().input = Port::Off;
        }
    }

    fn look(&mut self) {
        if let Some(gap) = self.desk.look(&self.shared) {
            self.tell(Event::Gap(gap));
        }
        let (xruns, effect) = self.output.look();
        self.count_xruns(Which::Output, xruns);
        match effect {
            Effect::Nothing => {}
            Effect::Open => self.open_output(),
            Effect::Close(why) => self.lost(Which::Output, why),
        }
        if self.config.input.is_none() {
            return;
        }
        let (xruns, effect) = self.input.look();
        self.count_xruns(Which::Input, xruns);
        match effect {
            Effect::Nothing => {}
            Effect::Open => self.open_input(),
            Effect::Close(why) => self.lost(Which::Input, why),
        }
    }

    fn open_output(&mut self) {
        // Without a wish, the rate it had: so that what was playing can go on.
        let had = self.output.cargo().map(|side| side.rate()).filter(|rate| *rate > 0);
        let ask = Ask { rate: self.config.rate.or(had), buffer: self.config.buffer };
        let null = |note| move |build| open_null(ask.rate, ask.buffer, note, build);
        let result = match &self.config.output {
            OutputChoice::Null => self.output.open(null(None)),
            OutputChoice::Device(choice) => match self.output.open(|build| open_output(choice, ask, build)) {
                Err(Why::Refused(said)) if !self.output_was_open => {
                    let note = format!("there is no sound: {said}");
                    self.output.open(null(Some(note)))
                }
                result => result,
            },
        };
        match result {
            Ok(opened) => {
                self.output_was_open = true;
                self.opened(Which::Output, opened);
            }
            Err(why) => self.lost(Which::Output, why),
        }
    }

    fn open_input(&mut self) {
        let Some(choice) = self.config.input.clone() else { return };
        let rate = self.shared.status().output.opened().map(|it| it.rate).or(self.config.rate);
        let ask = Ask { rate, buffer: self.config.buffer };
        match self.input.open(|build| open_input(&choice.device, choice.pick, ask, build)) {
            Ok(opened) => self.opened(Which::Input, opened),
            Err(why) => self.lost(Which::Input, why),
        }
    }

    fn opened(&mut self, which: Which, opened: Opened) {
        *self.shared.status().port_mut(which) = Port::Open(opened.clone());
        self.tell(Event::Opened { which, opened });
    }

    /// Told once; the tries that follow change nothing for the app.
    fn lost(&mut self, which: Which, why: Why) {
        let before = std::mem::replace(self.shared.status().port_mut(which), Port::Missing(why.clone()));
        if !matches!(before, Port::Missing(_)) {
            self.tell(Event::Lost { which, why });
        }
    }

    fn count_xruns(&self, which: Which, new: u64) {
        if new > 0 {
            self.shared.status().xruns += new;
            self.tell(Event::Xrun(which));
        }
    }

    fn tell(&self, event: Event) {
        let _ = self.events.try_send(event);
    }
}
