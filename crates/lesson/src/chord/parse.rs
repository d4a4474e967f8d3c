//! Reading chord symbols. Players spell one chord in many ways; every common one is taken.

use super::{ChordSymbol, Degree, DegreeChange, Kind, Note};

/// The longest symbol looked at, in bytes.
const LONGEST: usize = 32;

pub(super) fn symbol(text: &str) -> Option<ChordSymbol> {
    if text.len() > LONGEST {
        return None;
    }
    let (root, rest) = Note::at_head(text)?;
    let (quality, bass) = split_bass(rest)?;
    let (kind, degrees) = quality_of(quality)?;
    Some(ChordSymbol { root, kind, degrees, bass })
}

/// A slash names a bass only before a note: in `6/9` it does not.
fn split_bass(rest: &str) -> Option<(&str, Option<Note>)> {
    let Some((quality, bass)) = rest.rsplit_once('/') else { return Some((rest, None)) };
    match Note::at_head(bass) {
        Some((note, "")) => Some((quality, Some(note))),
        Some(_) => None,
        None => Some((rest, None)),
    }
}

/// The third, as far as the symbol's first word tells.
#[derive(Clone, Copy, PartialEq)]
enum Mode {
    Plain,
    /// `maj`: major, and the seventh after it too.
    Major,
    Minor,
    Diminished,
    HalfDiminished,
    Augmented,
}

const MODES: &[(&str, Mode)] = &[
    ("major", Mode::Major),
    ("maj", Mode::Major),
    ("Maj", Mode::Major),
    ("ma", Mode::Major),
    ("M", Mode::Major),
    ("Δ", Mode::Major),
    ("△", Mode::Major),
    ("minor", Mode::Minor),
    ("min", Mode::Minor),
    ("mi", Mode::Minor),
    ("m", Mode::Minor),
    ("-", Mode::Minor),
    ("dim", Mode::Diminished),
    ("°", Mode::Diminished),
    ("ø", Mode::HalfDiminished),
    ("Ø", Mode::HalfDiminished),
    ("aug", Mode::Augmented),
    ("+", Mode::Augmented),
];

/// The first reading that uses up the whole text: `ma` begins `maj7`, yet in `madd9` only the `m` is the mode.
fn quality_of(text: &str) -> Option<(Kind, Vec<Degree>)> {
    let modes = MODES.iter().filter_map(|(word, mode)| Some((text.strip_prefix(word)?, *mode)));
    modes.chain([(text, Mode::Plain)]).find_map(|(rest, mode)| quality_after(mode, Rest(rest)))
}

fn quality_after(mode: Mode, mut rest: Rest<'_>) -> Option<(Kind, Vec<Degree>)> {
    rest.skip_punctuation();
    let major_seventh = mode == Mode::Minor && rest.one_of(MAJOR_SEVENTHS).is_some();
    let number = rest.one_of(NUMBERS).unwrap_or(Number::None);
    let kind = kind_of(mode, number, major_seventh)?;
    let mut quality = Quality { kind, degrees: number.degrees(kind) };
    loop {
        rest.skip_punctuation();
        if rest.0.is_empty() {
            return Some((quality.kind, quality.degrees));
        }
        quality.modify(rest.one_of(MODIFIERS)?)?;
    }
}

const MAJOR_SEVENTHS: &[(&str, ())] = &[("maj", ()), ("Maj", ()), ("ma", ()), ("M", ()), ("Δ", ())];

/// The number after the mode.
#[derive(Clone, Copy, PartialEq)]
enum Number {
    None,
    Fifth,
    Sixth,
    SixNine,
    Seventh,
    Ninth,
    Eleventh,
    Thirteenth,
}

const NUMBERS: &[(&str, Number)] = &[
    ("6/9", Number::SixNine),
    ("69", Number::SixNine),
    ("13", Number::Thirteenth),
    ("11", Number::Eleventh),
    ("9", Number::Ninth),
    ("7", Number::Seventh),
    ("6", Number::Sixth),
    ("5", Number::Fifth),
];

impl Number {
    /// What the kind alone does not say.
    fn degrees(self, kind: Kind) -> Vec<Degree> {
        let add = |value| Degree { value, alter: 0, change: DegreeChange::Add };
        match (self, kind) {
            (Self::SixNine, _) | (Self::Ninth, Kind::MajorMinor) => vec![add(9)],
            _ => Vec::new(),
        }
    }
}

fn kind_of(mode: Mode, number: Number, major_seventh: bool) -> Option<Kind> {
    use Number::{Eleventh, Fifth, Ninth, None as Bare, Seventh, SixNine, Sixth, Thirteenth};
    Some(match (mode, number) {
        (Mode::Minor, Seventh | Ninth) if major_seventh => Kind::MajorMinor,
        _ if major_seventh => return None,
        (Mode::Plain | Mode::Major, Bare) => Kind::Major,
        (Mode::Plain, Fifth) => Kind::Power,
        (Mode::Plain | Mode::Major, Sixth | SixNine) => Kind::MajorSixth,
        (Mode::Plain, Seventh) => Kind::Dominant,
        (Mode::Plain, Ninth) => Kind::DominantNinth,
        (Mode::Plain, Eleventh) => Kind::Dominant11th,
        (Mode::Plain, Thirteenth) => Kind::Dominant13th,
        (Mode::Major, Seventh) => Kind::MajorSeventh,
        (Mode::Major, Ninth) => Kind::MajorNinth,
        (Mode::Major, Eleventh) => Kind::Major11th,
        (Mode::Major, Thirteenth) => Kind::Major13th,
        (Mode::Minor, Bare) => Kind::Minor,
        (Mode::Minor, Sixth | SixNine) => Kind::MinorSixth,
        (Mode::Minor, Seventh) => Kind::MinorSeventh,
        (Mode::Minor, Ninth) => Kind::MinorNinth,
        (Mode::Minor, Eleventh) => Kind::Minor11th,
        (Mode::Minor, Thirteenth) => Kind::Minor13th,
        (Mode::Diminished, Bare) => Kind::Diminished,
        (Mode::Diminished, Seventh) => Kind::DiminishedSeventh,
        (Mode::HalfDiminished, Bare | Seventh) => Kind::HalfDiminished,
        (Mode::Augmented, Bare) => Kind::Augmented,
        (Mode::Augmented, Seventh) => Kind::AugmentedSeventh,
        _ => return None,
    })
}

/// What may follow the kind.
#[derive(Clone, Copy)]
enum Modifier {
    SuspendedSecond,
    SuspendedFourth,
    Add(u8, i8),
    Alter(u8, i8),
    Omit(u8),
}

const MODIFIERS: &[(&str, Modifier)] = &[
    ("sus2", Modifier::SuspendedSecond),
    ("sus4", Modifier::SuspendedFourth),
    ("sus", Modifier::SuspendedFourth),
    ("add2", Modifier::Add(2, 0)),
    ("add4", Modifier::Add(4, 0)),
    ("add6", Modifier::Add(6, 0)),
    ("add9", Modifier::Add(9, 0)),
    ("addb9", Modifier::Add(9, -1)),
    ("add♭9", Modifier::Add(9, -1)),
    ("add#9", Modifier::Add(9, 1)),
    ("add♯9", Modifier::Add(9, 1)),
    ("add11", Modifier::Add(11, 0)),
    ("add#11", Modifier::Add(11, 1)),
    ("add♯11", Modifier::Add(11, 1)),
    ("add13", Modifier::Add(13, 0)),
    ("no3", Modifier::Omit(3)),
    ("omit3", Modifier::Omit(3)),
    ("no5", Modifier::Omit(5)),
    ("omit5", Modifier::Omit(5)),
    ("b5", Modifier::Alter(5, -1)),
    ("♭5", Modifier::Alter(5, -1)),
    ("-5", Modifier::Alter(5, -1)),
    ("#5", Modifier::Alter(5, 1)),
    ("♯5", Modifier::Alter(5, 1)),
    ("+5", Modifier::Alter(5, 1)),
    ("b9", Modifier::Alter(9, -1)),
    ("♭9", Modifier::Alter(9, -1)),
    ("-9", Modifier::Alter(9, -1)),
    ("#9", Modifier::Alter(9, 1)),
    ("♯9", Modifier::Alter(9, 1)),
    ("+9", Modifier::Alter(9, 1)),
    ("#11", Modifier::Alter(11, 1)),
    ("♯11", Modifier::Alter(11, 1)),
    ("b13", Modifier::Alter(13, -1)),
    ("♭13", Modifier::Alter(13, -1)),
];

struct Quality {
    kind: Kind,
    degrees: Vec<Degree>,
}

impl Quality {
    fn modify(&mut self, modifier: Modifier) -> Option<()> {
        match modifier {
            Modifier::SuspendedSecond => self.suspend(Kind::SuspendedSecond)?,
            Modifier::SuspendedFourth => self.suspend(Kind::SuspendedFourth)?,
            Modifier::Add(value, alter) => self.degree(value, alter, DegreeChange::Add),
            Modifier::Omit(value) => self.degree(value, 0, DegreeChange::Subtract),
            Modifier::Alter(5, -1) if self.kind == Kind::MinorSeventh => self.kind = Kind::HalfDiminished,
            Modifier::Alter(5, -1) if self.kind == Kind::Minor => self.kind = Kind::Diminished,
            Modifier::Alter(5, 1) if self.kind == Kind::Dominant => self.kind = Kind::AugmentedSeventh,
            Modifier::Alter(5, 1) if self.kind == Kind::Major => self.kind = Kind::Augmented,
            Modifier::Alter(value, alter) => {
                let has = self.kind.tones().iter().any(|tone| tone.degree == value);
                self.degree(value, alter, if has { DegreeChange::Alter } else { DegreeChange::Add });
            }
        }
        Some(())
    }

    fn degree(&mut self, value: u8, alter: i8, change: DegreeChange) {
        self.degrees.push(Degree { value, alter, change });
    }

    /// `7sus4` is a suspended fourth with the minor seventh added, `9sus4` with the ninth as well.
    fn suspend(&mut self, kind: Kind) -> Option<()> {
        let added: &[(u8, i8)] = match self.kind {
            Kind::Major => &[],
            Kind::MajorSixth => &[(6, 0)],
            Kind::Dominant => &[(7, -1)],
            Kind::MajorSeventh => &[(7, 0)],
            Kind::DominantNinth => &[(7, -1), (9, 0)],
            Kind::Dominant13th => &[(7, -1), (9, 0), (13, 0)],
            // sus2 and sus4 together: the fourth is kept and the second added.
            Kind::SuspendedSecond if kind == Kind::SuspendedFourth => &[(2, 0)],
            _ => return None,
        };
        self.kind = kind;
        added.iter().for_each(|(value, alter)| self.degree(*value, *alter, DegreeChange::Add));
        Some(())
    }
}

struct Rest<'t>(&'t str);

impl Rest<'_> {
    /// Takes the first of `words` that comes next.
    fn one_of<T: Copy>(&mut self, words: &[(&str, T)]) -> Option<T> {
        words.iter().find_map(|(word, meaning)| {
            self.0 = self.0.strip_prefix(word)?;
            Some(*meaning)
        })
    }

    fn skip_punctuation(&mut self) {
        self.0 = self.0.trim_start_matches(['(', ')', ',']);
    }
}
