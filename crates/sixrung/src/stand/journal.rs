//! What can be wished on the page of looking back.

/// A wish on the page of looking back.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum JournalWish {
    /// This section, by its place.
    Section(usize),
    /// The next section, round and round.
    Next,
    /// The one before.
    Previous,
    /// Look back on a longer time; after the longest the shortest.
    Span,
    /// Older passes.
    Older,
    /// Newer ones.
    Newer,
    /// Look at this pass, by its place in the list.
    Open(usize),
    /// Back to the plots.
    Close,
    /// Take out the pass that is looked at.
    TakeOut,
    /// Put back what was taken out last.
    PutBack,
    /// Write the passes as tables.
    Export,
    /// Write a copy of the journal.
    BackUp,
    /// This player's turn, by place.
    Player(usize),
    /// One more player, whose turn it is.
    AddPlayer(String),
}
