//! Common open chords with their usual fingerings: common practice, from memory, no source.

use sixrung_lesson::{Finger, Shape, StringUse};
use sixrung_practice::hands::Grip;

/// Name, frets and fingers, the heaviest string first.
pub(crate) const COMMON: [(&str, &str, &str); 26] = [
    ("C", "x32010", "-32-1-"),
    ("A", "x02220", "--123-"),
    ("G", "320003", "21---3"),
    ("E", "022100", "-231--"),
    ("D", "xx0232", "---132"),
    ("Am", "x02210", "--231-"),
    ("Em", "022000", "-23---"),
    ("Dm", "xx0231", "---231"),
    ("F", "133211", "134211"),
    ("Fsmall", "xx3211", "--3211"),
    ("Bm", "x24432", "-13421"),
    ("B7", "x21202", "-213-4"),
    ("A7", "x02020", "--2-3-"),
    ("E7", "020100", "-2-1--"),
    ("D7", "xx0212", "---213"),
    ("G7", "320001", "32---1"),
    ("C7", "x32310", "-3241-"),
    ("Cadd9", "x32033", "-21-34"),
    ("Fmaj7", "xx3210", "--321-"),
    ("Am7", "x02010", "--2-1-"),
    ("Em7", "022033", "-12-34"),
    ("Dm7", "xx0211", "---211"),
    ("Dsus4", "xx0233", "---134"),
    ("Asus2", "x02200", "--12--"),
    ("Asus4", "x02230", "--124-"),
    ("Cmaj7", "x32000", "-32---"),
];

/// A shape from frets and fingers, a character a string (`a` is fret 10); no fingers at all where `fingers` is empty.
pub(crate) fn shape(name: &str, frets: &str, fingers: &str) -> Shape {
    let used = |c: char| match c.to_digit(16) {
        None => StringUse::Muted,
        Some(0) => StringUse::Open,
        Some(fret) => StringUse::Fret(u8::try_from(fret).expect("one digit")),
    };
    let finger = |c: char| match c {
        'T' => Some(Finger::Thumb),
        '1' => Some(Finger::Index),
        '2' => Some(Finger::Middle),
        '3' => Some(Finger::Ring),
        '4' => Some(Finger::Little),
        _ => None,
    };
    let strings: Vec<StringUse> = frets.chars().map(used).collect();
    let mut named: Vec<Option<Finger>> = fingers.chars().map(finger).collect();
    named.resize(strings.len(), None);
    let bare = Shape {
        name: name.into(),
        strings,
        fingers: named,
        barres: Vec::new(),
        stand_in: None,
        mute_notes: Vec::new(),
    };
    match Grip::given(&bare) {
        Some(grip) => grip.on(&bare),
        None => bare,
    }
}

/// One of the common shapes.
pub(crate) fn common(name: &str) -> Shape {
    let (name, frets, fingers) = COMMON.iter().find(|(own, ..)| *own == name).expect("it is in the table");
    shape(name, frets, fingers)
}

/// Its usual fingering.
pub(crate) fn usual(name: &str) -> Grip {
    Grip::given(&common(name)).expect("every shape of the table is fingered")
}
