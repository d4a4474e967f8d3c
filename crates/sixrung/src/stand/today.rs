//! Today's plan as the stand and its page show it.

/// The item that is on.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct TodayView {
    /// Which it is, from 1.
    pub number: usize,
    /// Of how many.
    pub of: usize,
    /// What is done, in a few words.
    pub what: String,
    /// Why, in a sentence.
    pub why: String,
    /// Minutes it still has.
    pub minutes_left: u32,
}

/// A wish about today.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum TodayWish {
    /// A plan for so many minutes.
    Minutes(u16),
    /// Begin with it.
    Start,
    /// On to the next item.
    Skip,
    /// Take an item out, by its place.
    Remove(usize),
    /// An item one place earlier.
    Earlier(usize),
    /// Drop the plan.
    End,
}
