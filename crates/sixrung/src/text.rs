//! Every word the player reads, in one place: plain, warm, short, ready for translation.

/// Name of the stretch that is everything.
pub const WHOLE_PIECE: &str = "Whole piece";
