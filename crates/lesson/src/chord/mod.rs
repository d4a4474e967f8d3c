//! Chord symbols by the model of MusicXML 4.0 (W3C): a root, a kind, degrees that differ, a bass.

mod note;
mod parse;
mod raise;

use std::collections::BTreeSet;

pub use note::Note;
pub use raise::raised_name;

/// The quality of a chord, named as MusicXML's `kind-value` names it. Its functional and historical values
/// (Neapolitan, Italian, Tristan …) have no symbol players write, and are left out.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
#[expect(missing_docs, reason = "each is the MusicXML value of its name")]
pub enum Kind {
    Major,
    Minor,
    Augmented,
    Diminished,
    Dominant,
    MajorSeventh,
    MinorSeventh,
    DiminishedSeventh,
    AugmentedSeventh,
    HalfDiminished,
    MajorMinor,
    MajorSixth,
    MinorSixth,
    DominantNinth,
    MajorNinth,
    MinorNinth,
    Dominant11th,
    Major11th,
    Minor11th,
    Dominant13th,
    Major13th,
    Minor13th,
    SuspendedSecond,
    SuspendedFourth,
    Power,
}

/// How a degree differs from the kind.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum DegreeChange {
    /// It sounds as well.
    Add,
    /// It sounds raised or lowered.
    Alter,
    /// It is left out.
    Subtract,
}

/// A degree that differs from the kind. `alter` counts semitones from the major scale on the root, so that the seventh
/// of `7sus4` is 7 with −1.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub struct Degree {
    /// 2 to 13.
    pub value: u8,
    /// Semitones.
    pub alter: i8,
    /// How.
    pub change: DegreeChange,
}

/// A chord symbol.
#[derive(Clone, Debug, PartialEq, Eq, Hash)]
pub struct ChordSymbol {
    /// The root.
    pub root: Note,
    /// The quality.
    pub kind: Kind,
    /// What differs from it.
    pub degrees: Vec<Degree>,
    /// The bass, where it is named.
    pub bass: Option<Note>,
}

/// One tone of a chord.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Tone {
    /// Its degree, 1 to 13.
    pub degree: u8,
    /// Semitones above the root.
    pub semitones: u8,
    /// Whether the symbol is not heard without it. A perfect fifth may always be left out; the lower extensions of
    /// ninth to thirteenth chords, and the third of major-third elevenths, often are (common practice).
    pub needed: bool,
}

impl ChordSymbol {
    /// Reads a symbol as players write it: `D`, `Bm7`, `F♯m`, `Cmaj7`, `Dsus4`, `7sus4`, `add9`, `6/9`, `m7b5`, `G/B`.
    #[must_use]
    pub fn parse(text: &str) -> Option<Self> {
        parse::symbol(text)
    }

    /// Its tones from the root up, the bass left aside.
    #[must_use]
    pub fn tones(&self) -> Vec<Tone> {
        let mut tones = self.kind.tones();
        for degree in &self.degrees {
            let semitones = (scale_semitones(degree.value) + i16::from(degree.alter)).rem_euclid(24);
            let semitones = u8::try_from(semitones).expect("less than two octaves");
            let own = tones.iter().position(|tone| tone.degree == degree.value);
            let tone = Tone { degree: degree.value, semitones, needed: true };
            match (degree.change, own) {
                (DegreeChange::Subtract, Some(own)) => {
                    tones.remove(own);
                }
                (DegreeChange::Alter, Some(own)) => tones[own] = tone,
                (DegreeChange::Subtract, None) => {}
                (DegreeChange::Add | DegreeChange::Alter, _) => tones.push(tone),
            }
        }
        tones
    }

    /// The pitch class of a tone, 0 (C) to 11 (B).
    #[must_use]
    pub fn class_of(&self, tone: Tone) -> u8 {
        (self.root.class() + tone.semitones) % 12
    }

    /// Every pitch class that belongs to it, the bass included.
    #[must_use]
    pub fn classes(&self) -> BTreeSet<u8> {
        let tones = self.tones().into_iter().map(|tone| self.class_of(tone));
        tones.chain(self.bass.map(Note::class)).collect()
    }

    /// The pitch class expected lowest: the named bass, else the root.
    #[must_use]
    pub fn lowest_class(&self) -> u8 {
        self.bass.unwrap_or(self.root).class()
    }

    /// A pitch class spelled as this chord spells it: a tone of it by its degree, any other by the root's own sign.
    #[must_use]
    pub fn spell(&self, class: u8) -> Note {
        if let Some(bass) = self.bass.filter(|bass| bass.class() == class) {
            return bass;
        }
        match self.tones().into_iter().find(|tone| self.class_of(*tone) == class) {
            Some(tone) => self.root.at_degree(tone.degree, class),
            None => Note::nearest(class, self.root.is_flat()),
        }
    }
}

impl Kind {
    /// The tones of the kind alone.
    #[must_use]
    pub fn tones(self) -> Vec<Tone> {
        let third = match self {
            Self::Power | Self::SuspendedSecond | Self::SuspendedFourth => None,
            kind if kind.is_minor() => Some(3),
            _ => Some(4),
        };
        let fifth = match self {
            Self::Diminished | Self::DiminishedSeventh | Self::HalfDiminished => 6,
            Self::Augmented | Self::AugmentedSeventh => 8,
            _ => 7,
        };
        let no_third_needed = matches!(self, Self::Dominant11th | Self::Major11th);
        let mut tones = vec![Tone { degree: 1, semitones: 0, needed: true }];
        match self {
            Self::SuspendedSecond => tones.push(Tone { degree: 2, semitones: 2, needed: true }),
            Self::SuspendedFourth => tones.push(Tone { degree: 4, semitones: 5, needed: true }),
            _ => {}
        }
        tones.extend(third.map(|semitones| Tone { degree: 3, semitones, needed: !no_third_needed }));
        tones.push(Tone { degree: 5, semitones: fifth, needed: fifth != 7 || self == Self::Power });
        tones.extend(self.above_fifth());
        tones
    }

    const fn is_minor(self) -> bool {
        matches!(
            self,
            Self::Minor
                | Self::Diminished
                | Self::MinorSeventh
                | Self::DiminishedSeventh
                | Self::HalfDiminished
                | Self::MajorMinor
                | Self::MinorSixth
                | Self::MinorNinth
                | Self::Minor11th
                | Self::Minor13th
        )
    }

    fn above_fifth(self) -> Vec<Tone> {
        let tone = |degree, semitones, needed| Tone { degree, semitones, needed };
        let seventh = match self {
            Self::MajorSixth | Self::MinorSixth => return vec![tone(6, 9, true)],
            Self::MajorSeventh | Self::MajorMinor | Self::MajorNinth | Self::Major11th | Self::Major13th => 11,
            Self::DiminishedSeventh => 9,
            Self::Major | Self::Minor | Self::Augmented | Self::Diminished | Self::Power => return Vec::new(),
            Self::SuspendedSecond | Self::SuspendedFourth => return Vec::new(),
            _ => 10,
        };
        let top = match self {
            Self::DominantNinth | Self::MajorNinth | Self::MinorNinth => 9,
            Self::Dominant11th | Self::Major11th | Self::Minor11th => 11,
            Self::Dominant13th | Self::Major13th | Self::Minor13th => 13,
            _ => 7,
        };
        [tone(7, seventh, true), tone(9, 14, top == 9), tone(11, 17, top == 11), tone(13, 21, true)]
            .into_iter()
            .filter(|tone| tone.degree <= top)
            .collect()
    }
}

/// Semitones of a degree of the major scale above its root.
fn scale_semitones(degree: u8) -> i16 {
    let steps = i16::from(degree.max(1)) - 1;
    [0, 2, 4, 5, 7, 9, 11][usize::try_from(steps % 7).expect("not negative")] + steps / 7 * 12
}
