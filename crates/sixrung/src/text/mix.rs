//! The page of parts and click.

/// Its heading, and the link to it.
pub const PARTS: &str = "Parts and click";
/// Above the parts.
pub const HEARD: &str = "what you hear";
/// The learner's own recording.
pub const RECORDING: &str = "recording";
/// The bass.
pub const BASS: &str = "bass";
/// The brushes.
pub const BRUSHES: &str = "brushes";
/// Silences a part for now.
pub const MUTE: &str = "mute";
/// Hears a part alone for now.
pub const SOLO: &str = "solo";
/// What the parts are good for.
pub const PARTS_HINT: &str = "Mute the guitar once you can play the part, and carry it yourself.";
/// Above what the guitar is strung with.
pub const STRUNG: &str = "the guitar has";
/// Strings.
pub const STEEL: &str = "steel strings";
/// Strings.
pub const NYLON: &str = "nylon strings";
/// Above what clicks.
pub const SOUND: &str = "the click is";
/// What clicks.
pub const WOOD: &str = "wood";
/// What clicks.
pub const BELL: &str = "a small bell";
/// What clicks.
pub const TICK: &str = "a dry tick";
/// Above which beats click.
pub const THINNED: &str = "it clicks";
/// All beats.
pub const EVERY: &str = "on every beat";
/// Some.
pub const FIRST: &str = "only on one";
/// Some.
pub const EVEN: &str = "only on two and four";
/// Some.
pub const SILENT_BARS: &str = "every other bar";
/// What thinning is good for.
pub const THINNED_HINT: &str = "The fewer clicks, the more you carry the time. The count-in is always whole.";
/// Above what clicks between beats.
pub const DIVIDED: &str = "between the beats";
/// Nothing.
pub const UNDIVIDED: &str = "nothing, unless the beat is very slow";
/// Halves.
pub const HALVES: &str = "halves: 1 & 2 &";
/// Thirds.
pub const THIRDS: &str = "thirds, for a shuffle";
/// Quarters.
pub const QUARTERS: &str = "quarters: 1 e & a";
/// Above the rest.
pub const MORE: &str = "and";
/// Without an accent.
pub const NO_ACCENT: &str = "one sounds like the others";
/// The count-in.
pub const RISING: &str = "the count-in steps up";
/// While it plays.
pub const NEXT_PASS: &str = "Strings and click change with the next pass.";

/// Whether it is played first.
pub const HEAR_FIRST: &str = "play it to me first at each new tempo";
