//! Chords that are easily played for one another: a finger left out, put down or shifted by a string.

use crate::part::{Chord, Part};

/// Open shapes in standard tuning, the heaviest string first: common practice, no source.
const SHAPES: [(&str, &str); 29] = [
    ("A", "x02220"),
    ("A7", "x02020"),
    ("Am", "x02210"),
    ("Am7", "x02010"),
    ("Asus2", "x02200"),
    ("Asus4", "x02230"),
    ("B7", "x21202"),
    ("Bm", "x24432"),
    ("Bm7", "x20202"),
    ("C", "x32010"),
    ("C7", "x32310"),
    ("Cmaj7", "x32000"),
    ("D", "xx0232"),
    ("D7", "xx0212"),
    ("Dm", "xx0231"),
    ("Dm7", "xx0211"),
    ("Dsus2", "xx0230"),
    ("Dsus4", "xx0233"),
    ("E", "022100"),
    ("E7", "020100"),
    ("Em", "022000"),
    ("Em7", "022030"),
    ("Esus4", "022200"),
    ("F", "133211"),
    ("Fm", "133111"),
    ("Fmaj7", "xx3210"),
    ("G", "320003"),
    ("G7", "320001"),
    ("Gmaj7", "320002"),
];

/// What each is taken for. Common practice, no source; the hard pairs for an ear come first.
const CONFUSED: [(&str, &[&str]); 24] = [
    ("A", &["Am", "A7", "Asus2", "Asus4"]),
    ("A7", &["A", "Am7"]),
    ("Am", &["A", "C", "Am7", "E"]),
    ("Am7", &["C", "Am"]),
    ("B7", &["Bm7", "A7"]),
    ("Bm", &["Bm7", "D"]),
    ("Bm7", &["Bm", "D"]),
    ("C", &["Am7", "Am", "Cmaj7", "C7"]),
    ("C7", &["C", "B7"]),
    ("Cmaj7", &["C", "Em"]),
    ("D", &["Dsus2", "D7", "Dm", "Dsus4"]),
    ("D7", &["D", "Am7"]),
    ("Dm", &["D", "Dm7", "F"]),
    ("Dm7", &["Dm", "F"]),
    ("Dsus2", &["D", "Dsus4"]),
    ("Dsus4", &["D", "Dsus2"]),
    ("E", &["Em", "E7", "Am"]),
    ("E7", &["E", "Em7"]),
    ("Em", &["E", "Em7", "G"]),
    ("Em7", &["Em", "G"]),
    ("F", &["Fmaj7", "Fm", "Dm"]),
    ("Fmaj7", &["F", "Am"]),
    ("G", &["G7", "Em", "Gmaj7"]),
    ("G7", &["G", "Gmaj7"]),
];

/// The intervals between the strings of a guitar in standard tuning, in semitones.
const STANDARD: [u8; 5] = [5, 5, 5, 4, 5];

/// What the chord of this name is taken for, above the capo; nothing in another tuning.
pub(crate) fn confusions(part: &Part, name: &str) -> Vec<Chord> {
    let names = CONFUSED.iter().find(|row| row.0 == name).map_or(&[][..], |row| row.1);
    all(part).into_iter().filter(|chord| names.contains(&chord.name.as_str())).collect()
}

/// Whether these keys have the same notes, octaves apart, as a chord that is not this one: one of the part's or a
/// common one.
pub(crate) fn is_another(part: &Part, name: &str, keys: &[Option<u8>]) -> bool {
    let notes = |keys: &[Option<u8>]| keys.iter().flatten().fold(0_u16, |notes, key| notes | 1 << (key % 12));
    let own = part.chords.iter().find(|chord| chord.name == name).map(|chord| notes(&chord.keys));
    let sounding = notes(keys);
    own != Some(sounding) && part.chords.iter().chain(&all(part)).any(|chord| notes(&chord.keys) == sounding)
}

fn all(part: &Part) -> Vec<Chord> {
    if part.open.len() != 6 || part.open.windows(2).zip(STANDARD).any(|(pair, step)| pair[1] - pair[0] != step) {
        return Vec::new();
    }
    let key = |(open, fret): (&u8, char)| Some(open + u8::try_from(fret.to_digit(10)?).ok()?);
    let chord = |(name, frets): &(&str, &str)| Chord {
        name: (*name).to_owned(),
        keys: part.open.iter().zip(frets.chars()).map(key).collect(),
    };
    SHAPES.iter().map(chord).collect()
}

#[cfg(test)]
mod tests {
    use super::{CONFUSED, SHAPES};

    #[test]
    fn every_confusion_is_a_shape_of_its_own() {
        let frets = |name: &str| SHAPES.iter().find(|shape| shape.0 == name).map(|shape| shape.1);
        for (name, others) in CONFUSED {
            for other in others {
                assert!(frets(other).is_some() && frets(name) != frets(other), "{name} for {other}");
            }
        }
    }
}
