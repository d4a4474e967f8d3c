//! What sound devices there are.

use std::fmt;

use cpal::traits::{DeviceTrait as _, HostTrait as _};

use crate::backend::{FASTEST, SLOWEST};
use crate::event::Which;

/// Rates told by name when a device takes a whole range.
const COMMON: [u32; 8] = [8_000, 16_000, 22_050, 44_100, 48_000, 88_200, 96_000, 192_000];

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
    /// Common rates it takes, frames a second, rising. Empty where it cannot be asked just now (in use, or a plug-in
    /// that only tells when opened).
    pub rates: Vec<u32>,
    /// Channel counts it takes, rising.
    pub channels: Vec<u16>,
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
    let default_id = default.as_ref().and_then(|device| device.id().ok());
    let others = all.filter(|device| default_id.is_none() || device.id().ok() != default_id);
    let default = default.and_then(|device| describe(&device, which, true)).filter(|it| !it.rates.is_empty());
    default.into_iter().chain(others.filter_map(|device| describe(&device, which, false))).collect()
}

fn describe(device: &cpal::Device, which: Which, default: bool) -> Option<Device> {
    let offers: Vec<_> = match which {
        Which::Output => device.supported_output_configs().map(Iterator::collect),
        Which::Input => device.supported_input_configs().map(Iterator::collect),
    }
    .unwrap_or_default();
    let mut rates: Vec<u32> = COMMON
        .into_iter()
        .chain(offers.iter().flat_map(|it| [it.min_sample_rate(), it.max_sample_rate()]))
        .filter(|rate| (SLOWEST..=FASTEST).contains(rate) && offers.iter().any(|it| it.contains_rate(*rate)))
        .collect();
    let mut channels: Vec<u16> = offers.iter().map(cpal::SupportedStreamConfigRange::channels).collect();
    rates.sort_unstable();
    rates.dedup();
    channels.sort_unstable();
    channels.dedup();
    Some(Device { id: device.id().ok()?.to_string(), name: device.to_string(), default, rates, channels })
}
