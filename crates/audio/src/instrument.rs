//! Which strings are strung.

use sixrung_timeline::Pitch;

use crate::string::lanes::LANES;
use crate::string::model::Character;

/// What strings are made of.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Hash)]
pub enum Strings {
    /// Steel, struck with a pick.
    #[default]
    Steel,
    /// Nylon, struck with the fingers.
    Nylon,
}

/// Four to eight strings and what they sound open.
#[derive(Clone, Debug, PartialEq)]
pub struct Instrument {
    open: Vec<Pitch>,
    strings: Strings,
}

/// The open pitches of a guitar, its heaviest string first.
const GUITAR: [Pitch; 6] = [Pitch(40), Pitch(45), Pitch(50), Pitch(55), Pitch(59), Pitch(64)];

/// The six strings of a steel guitar. The pick positions are ours; the rest is fitted to the steel samples of the
/// Debian package fluid-soundfont-gm, so that every figure of `tests/sound/realism.py` lies in its band.
const STEEL: [Character; 6] = [
    steel(9.5, 1.7, 1.1e-4, 2, 380.0, 0.18),
    steel(8.5, 3.0, 4.3e-5, 1, 340.0, 0.17),
    steel(11.0, 3.2, 3.5e-5, 1, 850.0, 0.16),
    steel(11.5, 4.2, 3.0e-5, 1, 530.0, 0.15),
    steel(11.0, 3.3, 4.8e-5, 1, 1250.0, 0.14),
    steel(6.0, 2.6, 2.0e-5, 1, 1900.0, 0.13),
];

/// The six strings of a nylon guitar, after the same package's nylon samples.
const NYLON: [Character; 6] = [
    nylon(9.5, 1.0, 2.2e-5, 1, 380.0, 0.18),
    nylon(8.5, 1.5, 2.4e-5, 1, 340.0, 0.17),
    nylon(9.0, 1.5, 2.0e-5, 1, 600.0, 0.16),
    nylon(5.0, 0.8, 6.0e-5, 1, 530.0, 0.15),
    nylon(3.0, 1.2, 6.0e-5, 1, 900.0, 0.14),
    nylon(2.0, 1.2, 2.0e-5, 1, 1500.0, 0.13),
];

const fn steel(
    t60_s: f64,
    treble_t60_s: f64,
    inharmonicity: f64,
    stages: usize,
    excitation_hz: f64,
    pick: f64,
) -> Character {
    Character { t60_s, treble_t60_s, inharmonicity, stages, excitation_hz, fall: 0.65, pick }
}

const fn nylon(
    t60_s: f64,
    treble_t60_s: f64,
    inharmonicity: f64,
    stages: usize,
    excitation_hz: f64,
    pick: f64,
) -> Character {
    Character { t60_s, treble_t60_s, inharmonicity, stages, excitation_hz, fall: 1.0, pick }
}

impl Instrument {
    /// Steel strings that sound `open` without a capo, the heaviest first; `None` unless they are 4 to 8.
    #[must_use]
    pub fn new(open: &[Pitch]) -> Option<Self> {
        (4..=LANES).contains(&open.len()).then(|| Self { open: open.to_vec(), strings: Strings::Steel })
    }

    /// E2 A2 D3 G3 B3 E4, steel.
    #[must_use]
    pub fn guitar() -> Self {
        Self { open: GUITAR.to_vec(), strings: Strings::Steel }
    }

    /// The same instrument strung with `strings`.
    #[must_use]
    pub fn strung(self, strings: Strings) -> Self {
        Self { strings, ..self }
    }

    /// How many strings.
    #[must_use]
    pub fn strings(&self) -> usize {
        self.open.len()
    }

    /// What string `string` sounds open; the last one's for a string that isn't there.
    pub(crate) fn open(&self, string: u8) -> Pitch {
        let last = self.open.len().saturating_sub(1);
        self.open.get(usize::from(string).min(last)).copied().unwrap_or(GUITAR[0])
    }

    /// The character of string `string`: that of the guitar string nearest to it in pitch.
    pub(crate) fn character(&self, string: u8) -> &'static Character {
        let characters = match self.strings {
            Strings::Steel => &STEEL,
            Strings::Nylon => &NYLON,
        };
        let open = self.open(string);
        let nearest = GUITAR.iter().zip(characters).min_by_key(|(pitch, _)| pitch.0.abs_diff(open.0));
        nearest.map_or(&characters[0], |(_, character)| character)
    }
}

impl Default for Instrument {
    fn default() -> Self {
        Self::guitar()
    }
}
