//! The cautions, in the usual words. They defer to licensed clinicians.

/// The question.
pub const QUESTION: &str = "How do your hands feel?";
/// With it.
pub const QUESTION_WORDS: &str = "Shake them out. Let the shoulders drop. Stop if you feel pain, numbness or tingling.";
/// Nothing hurts.
pub const FINE: &str = "Fine";
/// Sore fingertips.
pub const SORE_ANSWER: &str = "Sore fingertips";
/// Pain.
pub const PAIN: &str = "Pain, numbness or tingling";
/// Keys.
pub const KEYS: &str =
    "Space or pedal forward: fine · 2: sore fingertips · 3 or pedal back: pain, numbness or tingling";
/// After sore fingertips.
pub const SORE: &str = "Fingertip soreness is common at first.";
/// With it.
pub const SORE_HINT: &str = "press only as hard as the string needs; stop when it is enough";
/// Practice is stopped.
pub const STOPPED: &str = "Stop here for today.";
/// With it.
pub const STOPPED_WORDS: &str = "Rest your hands. If it persists, see a doctor or other licensed clinician. Joint or wrist \
                                 pain is not a goal. What you played is kept.";
/// The usual caution.
pub const GENERAL: &str = "General information, not medical advice.";
/// Overrules it.
pub const PLAY_ANYWAY: &str = "It has gone: play on";
