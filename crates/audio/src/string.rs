//! Plucked strings: what they are made of, how they are struck, how eight of them run side by side.

pub(crate) mod attack;
pub(crate) mod bank;
mod dispersion;
pub(crate) mod excite;
pub(crate) mod lanes;
mod loss;
pub(crate) mod model;
