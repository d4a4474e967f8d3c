//! The stiff string that explains a set of partials: f_n = n·f0·√(1 + B·n²) (Fletcher, "Normal vibration frequencies
//! of a stiff piano string", JASA 36, 1964).

/// Partials looked at.
pub(super) const PARTIALS: usize = 8;

/// What stiffness to expect of a string before it is heard: FluidR3's steel strings lie between 2e-5 and 1.1e-4, thick
/// basses above, nylon below. Wide, so that only a poor view of the partials leans on it.
const USUAL_STIFFNESS: f64 = 6e-5;
const STIFFNESS_SPREAD: f64 = 1e-4;
/// No guitar string is stiffer: a short, thick bass string has some 5e-4. Common practice, no source.
const STIFFEST: f64 = 1e-3;
/// Rounds of reweighting, and where Tukey's biweight lets go, in robust standard deviations (Beaton & Tukey 1974).
const ROUNDS: usize = 4;
const LETS_GO: f64 = 4.685;

/// One partial as measured.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) struct Partial {
    /// Which, from 1.
    pub(super) number: u32,
    /// Its frequency.
    pub(super) hertz: f64,
    /// How sure that is: its standard deviation as a share of the frequency.
    pub(super) deviation: f64,
}

/// A stiff string.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) struct StiffString {
    /// What it would sound without stiffness, in hertz.
    pub(super) base_hz: f64,
    /// Fletcher's B.
    pub(super) stiffness: f64,
    /// Standard deviation of the first partial, in cents.
    pub(super) deviation_cents: f64,
    /// How far the partials lie from the law, in their own standard deviations (median).
    pub(super) misfit: f64,
}

impl StiffString {
    /// A string of the usual stiffness that repeats `hertz` times a second. A period measure reads a little sharp of
    /// the first partial; half the stretch of partial 4 is near enough to start from.
    pub(super) fn guess(hertz: f64) -> Self {
        let base_hz = hertz / (1.0 + 8.0 * USUAL_STIFFNESS).sqrt();
        Self { base_hz, stiffness: USUAL_STIFFNESS, deviation_cents: f64::INFINITY, misfit: f64::INFINITY }
    }

    /// Frequency of a partial in hertz.
    pub(super) fn partial_hz(&self, number: f64) -> f64 {
        number * self.base_hz * (1.0 + self.stiffness * number * number).sqrt()
    }

    /// The string that explains `partials` best, those that fit none left out; `None` with fewer than two.
    pub(super) fn fit(partials: &[Partial]) -> Option<Self> {
        if partials.len() < 2 {
            return None;
        }
        let scale = partials[0].hertz / f64::from(partials[0].number);
        let mut trust = [1.0; PARTIALS];
        let mut line = Line::usual(partials, scale);
        for _ in 0..ROUNDS {
            let spread = robust_spread(partials, &line, scale).max(1.0);
            for (weight, partial) in trust.iter_mut().zip(partials) {
                let off = (line.miss(partial, scale) / (spread * LETS_GO)).powi(2);
                *weight = (1.0 - off).max(0.0).powi(2);
            }
            line = Line::through(partials, &trust, scale);
        }
        let misfit = robust_spread(partials, &line, scale);
        let base_hz = scale * line.height.sqrt();
        let deviation = 0.5 * line.variance_at_1.sqrt() * misfit.max(1.0);
        Some(Self {
            base_hz,
            stiffness: (line.slope / line.height).clamp(0.0, STIFFEST),
            deviation_cents: deviation * 1200.0 / std::f64::consts::LN_2,
            misfit,
        })
    }
}

/// (f_n / n / scale)² = height + slope·n²: the law, made straight.
#[derive(Clone, Copy, Debug)]
struct Line {
    height: f64,
    slope: f64,
    variance_at_1: f64,
}

impl Line {
    /// The line of usual stiffness with as many partials above it as below: a start no outlier can pull away.
    fn usual(partials: &[Partial], scale: f64) -> Self {
        let mut heights = [0.0; PARTIALS];
        for (height, partial) in heights.iter_mut().zip(partials) {
            let (square, measured) = coordinates(partial, scale);
            *height = measured / (1.0 + USUAL_STIFFNESS * square);
        }
        let heights = &mut heights[..partials.len()];
        heights.sort_by(f64::total_cmp);
        let height = heights[heights.len() / 2];
        Self { height, slope: USUAL_STIFFNESS * height, variance_at_1: f64::INFINITY }
    }

    fn through(partials: &[Partial], trust: &[f64; PARTIALS], scale: f64) -> Self {
        // What is usual counts as one more measurement, of the slope alone.
        let prior = STIFFNESS_SPREAD.powi(-2);
        let (mut one, mut x, mut xx, mut y, mut xy) = (0.0, 0.0, prior, 0.0, prior * USUAL_STIFFNESS);
        for (partial, trust) in partials.iter().zip(trust) {
            let (square, height) = coordinates(partial, scale);
            let weight = trust / (2.0 * partial.deviation * height).powi(2);
            one += weight;
            x += weight * square;
            xx += weight * square * square;
            y += weight * height;
            xy += weight * square * height;
        }
        let determinant = (one * xx - x * x).max(f64::MIN_POSITIVE);
        let slope = ((one * xy - x * y) / determinant).clamp(0.0, STIFFEST);
        let height = (y - slope * x) / one.max(f64::MIN_POSITIVE);
        Self { height, slope, variance_at_1: (xx - 2.0 * x + one) / determinant }
    }

    /// How far a partial lies from the line, in its own standard deviations.
    fn miss(&self, partial: &Partial, scale: f64) -> f64 {
        let (square, height) = coordinates(partial, scale);
        (height - self.height - self.slope * square) / (2.0 * partial.deviation * height)
    }
}

fn coordinates(partial: &Partial, scale: f64) -> (f64, f64) {
    let number = f64::from(partial.number);
    (number * number, (partial.hertz / number / scale).powi(2))
}

/// The median miss, as a standard deviation: 1.4826 of it is one for the normal law.
fn robust_spread(partials: &[Partial], line: &Line, scale: f64) -> f64 {
    let mut misses = [0.0; PARTIALS];
    for (miss, partial) in misses.iter_mut().zip(partials) {
        *miss = line.miss(partial, scale).abs();
    }
    let misses = &mut misses[..partials.len()];
    misses.sort_by(f64::total_cmp);
    1.4826 * misses[misses.len() / 2]
}
