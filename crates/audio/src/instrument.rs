//! Which strings are strung.

use sixrung_timeline::Pitch;

use crate::string::lanes::LANES;
use crate::string::model::Character;

/// Four to eight steel strings and what they sound open.
#[derive(Clone, Debug, PartialEq)]
pub struct Instrument {
    open: Vec<Pitch>,
}

/// The six strings of a steel guitar by their open pitch. The pick positions are ours; the rest is fitted to the steel
/// samples of the Debian package fluid-soundfont-gm, so that every figure of `tests/sound/realism.py` lies in its band.
const STEEL: [(Pitch, Character); 6] = [
    (Pitch(40), steel(9.5, 1.7, 1.1e-4, 4, 380.0, 0.18)),
    (Pitch(45), steel(8.5, 3.0, 4.3e-5, 1, 340.0, 0.17)),
    (Pitch(50), steel(11.0, 3.2, 3.5e-5, 1, 850.0, 0.16)),
    (Pitch(55), steel(11.5, 4.2, 3.0e-5, 1, 530.0, 0.15)),
    (Pitch(59), steel(11.0, 3.3, 4.8e-5, 1, 1250.0, 0.14)),
    (Pitch(64), steel(6.0, 2.6, 2.0e-5, 1, 1900.0, 0.13)),
];

const fn steel(
    t60_s: f64,
    treble_t60_s: f64,
    inharmonicity: f64,
    stages: usize,
    excitation_hz: f64,
    pick: f64,
) -> Character {
    Character { t60_s, treble_t60_s, inharmonicity, stages, excitation_hz, pick }
}

impl Instrument {
    /// Strings that sound `open` without a capo, the heaviest first; `None` unless they are 4 to 8.
    #[must_use]
    pub fn new(open: &[Pitch]) -> Option<Self> {
        (4..=LANES).contains(&open.len()).then(|| Self { open: open.to_vec() })
    }

    /// E2 A2 D3 G3 B3 E4.
    #[must_use]
    pub fn guitar() -> Self {
        Self { open: STEEL.map(|(pitch, _)| pitch).to_vec() }
    }

    /// How many strings.
    #[must_use]
    pub fn strings(&self) -> usize {
        self.open.len()
    }

    /// What string `string` sounds open; the last one's for a string that isn't there.
    pub(crate) fn open(&self, string: u8) -> Pitch {
        let last = self.open.len().saturating_sub(1);
        self.open.get(usize::from(string).min(last)).copied().unwrap_or(Pitch(40))
    }

    /// The character of string `string`: that of the guitar string nearest to it in pitch.
    pub(crate) fn character(&self, string: u8) -> &'static Character {
        let open = self.open(string);
        let nearest = STEEL.iter().min_by_key(|(pitch, _)| pitch.0.abs_diff(open.0));
        nearest.map_or(&STEEL[0].1, |(_, character)| character)
    }
}

impl Default for Instrument {
    fn default() -> Self {
        Self::guitar()
    }
}
