//! What sound devices there are.

use std::fmt;

use cpal::DeviceId;
use cpal::traits::{DeviceTrait as _, HostTrait as _};

use crate::backend::{FASTEST, SLOWEST};
use crate::event::Which;

/// Rates told by name when a device takes a whole range.
const COMMON: [u32; 8] = [8_000, 16_000, 22_050, 44_100, 48_000, 88_200, 96_000, 192_000];

/// Names ALSA lists that are no devices: rate converters, mixers, a bin, and doors to servers that complain on standard
/// error when nobody is behind them. (Those servers' own ALSA plug-ins are what `default` leads to.)
const PLUMBING: [&str; 9] = [
    "alsa:null",
    "alsa:lavrate",
    "alsa:samplerate",
    "alsa:speexrate",
    "alsa:speex",
    "alsa:upmix",
    "alsa:vdownmix",
    "alsa:jack",
    "alsa:oss",
];

/// What there is, in each direction the default first.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Devices {
    /// Speakers.
    pub outputs: Vec<Device>,
    /// Microphones.
    pub inputs: Vec<Device>,
}

/// One device in one direction.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Device {
    /// To be stored, and asked for with [`crate::Choice::Id`].
    pub id: String,
    /// For the eye.
    pub name: String,
    /// The system's default for this direction.
    pub default: bool,
    /// Common rates it takes, frames a second, rising. Empty while it is in use and can't be asked.
    pub rates: Vec<u32>,
    /// The most channels it takes; 0 while it can't be asked.
    pub channels: u16,
}

/// Why nothing could be listed.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct ListError {
    said: String,
}

impl ListError {
    /// What is wrong: one line, lower case.
    #[must_use]
    pub fn message(&self) -> String {
        format!("the sound system does not answer: {}", self.said)
    }

    /// What to try.
    #[must_use]
    pub const fn hint(&self) -> &'static str {
        "is a sound server (PipeWire or PulseAudio) running, and may you use it?"
    }
}

impl fmt::Display for ListError {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(f, "{}\nhint: {}", self.message(), self.hint())
    }
}

impl std::error::Error for ListError {}

/// Lists the devices of the system's own sound interface.
///
/// # Errors
/// If that does not answer. A machine without devices gives empty lists.
pub fn list() -> Result<Devices, ListError> {
    crate::quiet::hush();
    let host = cpal::default_host();
    let failed = |error: cpal::Error| ListError { said: error.to_string().to_lowercase() };
    Ok(Devices {
        outputs: gather(Which::Output, host.default_output_device(), host.output_devices().map_err(failed)?),
        inputs: gather(Which::Input, host.default_input_device(), host.input_devices().map_err(failed)?),
    })
}

/// The default may be a name that stands for nothing: it counts if it can be asked what it takes.
fn gather(which: Which, default: Option<cpal::Device>, all: impl Iterator<Item = cpal::Device>) -> Vec<Device> {
    let id = |device: &cpal::Device| device.id().ok();
    let default_id = default.as_ref().and_then(id);
    let others =
        all.filter(|device| id(device).is_some_and(|it| Some(&it) != default_id.as_ref() && !is_plumbing(&it)));
    let default = default.and_then(|device| describe(&device, which, true));
    default.into_iter().chain(others.filter_map(|device| describe(&device, which, false))).collect()
}

fn is_plumbing(id: &DeviceId) -> bool {
    PLUMBING.contains(&id.to_string().as_str())
}

/// `None` for what neither tells what it takes nor is merely in use: a name without a device.
fn describe(device: &cpal::Device, which: Which, default: bool) -> Option<Device> {
    let offers: Result<Vec<_>, cpal::Error> = match which {
        Which::Output => device.supported_output_configs().map(Iterator::collect),
        Which::Input => device.supported_input_configs().map(Iterator::collect),
    };
    let offers = match offers {
        Ok(offers) if offers.is_empty() => return None,
        Err(error) if error.kind() == cpal::ErrorKind::DeviceBusy => Vec::new(),
        offers => offers.ok()?,
    };
    let ends = offers.iter().flat_map(|it| [it.min_sample_rate(), it.max_sample_rate()]);
    let had = |rate: &u32| (SLOWEST..=FASTEST).contains(rate) && offers.iter().any(|it| it.contains_rate(*rate));
    let mut rates: Vec<u32> = COMMON.into_iter().chain(ends).filter(had).collect();
    rates.sort_unstable();
    rates.dedup();
    let channels = offers.iter().map(cpal::SupportedStreamConfigRange::channels).max().unwrap_or(0);
    Some(Device { id: device.id().ok()?.to_string(), name: device.to_string(), default, rates, channels })
}
