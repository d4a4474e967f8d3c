//! What the signs on the sheet mean, in the plainest words there are.

use crate::theme::Hand;

/// Heading.
pub const TITLE: &str = "What the signs mean";
/// Above the diagram.
pub const DIAGRAM_LABEL: &str = "the diagram: where the fingers go";
/// Of the diagram, as it is drawn for this hand.
#[must_use]
pub const fn diagram(hand: Hand) -> [&'static str; 4] {
    [
        match hand {
            Hand::Right => {
                "The neck stands upright, as if the guitar leaned on the wall before you. The strings run down, the heaviest on the left."
            }
            Hand::Left => {
                "The neck stands upright, as if the guitar leaned on the wall before you. The strings run down, the heaviest on the right."
            }
        },
        "The thick line is the nut, the end of the neck. The thin lines across are the frets.",
        "A dot is a fingertip, just behind the fret. 1 is the index finger, 4 the little one. A long bar is one finger laid flat.",
        "○ lets the string ring open. × keeps it silent.",
    ]
}
/// Above the bar.
pub const BAR_LABEL: &str = "the bar: what the strumming hand does";
/// Of the bar.
pub const BAR: [&str; 7] = [
    "Count evenly: 1, 2, 3, 4, and again. Say “and” at &, half-way between.",
    "↓ D is a stroke down, from the heavy strings to the light. ↑ U is one up.",
    "A short dash: the hand moves but does not touch the strings. A long line: let the chord ring.",
    "X: lay the hand on the strings and strike them silent. B: the lowest string of the chord alone.",
    "S: stop the strings with the hand, so that nothing rings on.",
    "> above an arrow: a little stronger.",
    "The blue line runs through the bar. Strike when it meets the arrow.",
];
/// Above the ladder.
pub const LADDER_LABEL: &str = "the ladder: how fast";
/// Of the ladder.
pub const LADDER: [&str; 3] = [
    "Each rung is a tempo in beats a minute; the top one is the song’s own. You stand on the thick one, where the blue triangle points.",
    "Each circle on your rung is a clean time through. Fill them, and you go up. If it gets too fast, you go down.",
    "A lashed rung is held: it was clean at first try on a later day.",
];
/// Above the result.
pub const RESULT_LABEL: &str = "after a pass: what I heard";
/// Of the result.
pub const RESULT: [&str; 3] = [
    "Each dot is a stroke of yours, from left to right. On the line is in time, above it late, below it early.",
    "The shaded band is near enough. An empty ring is a stroke I did not hear.",
    "Not judged means that I could not hear well enough. It never means that you played wrong.",
];
