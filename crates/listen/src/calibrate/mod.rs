//! The way from our own sound to the microphone's, measured: how long sound takes, and what it loses on its way.
//!
//! [`Probe`] is what is played; a [`Recording`] is what the microphone heard meanwhile, each sample placed on the
//! output's clock; [`Recording::loopback`] finds our own sweeps in it, [`Recording::tapped`] the player's taps to our
//! clicks. The first finds the round trip alone; the second finds it less the player's own anticipation, and is for
//! those who hear us through headphones.

mod loopback;
mod probe;
mod recording;
mod sweep;
mod taps;

pub use loopback::Loopback;
pub use probe::Probe;
pub use recording::Recording;

use crate::median::{median, spread};

/// A round trip, measured several times over.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Measurement {
    /// The round trip, in milliseconds: the median.
    pub ms: f64,
    /// Spread of the single measurements around it, in milliseconds: 1.4826 × the median absolute deviation.
    pub spread_ms: f64,
    /// How many agreed.
    pub agreed: usize,
    /// How many were asked for.
    pub asked: usize,
}

/// Why no round trip was found.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum NotMeasured {
    /// Fewer than half of what was asked for was heard.
    NotHeard {
        /// How many were.
        heard: usize,
        /// How many were asked for.
        asked: usize,
    },
    /// The single measurements lie too far apart to be one round trip.
    Wandering {
        /// The spread of them all, in milliseconds.
        spread_ms: f64,
    },
    /// Sound was lost on its way, or held numbers that are none.
    Gap,
    /// The microphone was overdriven.
    Clipped,
    /// The recording ends too soon.
    TooShort,
}

/// Of what was asked for, so large a share must agree: a design choice of ours.
const AGREEING_SHARE: f64 = 0.6;

/// The middle of measurements that agree within `apart_s` of it; those farther off are thrown out.
///
/// # Errors
/// `NotHeard` with fewer than half of `asked`, `Wandering` where too few agree or those that do spread too far.
fn agree(mut lags_s: Vec<f64>, asked: usize, apart_s: f64, largest_spread_s: f64) -> Result<Measurement, NotMeasured> {
    let heard = lags_s.len();
    if heard * 2 < asked {
        return Err(NotMeasured::NotHeard { heard, asked });
    }
    let not_heard = NotMeasured::NotHeard { heard, asked };
    let around = median(&mut lags_s).ok_or(not_heard)?;
    let of_all_s = spread(&lags_s, around).unwrap_or(0.0);
    lags_s.retain(|lag| (lag - around).abs() <= apart_s);
    let agreed = lags_s.len();
    let middle = median(&mut lags_s).unwrap_or(around);
    let spread_s = spread(&lags_s, middle).unwrap_or(0.0);
    #[expect(clippy::cast_precision_loss, reason = "a dozen")]
    let too_few = (agreed as f64) < AGREEING_SHARE * heard as f64 || agreed * 2 < asked;
    if too_few || spread_s > largest_spread_s {
        return Err(NotMeasured::Wandering { spread_ms: of_all_s.max(spread_s) * 1000.0 });
    }
    Ok(Measurement { ms: middle * 1000.0, spread_ms: spread_s * 1000.0, agreed, asked })
}

#[cfg(test)]
mod tests {
    use super::{NotMeasured, agree};

    fn check(lags_ms: &[f64], asked: usize, expected: Result<(f64, usize), NotMeasured>) {
        let lags_s = lags_ms.iter().map(|ms| ms / 1000.0).collect();
        let found = agree(lags_s, asked, 0.003, 0.002).map(|found| (found.ms.round(), found.agreed));
        assert_eq!(found, expected, "{lags_ms:?}");
    }

    #[test]
    fn the_middle_of_those_that_agree_counts() {
        check(&[20.0; 8], 8, Ok((20.0, 8)));
        check(&[20.1, 19.9, 20.0, 20.2, 19.8, 90.0, 300.0], 8, Ok((20.0, 5)));
        check(&[20.0; 3], 8, Err(NotMeasured::NotHeard { heard: 3, asked: 8 }));
        check(&[], 8, Err(NotMeasured::NotHeard { heard: 0, asked: 8 }));
    }

    #[test]
    fn what_does_not_agree_is_no_round_trip() {
        let apart = agree([20.0, 50.0, 90.0, 140.0, 210.0, 240.0].map(|ms| ms / 1000.0).to_vec(), 6, 0.003, 0.002);
        assert!(matches!(apart, Err(NotMeasured::Wandering { spread_ms }) if spread_ms > 50.0), "{apart:?}");
    }
}
