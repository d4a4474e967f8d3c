//! How the strings of a shape share its spectrum.

use sixrung_lesson::Pitch;

use super::grid::{POINTS, WINDOWS, band_hz};

/// Most partials of a string that are looked at.
const MOST_PARTIALS: u32 = 24;
/// Stiffness of a middling steel string: fₖ = k·f₁·√(1 + B·k²) (Fletcher & Rossing, The Physics of Musical
/// Instruments, §2.18); the bands are wide enough for strings from nylon to twice this.
const STIFFNESS: f64 = 1e-4;
/// Where partials of several strings fall together, each is first taken to fall by 12 dB an octave: between the 9 to 11
/// measured on steel above 1 kHz and a plucked string's own slopes. A design choice of ours.
const FALL_POWER: f64 = 2.0;
/// Rounds of sharing out. More change the shares by less than a tenth.
const ROUNDS: usize = 30;
/// The quietest fifth of the bands is taken for the floor.
const FLOOR_SHARE: usize = 5;

/// One string's partials in the bands of a window.
#[derive(Clone, Debug)]
pub(super) struct Partials {
    tones: Vec<(usize, Vec<f64>)>,
    /// Power of each partial.
    pub(super) powers: Vec<f64>,
}

impl Partials {
    /// Those of a string at `pitch` with the slope of an unknown string, 1 at the first.
    pub(super) fn of(pitch: Pitch, window: usize) -> Self {
        let top = band_hz(POINTS - 1, 0.0);
        let hertz = (1..=MOST_PARTIALS).map(f64::from).map(|k| k * pitch.hertz() * (1.0 + STIFFNESS * k * k).sqrt());
        let tones: Vec<_> = hertz.take_while(|hertz| *hertz < top).map(|hertz| WINDOWS[window].tone(hertz)).collect();
        let powers = (1..=MOST_PARTIALS).map(|k| f64::from(k).powf(-FALL_POWER)).take(tones.len()).collect();
        Self { tones, powers }
    }

    /// The same string at another pitch, as loud.
    pub(super) fn at(&self, pitch: Pitch, window: usize) -> Self {
        let Self { tones, powers } = Self::of(pitch, window);
        let known = self.powers.iter().copied();
        let powers = powers.iter().enumerate().zip(known.map(Some).chain(std::iter::repeat(None)));
        let whole = self.powers.first().copied().unwrap_or(0.0);
        let powers = powers.map(|((_, unknown), known)| known.unwrap_or(unknown * whole)).collect();
        Self { tones, powers }
    }

    /// The whole of its power.
    pub(super) fn power(&self) -> f64 {
        self.powers.iter().sum()
    }

    /// The same, with this power on the whole.
    pub(super) fn scaled_to(mut self, power: f64) -> Self {
        let scale = power / self.power().max(1e-30);
        self.powers.iter_mut().for_each(|power| *power *= scale);
        self
    }

    /// Adds its power, band by band.
    pub(super) fn add_to(&self, bands: &mut [f64]) {
        for ((first, tone), power) in self.tones.iter().zip(&self.powers) {
            for (band, share) in bands[*first..].iter_mut().zip(tone) {
                *band += power * share;
            }
        }
    }

    /// Its power in each band.
    pub(super) fn bands(&self) -> Vec<f64> {
        let mut bands = vec![0.0; POINTS];
        self.add_to(&mut bands);
        bands
    }

    /// One round of sharing out: each partial grows as its bands are louder than all that is expected there.
    fn grow(&mut self, ratios: &[f64]) {
        for ((first, tone), power) in self.tones.iter().zip(&mut self.powers) {
            let whole: f64 = tone.iter().sum();
            let louder: f64 = tone.iter().zip(&ratios[*first..]).map(|(share, ratio)| share * ratio).sum();
            if whole > 0.0 {
                *power *= louder / whole;
            }
        }
    }
}

/// Shares out a spectrum among strings and a floor: multiplicative updates for the generalised Kullback-Leibler
/// distance (Lee & Seung, NIPS 2000), which leave partials that fall together in the proportion they began with.
/// Gives the strings' partials and the floor of a band.
pub(super) fn share_out(spectrum: &[f64], strings: &[Option<Pitch>], window: usize) -> (Vec<Option<Partials>>, f64) {
    let mut sorted = spectrum.to_vec();
    sorted.sort_unstable_by(f64::total_cmp);
    let floor = sorted.get(sorted.len() / FLOOR_SHARE).copied().unwrap_or(0.0).max(1e-12);
    let mut all: Vec<_> = strings.iter().map(|pitch| pitch.map(|pitch| Partials::of(pitch, window))).collect();
    let explained = |all: &[Option<Partials>]| {
        let mut bands = vec![floor; POINTS];
        all.iter().flatten().for_each(|string| string.add_to(&mut bands));
        bands
    };
    let scale = spectrum.iter().sum::<f64>() / explained(&all).iter().sum::<f64>();
    all.iter_mut().flatten().flat_map(|string| &mut string.powers).for_each(|power| *power *= scale);
    for _ in 0..ROUNDS {
        let bands = explained(&all);
        let ratios: Vec<f64> = spectrum.iter().zip(bands).map(|(heard, expected)| heard / expected).collect();
        all.iter_mut().flatten().for_each(|string| string.grow(&ratios));
    }
    (all, floor)
}
