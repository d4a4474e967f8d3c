//! Keeping devices open: when to give a stream up, when to try again.

mod port;
mod supervisor;
#[cfg(test)]
mod tests;
mod worker;

pub(crate) use port::Build;
pub(crate) use worker::{Command, Worker};
