//! What the app is told.

use std::fmt;

use crate::clock::Gap;

/// Which direction.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum Which {
    /// Speakers.
    Output,
    /// Microphone.
    Input,
}

/// Why a device is not to be had.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Why {
    /// The device, or the server behind it, said that it is gone.
    Gone,
    /// Errors came faster than they can be lived with.
    Failing,
    /// No block came for a second.
    Stalled,
    /// It could not be opened: what the system said.
    Refused(String),
}

impl fmt::Display for Why {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Self::Gone => f.write_str("the device is gone"),
            Self::Failing => f.write_str("the device keeps failing"),
            Self::Stalled => f.write_str("the device has stopped answering"),
            Self::Refused(said) => f.write_str(said),
        }
    }
}

/// An opened device.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Opened {
    /// To be stored, and asked for with [`crate::Choice::Id`].
    pub id: String,
    /// For the eye.
    pub name: String,
    /// Frames a second.
    pub rate: u32,
    /// Frames a block, as the device says; single blocks may differ.
    pub buffer: u32,
    /// Channels of the device.
    pub channels: u16,
    /// What the learner should know: that another device was asked for, that the output is silent.
    pub note: Option<String>,
}

/// How one direction stands.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub enum Port {
    /// Not asked for.
    #[default]
    Off,
    /// Running.
    Open(Opened),
    /// Asked for and not to be had; tried again from time to time.
    Missing(Why),
}

impl Port {
    /// The device, if it is running.
    #[must_use]
    pub const fn opened(&self) -> Option<&Opened> {
        if let Self::Open(opened) = self { Some(opened) } else { None }
    }
}

/// How things stand.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Status {
    /// The speakers.
    pub output: Port,
    /// The microphone.
    pub input: Port,
    /// Blocks that came too late or were fetched too late, as the devices themselves told, since the start.
    pub xruns: u64,
    /// Gaps found in the output's times since the start.
    pub gaps: u64,
}

impl Status {
    pub(crate) const fn port_mut(&mut self, which: Which) -> &mut Port {
        match which {
            Which::Output => &mut self.output,
            Which::Input => &mut self.input,
        }
    }
}

/// Something happened.
#[derive(Clone, Debug, PartialEq)]
pub enum Event {
    /// A device was opened, for the first time or again.
    Opened {
        /// Which direction.
        which: Which,
        /// What was opened. Of the output: a source made for this rate goes on where it was; one made for another
        /// rate has been dropped, give a new one.
        opened: Opened,
    },
    /// A device was lost, or could not be opened; it is tried again by itself.
    Lost {
        /// Which direction.
        which: Which,
        /// Why.
        why: Why,
    },
    /// The device itself told of blocks lost.
    Xrun(Which),
    /// The output stood still, or jumped: what was heard around there was not what was meant. (Gaps in the input come
    /// with what is read: [`crate::Chunk::gap`].)
    Gap(Gap),
}
