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
/// It hurt on an earlier day.
pub const BEFORE: &str = "It hurt when you last played.";
/// With it.
pub const BEFORE_WORDS: &str = "Play only if it has gone. If it persists, see a doctor or other licensed clinician.";
/// The usual caution.
pub const GENERAL: &str = "General information, not medical advice.";
/// Overrules it.
pub const PLAY_ANYWAY: &str = "It has gone: play on";

/// Heading of the page.
pub const TITLE: &str = "Care";
/// The short form, also told at the first start.
pub const SHORT: &str =
    "Stop if you feel pain, numbness or tingling. If it persists, see a doctor or other licensed clinician.";
/// The way to the question.
pub const SAY: &str = "Something hurts: say it, and practice stops (X)";
/// The cautions, each under its label.
pub const BLOCKS: [(&str, &[&str]); 5] = [
    (
        "hands",
        &[
            "Fingertip soreness is common at first. Joint or wrist pain is not a goal.",
            "Press only as hard as the string needs, close behind the fret. Let the thumb rest, not squeeze.",
            "Complaints of muscles and joints are common in people who play much. Do not play through them.",
        ],
    ),
    (
        "back and shoulders",
        &[
            "Sit so that both feet stand and the shoulders hang. Bring the guitar to you, not yourself to the guitar.",
            "Put the screen where you see it without turning your neck.",
        ],
    ),
    (
        "breaks",
        &[
            "I suggest five minutes after 25 of playing, and ask you to stop at 50. Take more if you like.",
            "Between passes there is a rest of about ten seconds: let the arms hang.",
        ],
    ),
    (
        "hearing",
        &[
            "Start low. I cannot know how loud it is in your room or in your headphones, so I never call it safe.",
            "As a measure from the health organisations: 80 dB for 40 hours a week, and for every 3 dB more half as long. Ringing \
         ears or a dull feeling are a sign to stop. Local rules may ask for less.",
        ],
    ),
    (
        "eyes and light",
        &["Nothing here flashes more than three times a second. Motion can be reduced under appearance and keys (F1)."],
    ),
];
