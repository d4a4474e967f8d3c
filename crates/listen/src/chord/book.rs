//! What a chord is easily taken for, or played for, by learners.

use sixrung_lesson::{ChordSymbol, Kind, Pitch, raised_name};

use crate::plan::PlannedShape;

/// Shapes beginners learn first, frets from the heaviest string: common practice.
const SHAPES: [(&str, &str); 42] = [
    ("C", "x32010"),
    ("C7", "x32310"),
    ("Cmaj7", "x32000"),
    ("Cadd9", "x32033"),
    ("Cadd9", "x32030"),
    ("D", "xx0232"),
    ("Dm", "xx0231"),
    ("D7", "xx0212"),
    ("Dm7", "xx0211"),
    ("Dmaj7", "xx0222"),
    ("Dsus2", "xx0230"),
    ("Dsus4", "xx0233"),
    ("E", "022100"),
    ("Em", "022000"),
    ("E7", "020100"),
    ("E7", "022130"),
    ("Em7", "022030"),
    ("Em7", "020000"),
    ("Esus4", "022200"),
    ("F", "133211"),
    ("F", "xx3211"),
    ("Fm", "133111"),
    ("Fmaj7", "xx3210"),
    ("G", "320003"),
    ("G", "320033"),
    ("G7", "320001"),
    ("Gmaj7", "320002"),
    ("Gm", "355333"),
    ("A", "x02220"),
    ("Am", "x02210"),
    ("A7", "x02020"),
    ("Am7", "x02010"),
    ("Amaj7", "x02120"),
    ("Asus2", "x02200"),
    ("Asus4", "x02230"),
    ("Bb", "x13331"),
    ("B7", "x21202"),
    ("B", "x24442"),
    ("Bm", "x24432"),
    ("Bm7", "x20202"),
    ("F#m", "244222"),
    ("C#m", "x46654"),
];

/// What a chord is taken for: a root so many semitones higher, and a kind.
type Confusion = (u8, Kind);

/// For a chord with a major third.
const OF_MAJOR: [Confusion; 12] = [
    (0, Kind::Minor),           // the third a semitone lower: one finger a fret off or forgotten
    (0, Kind::Dominant),        // a seventh more: one finger lifted or shifted
    (0, Kind::MajorSeventh),    // a major seventh more: the finger on the root lifted
    (0, Kind::SuspendedSecond), // the second for the third: the finger on it lifted
    (0, Kind::SuspendedFourth), // the fourth for the third: one finger too many
    (0, Kind::Major),           // the seventh left out
    (9, Kind::Minor),           // the relative minor shares two tones of three
    (9, Kind::MinorSeventh),    // the relative minor's seventh holds the whole triad
    (4, Kind::Minor),           // the mediant shares two tones of three
    (5, Kind::Major),           // the subdominant: the likeliest other chord of the key
    (7, Kind::Major),           // the dominant: the likeliest other chord of the key
    (2, Kind::Minor),           // the supertonic: fingers of the subdominant, nearly
];

/// For a chord with a minor third.
const OF_MINOR: [Confusion; 9] = [
    (0, Kind::Major),           // the third a semitone higher: one finger a fret off or too many
    (0, Kind::MinorSeventh),    // a seventh more: one finger lifted
    (0, Kind::Minor),           // the seventh left out
    (0, Kind::SuspendedSecond), // the second for the third: the finger on it lifted
    (0, Kind::SuspendedFourth), // the fourth for the third: one finger too many
    (3, Kind::Major),           // the relative major shares two tones of three
    (8, Kind::Major),           // the submediant shares two tones of three
    (5, Kind::Minor),           // the subdominant: the likeliest other chord of the key
    (7, Kind::Major),           // the dominant: the likeliest other chord of the key
];

/// Semitones between the strings of a standard guitar.
const STANDARD: [u8; 6] = [0, 5, 10, 15, 19, 24];

/// A set of pitch classes, a bit each.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) struct Classes(u16);

impl Classes {
    pub(super) fn of(keys: impl IntoIterator<Item = u8>) -> Self {
        Self(keys.into_iter().fold(0, |set, key| set | 1 << (key % 12)))
    }

    pub(super) const fn is_within(self, other: Self) -> bool {
        self.0 & !other.0 == 0
    }

    pub(super) const fn without(self, other: Self) -> Self {
        Self(self.0 & !other.0)
    }

    pub(super) const fn count(self) -> usize {
        self.0.count_ones() as usize
    }

    pub(super) const fn with(self, other: Self) -> Self {
        Self(self.0 | other.0)
    }
}

/// What a shape means: its pitch classes as it sounds and as its name says.
pub(super) struct Meaning {
    /// Those it sounds.
    pub sounds: Classes,
    /// Those it sounds or may sound.
    pub allows: Classes,
    /// Its root as it sounds, and the chord's kind; `None` when its name does not say.
    symbol: Option<(u8, Kind)>,
    /// Whether its name counts from the capo.
    from_capo: bool,
}

impl Meaning {
    pub(super) fn of(shape: &PlannedShape) -> Self {
        let sounds = Classes::of(shape.strings.iter().flatten().map(|pitch| pitch.0));
        let capo = capo(&shape.open).unwrap_or(0);
        let symbol = ChordSymbol::parse(&shape.name);
        // A name counts from the capo or tells what sounds: the one that fits the notes.
        let read = |up: u8| {
            let symbol = symbol.as_ref()?;
            let named = Classes::of(symbol.classes().into_iter().map(|class| class + up));
            sounds.is_within(named).then_some((named, (symbol.root.class() + up) % 12, symbol.kind))
        };
        let (found, from_capo) = read(capo).map_or_else(|| (read(0), false), |found| (Some(found), true));
        match found {
            Some((named, root, kind)) => {
                Self { sounds, allows: sounds.with(named), symbol: Some((root, kind)), from_capo }
            }
            None => Self { sounds, allows: sounds, symbol: None, from_capo: false },
        }
    }
}

/// Frets of the capo on a guitar in standard tuning or one tuned down or up as a whole; `None` on anything else.
fn capo(open: &[Pitch]) -> Option<u8> {
    let lowest = open.first()?.0;
    let standard = open.len() == STANDARD.len() && open.iter().zip(STANDARD).all(|(pitch, up)| pitch.0 == lowest + up);
    (standard && (40..=52).contains(&lowest)).then(|| lowest - 40)
}

/// Shapes the asked one is commonly taken for, with their names; none where the guitar is not tuned as usual.
pub(super) fn confusions(asked: &PlannedShape, meaning: &Meaning) -> Vec<PlannedShape> {
    let (Some(capo), Some((root, kind))) = (capo(&asked.open), meaning.symbol) else { return Vec::new() };
    let table = if is_minor(kind) { &OF_MINOR[..] } else { &OF_MAJOR[..] };
    let is_confused = |symbol: &ChordSymbol| {
        let up = (symbol.root.class() + capo + 12 - root) % 12;
        table.contains(&(up, symbol.kind))
    };
    let shape = |(name, frets): &(&str, &str)| {
        let symbol = ChordSymbol::parse(name)?;
        let strings = frets.bytes().zip(&asked.open).map(|(fret, open)| (fret != b'x').then(|| open.up(fret - b'0')));
        let name = if meaning.from_capo { (*name).to_owned() } else { raised_name(name, capo)? };
        is_confused(&symbol).then(|| PlannedShape { name, strings: strings.collect(), open: asked.open.clone() })
    };
    SHAPES.iter().filter_map(shape).collect()
}

fn is_minor(kind: Kind) -> bool {
    kind.tones().iter().any(|tone| tone.degree == 3 && tone.semitones == 3)
}
