//! The sound as levels, in ticks of 5 ms, all of it and its low and high parts.

/// Length of a tick, in seconds.
pub(super) const TICK_S: f64 = 0.005;
/// Ticks remembered: four strokes at their slowest, the rest before them, and a little.
const KEPT: usize = 1200;
/// Samples remembered: a stroke until it is known, at the listener's fastest working rate.
const SAMPLES: usize = 4096;
/// Below the first lies the thud of stopped strings, above the second their scrape, in hertz: a choice of ours.
const LOW_HZ: f64 = 600.0;
const HIGH_HZ: f64 = 1500.0;

/// Periods of voices and strings, in seconds: 450 down to 80 Hz.
const PERIODS_S: (f64, f64) = (0.0022, 0.0125);

/// So many ticks.
#[expect(clippy::cast_possible_truncation, clippy::cast_sign_loss, reason = "seconds")]
pub(super) const fn ticks(seconds: f64) -> u64 {
    (seconds / TICK_S + 0.5) as u64
}

/// Mean powers of one tick.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub(super) struct Tick {
    pub(super) all: f32,
    pub(super) low: f32,
    pub(super) high: f32,
}

/// The last six seconds as ticks.
#[derive(Debug)]
pub(super) struct Levels {
    ticks: [Tick; KEPT],
    sound: [f32; SAMPLES],
    count: u64,
    /// Samples a second, and in a tick.
    rate: f64,
    length: u32,
    /// When the first sample was, and how many came since.
    starts_s: f64,
    samples: u64,
    fill: u32,
    sum: Tick,
    low: TwoPoles,
    middle: TwoPoles,
}

impl Levels {
    pub(super) fn new() -> Self {
        Self {
            ticks: [Tick::default(); KEPT],
            sound: [0.0; SAMPLES],
            count: 0,
            rate: 0.0,
            length: 1,
            starts_s: 0.0,
            samples: 0,
            fill: 0,
            sum: Tick::default(),
            low: TwoPoles::default(),
            middle: TwoPoles::default(),
        }
    }

    /// Whether a sample at `at_s`, of so many a second, is the next one.
    pub(super) fn goes_on(&self, at_s: f64, rate: f64) -> bool {
        #[expect(clippy::float_cmp, reason = "the same number, or another listener")]
        let same = rate == self.rate;
        same && (at_s - self.sample_s(self.samples)).abs() * rate < 0.5
    }

    /// Begins anew with a sample at `at_s`, of so many a second.
    pub(super) fn begin(&mut self, at_s: f64, rate: f64) {
        #[expect(clippy::cast_possible_truncation, clippy::cast_sign_loss, reason = "40 to 80 samples")]
        let length = (rate * TICK_S).round().max(1.0) as u32;
        (self.rate, self.length, self.starts_s) = (rate, length, at_s);
        (self.count, self.samples, self.fill, self.sum) = (0, 0, 0, Tick::default());
        self.ticks.fill(Tick::default());
        self.sound.fill(0.0);
        self.low = TwoPoles::below(LOW_HZ, rate);
        self.middle = TwoPoles::below(HIGH_HZ, rate);
    }

    /// Takes a sample; whether it filled a tick.
    pub(super) fn push(&mut self, sample: f32) -> bool {
        let (low, high) = (self.low.push(sample), sample - self.middle.push(sample));
        self.sum.all += sample * sample;
        self.sum.low += low * low;
        self.sum.high += high * high;
        self.sound[place_of_sample(self.samples)] = sample;
        self.samples += 1;
        self.fill += 1;
        if self.fill < self.length {
            return false;
        }
        #[expect(clippy::cast_precision_loss, reason = "40 to 80")]
        let share = 1.0 / self.length as f32;
        let Tick { all, low, high } = std::mem::take(&mut self.sum);
        let place = place(self.count);
        self.ticks[place] = Tick { all: all * share, low: low * share, high: high * share };
        self.count += 1;
        self.fill = 0;
        true
    }

    /// Ticks since the beginning.
    pub(super) const fn count(&self) -> u64 {
        self.count
    }

    /// A tick by its number; silence where it is no longer or not yet known.
    pub(super) fn tick(&self, number: u64) -> Tick {
        let known = number < self.count && self.count - number <= KEPT as u64;
        if known { self.ticks[place(number)] } else { Tick::default() }
    }

    /// Ticks by their numbers.
    pub(super) fn between(&self, from: u64, to: u64) -> impl Iterator<Item = Tick> {
        (from..to).map(|number| self.tick(number))
    }

    /// Mean powers of ticks by their numbers.
    #[expect(clippy::cast_precision_loss, reason = "a few dozen")]
    pub(super) fn mean(&self, from: u64, to: u64) -> Tick {
        let share = 1.0 / to.saturating_sub(from).max(1) as f32;
        self.between(from, to).fold(Tick::default(), |sum, tick| Tick {
            all: sum.all + share * tick.all,
            low: sum.low + share * tick.low,
            high: sum.high + share * tick.high,
        })
    }

    /// How nearly the sound repeats itself after any period of a voice or a single string, from the beginning of a tick on
    /// for so many seconds: 1 wholly, 0 not at all.
    pub(super) fn periodicity(&self, tick: u64, lasts_s: f64) -> f32 {
        let samples = |seconds: f64| as_samples(seconds * self.rate);
        let (from, length) = (tick * u64::from(self.length), samples(lasts_s));
        let at = |number: u64| self.sound[place_of_sample(number)];
        let likeness = |lag: u64| {
            let (mut both, mut one, mut other) = (0.0, 1e-12, 1e-12);
            for number in from..from + length {
                let (now, later) = (at(number), at(number + lag));
                both += now * later;
                one += now * now;
                other += later * later;
            }
            both / f32::sqrt(one * other)
        };
        (samples(PERIODS_S.0)..=samples(PERIODS_S.1)).map(likeness).fold(0.0, f32::max)
    }

    /// When a tick began, in seconds on the listener's clock.
    pub(super) fn time_s(&self, number: u64) -> f64 {
        self.sample_s(number * u64::from(self.length))
    }

    #[expect(clippy::cast_precision_loss, reason = "f64 holds samples exactly for 10,000 years")]
    fn sample_s(&self, sample: u64) -> f64 {
        self.starts_s + sample as f64 / self.rate.max(1.0)
    }
}

#[expect(clippy::cast_possible_truncation, clippy::cast_sign_loss, reason = "a stroke's worth")]
const fn as_samples(count: f64) -> u64 {
    count.max(0.0) as u64
}

#[expect(clippy::cast_possible_truncation, reason = "below what is kept")]
const fn place_of_sample(number: u64) -> usize {
    (number % SAMPLES as u64) as usize
}

#[expect(clippy::cast_possible_truncation, reason = "below what is kept")]
const fn place(number: u64) -> usize {
    (number % KEPT as u64) as usize
}

/// Two low-pass filters of the first order, one after the other.
#[derive(Clone, Copy, Debug, Default)]
struct TwoPoles {
    follow: f32,
    held: [f32; 2],
}

impl TwoPoles {
    #[expect(clippy::cast_possible_truncation, reason = "a filter coefficient")]
    fn below(hertz: f64, rate: f64) -> Self {
        Self { follow: (1.0 - (-std::f64::consts::TAU * hertz / rate).exp()) as f32, held: [0.0; 2] }
    }

    fn push(&mut self, sample: f32) -> f32 {
        self.held[0] += self.follow * (sample - self.held[0]);
        self.held[1] += self.follow * (self.held[0] - self.held[1]);
        self.held[1]
    }
}
