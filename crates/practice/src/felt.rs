//! How the hands feel, as the learner says when asked.

/// An answer to the question whether anything hurts.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum Felt {
    /// Nothing does.
    Fine,
    /// The fingertips are sore, which is common at first.
    Sore,
    /// Pain, numbness or tingling: practice stops for the day.
    Pain,
}
