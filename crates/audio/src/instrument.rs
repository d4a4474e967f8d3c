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
/// Debian package fluid-soundfont-gm (levels of octaves over the first second, brightness, decay times, slope), so that
/// every figure of `tests/sound/realism.py` lies in its band.
const STEEL: [Character; 6] = [
    string(11.7, 1.55, 1.1e-4, 2, (100.0, 0.49), 0.18),
    string(6.7, 3.1, 4.3e-5, 1, (100.0, 0.59), 0.17),
    string(12.8, 2.8, 3.5e-5, 1, (176.0, 0.40), 0.16),
    string(9.5, 4.0, 3.0e-5, 1, (100.0, 0.58), 0.15),
    string(8.2, 3.1, 4.8e-5, 1, (110.0, 0.34), 0.14),
    string(5.3, 2.7, 2.0e-5, 1, (100.0, 0.30), 0.13),
];

/// The six strings of a nylon guitar, fitted to the same package's nylon samples in the same way; their stiffness stands
/// out of too few partials to be fitted but in the two heaviest, and is ours in the others.
const NYLON: [Character; 6] = [
    string(11.8, 0.9, 2.2e-5, 1, (360.0, 1.26), 0.18),
    string(12.0, 1.6, 2.4e-5, 1, (106.0, 0.90), 0.17),
    string(12.5, 1.7, 2.0e-5, 1, (214.0, 0.82), 0.16),
    string(5.2, 0.86, 6.0e-5, 1, (100.0, 0.77), 0.15),
    string(3.1, 1.5, 6.0e-5, 1, (340.0, 0.98), 0.14),
    string(2.2, 1.5, 2.0e-5, 1, (410.0, 0.60), 0.13),
];

/// Decay times in seconds, inharmonicity, dispersion stages, the pluck's spectrum (corner in hertz, fall), where it is
/// struck.
const fn string(
    t60_s: f64,
    treble_t60_s: f64,
    inharmonicity: f64,
    stages: usize,
    (excitation_hz, fall): (f64, f64),
    pick: f64,
) -> Character {
    Character { t60_s, treble_t60_s, inharmonicity, stages, excitation_hz, fall, pick }
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
