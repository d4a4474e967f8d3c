//! What the app asks for.

/// Frames a block on a desktop: a design choice of ours, 21 ms at 48 kHz, steady on a loaded machine.
pub const DEFAULT_BUFFER: u32 = 1024;

/// Which device.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub enum Choice {
    /// The system's default.
    #[default]
    Default,
    /// The one with this id, as [`crate::list()`] and [`crate::Opened`] tell it; the default if it is not there, and
    /// [`crate::Opened::note`] says so.
    Id(String),
}

/// Which of a microphone's channels is listened to.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub enum Pick {
    /// The mean of all.
    #[default]
    Mean,
    /// One, from 0; the mean of all where there is no such channel.
    Channel(u16),
}

/// The microphone asked for.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct InputChoice {
    /// Which device.
    pub device: Choice,
    /// Which channel.
    pub pick: Pick,
}

/// The output asked for.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum OutputChoice {
    /// A sound device; the null output where there is none.
    Device(Choice),
    /// No device: silent, but in time.
    Null,
}

/// What is to be opened.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Config {
    /// Where to play.
    pub output: OutputChoice,
    /// What to listen to, if anything.
    pub input: Option<InputChoice>,
    /// Frames a second; the device's own choice if `None` or not to be had.
    pub rate: Option<u32>,
    /// Frames a block, asked for; what comes may differ.
    pub buffer: u32,
}

impl Default for Config {
    fn default() -> Self {
        Self {
            output: OutputChoice::Device(Choice::Default),
            input: Some(InputChoice::default()),
            rate: None,
            buffer: DEFAULT_BUFFER,
        }
    }
}
