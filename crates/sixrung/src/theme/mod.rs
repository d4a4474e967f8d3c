//! Colours, sizes and fonts: the only place they come from.

mod look;

pub use look::{Hand, Look, Motion, Sheet};
