//! What systems and rooms do to a guitar on its way to us, found by what they leave of it.
//!
//! [`of_pass`] looks at what a pass left, so that a processed sound ends as "not judged" with its reason;
//! [`SoundCheck`] listens to a few strums with silence before them and the last one ringing, and finds more.
//!
//! The limits were set on 640 takes of a recorded guitar, 340 of them degraded by our own writing of each kind of
//! processing (`tests/takes`, seed 57000 degraded with seed 5), the others as recorded, in a room, beside our own sound
//! and singing; beside each stands what was measured there.

mod band;
mod guitar;

pub use guitar::SoundCheck;

use sixrung_lesson::Action;

use crate::level::{MOMENT_S, Moment};
use crate::median::median;
use crate::plan::PassPlan;
use crate::sound::PassSound;
use crate::verdict::{Processing, Reason};

/// Moments whose peak is within so many decibels of the highest, and the share of them from which on the peaks are cut
/// off at one height: of overdriven takes 0.27 to 0.84, also where they were turned down afterwards; of others at most
/// 0.015, and 0.15 where a limiter was at work.
const AT_THE_TOP_DB: f32 = 0.3;
const CUT_OFF_SHARE: f64 = 0.2;
/// Fewer moments than a second's tell nothing.
const LEAST_MOMENTS: usize = 50;
/// From the level that a fifth of the moments stay under to the one that a tenth exceed lie at least so many decibels
/// in what a hand plays and strings lose (4.9 to 58); automatic gain leaves 1.9 to 4.2 in three of four takes. It makes
/// loud, too: these had their loud moments at −19 to −9 dB.
const LEAST_RANGE_DB: f32 = 4.2;
const LEVELLED_ABOVE_DB: f32 = -20.0;
/// And it holds ringing strings up: between strokes they lose less than this a second in the middle, in decibels, in
/// six takes of ten with automatic gain; of the others all but one of 300 lose more. Told by strokes so far apart, in
/// seconds, and so many of them.
const HELD_UP_DB_A_SECOND: f64 = -3.0;
const TELLING_S: f64 = 0.25;
const LEAST_TELLING: usize = 3;
/// No microphone is as silent as this, in decibels re full scale, in the middle of a pass: a gate has closed. The
/// quietest floor of the other takes was −97.
const GATED_DB: f32 = -105.0;
/// Above this something sounded, and so shortly before the gate closed, in moments: 160 ms.
const SOUNDED_DB: f32 = -70.0;
const SHORTLY: usize = 8;
/// A gate closes again and again: once is a loose contact.
const LEAST_CLOSINGS: usize = 2;

/// What was done to a pass's sound, if that can be told: `played` is what we played meanwhile, where that is known.
pub(crate) fn of_pass(
    plan: &PassPlan,
    moments: &[Moment],
    sound: &PassSound,
    played: Option<&PassSound>,
    strums_s: &[f64],
) -> Option<Reason> {
    let (first_s, last_s) = (plan.times_s().next()?, plan.times_s().last()?);
    let moments: Vec<Moment> =
        moments.iter().copied().filter(|moment| (first_s..last_s + 0.5).contains(&moment.end_s)).collect();
    if is_cut_off(&moments) {
        return Some(Reason::Clipped);
    }
    let closings: Vec<f64> =
        closings(&moments).into_iter().filter(|at_s| *at_s < last_s && rings_at(plan, *at_s)).collect();
    let processing = if band::is_narrow(sound, strums_s) {
        Some(Processing::NarrowBand)
    } else if closings.len() >= LEAST_CLOSINGS {
        let echo = played.is_some_and(|played| is_played_at(played, &closings));
        Some(if echo { Processing::EchoCancelling } else { Processing::NoiseSuppression })
    } else if is_levelled(&moments) && is_held_up(&moments, strums_s) {
        Some(Processing::AutoGain)
    } else {
        None
    };
    processing.map(Reason::Processed)
}

/// Whether the peaks are cut off at one height, whatever that height became afterwards.
#[expect(clippy::cast_precision_loss, reason = "a share")]
pub(super) fn is_cut_off(moments: &[Moment]) -> bool {
    let top_db = moments.iter().map(|moment| moment.peak_db).fold(f32::MIN, f32::max);
    let at_the_top = moments.iter().filter(|moment| moment.peak_db > top_db - AT_THE_TOP_DB).count();
    moments.len() >= LEAST_MOMENTS && top_db > SOUNDED_DB && at_the_top as f64 >= CUT_OFF_SHARE * moments.len() as f64
}

/// Whether loud and soft have become alike.
fn is_levelled(moments: &[Moment]) -> bool {
    let mut levels: Vec<f32> = moments.iter().map(|moment| moment.level_db).collect();
    levels.sort_unstable_by(f32::total_cmp);
    let (Some(low), Some(high)) = (levels.get(levels.len() / 5), levels.get(levels.len() * 9 / 10)) else {
        return false;
    };
    levels.len() >= LEAST_MOMENTS && *high > LEVELLED_ABOVE_DB && high - low < LEAST_RANGE_DB
}

/// Whether strings do not die away between strokes.
fn is_held_up(moments: &[Moment], strums_s: &[f64]) -> bool {
    let slope = |pair: &[f64]| {
        let [from_s, to_s] = [pair[0] + 0.08, pair[1] - 0.03];
        let from = moments.partition_point(|moment| moment.end_s < from_s + MOMENT_S);
        let to = moments.partition_point(|moment| moment.end_s < to_s);
        let ring = moments.get(from..to).filter(|ring| pair[1] - pair[0] >= TELLING_S && ring.len() >= 4)?;
        let quarter = (ring.len() / 4).max(1);
        let mean = |part: &[Moment]| {
            #[expect(clippy::cast_precision_loss, reason = "a few dozen")]
            let count = part.len() as f64;
            part.iter().map(|moment| f64::from(moment.level_db)).sum::<f64>() / count
        };
        #[expect(clippy::cast_precision_loss, reason = "a few dozen")]
        let seconds = (ring.len() - quarter) as f64 * MOMENT_S;
        Some((mean(&ring[ring.len() - quarter..]) - mean(&ring[..quarter])) / seconds)
    };
    let mut slopes: Vec<f64> = strums_s.windows(2).filter_map(slope).collect();
    slopes.len() >= LEAST_TELLING && median(&mut slopes).is_some_and(|slope| slope > HELD_UP_DB_A_SECOND)
}

/// When a gate closed after something had sounded, in seconds.
fn closings(moments: &[Moment]) -> Vec<f64> {
    let is_gated = |moment: &Moment| moment.level_db < GATED_DB;
    let closed = |index: &usize| {
        let before = &moments[index.saturating_sub(SHORTLY)..*index];
        is_gated(&moments[*index])
            && before.last().is_some_and(|last| !is_gated(last))
            && before.iter().any(|moment| moment.level_db > SOUNDED_DB)
    };
    (0..moments.len()).filter(closed).map(|index| moments[index].end_s).collect()
}

/// Whether strings were to ring then: the last stroke before it was no stop.
fn rings_at(plan: &PassPlan, at_s: f64) -> bool {
    let last = plan.strokes.iter().take_while(|stroke| plan.starts_s + stroke.at_s < at_s).last();
    last.is_some_and(|stroke| !matches!(stroke.action, Action::Stop | Action::Chuck))
}

/// Whether we played at these times, more than half as strongly as on the whole.
#[expect(clippy::cast_precision_loss, reason = "counts of samples")]
fn is_played_at(played: &PassSound, times_s: &[f64]) -> bool {
    /// Before the gate closed, in seconds.
    const BEFORE_S: f64 = 0.2;
    let power = |samples: &[f32]| {
        samples.iter().map(|sample| f64::from(*sample).powi(2)).sum::<f64>() / samples.len().max(1) as f64
    };
    let whole = power(&played.samples);
    let there: f64 = times_s.iter().map(|at_s| power(played.between(at_s - BEFORE_S, *at_s))).sum();
    whole > 1e-8 && there > 0.5 * whole * times_s.len() as f64
}

#[cfg(test)]
mod tests {
    use super::{closings, is_cut_off, is_held_up, is_levelled};
    use crate::level::Moment;

    fn moments(levels_db: impl Iterator<Item = f32>) -> Vec<Moment> {
        let moment = |(index, level_db): (usize, f32)| Moment {
            end_s: 0.02 * f64::from(u32::try_from(index + 1).expect("few")),
            level_db,
            peak_db: level_db + 9.0,
            clipped: 0.0,
            gap: false,
            bad: false,
        };
        levels_db.enumerate().map(moment).collect()
    }

    /// Strums every half second that lose 20 dB a second.
    fn strummed() -> impl Iterator<Item = f32> {
        (0_u16..200).map(|index| -18.0 - 0.4 * f32::from(index % 25))
    }

    #[test]
    fn strings_that_die_away_are_neither_cut_off_nor_levelled_nor_gated() {
        let moments = moments(strummed());
        assert!(!is_cut_off(&moments) && !is_levelled(&moments) && closings(&moments).is_empty());
        assert!(!is_held_up(&moments, &strums_s()));
    }

    fn strums_s() -> Vec<f64> {
        (0..8).map(|strum| 0.5 * f64::from(strum)).collect()
    }

    #[test]
    fn each_kind_is_found() {
        assert!(is_cut_off(&moments(strummed().map(|level| level.min(-24.0)))));
        let levelled = moments(strummed().map(|level| level.clamp(-20.5, -19.8)));
        assert!(is_levelled(&levelled) && is_held_up(&levelled, &strums_s()));
        let gated = moments(strummed().map(|level| if level < -24.0 { -120.0 } else { level }));
        assert_eq!(closings(&gated).len(), 8);
        // Silence from the start is no gate.
        assert!(closings(&moments(std::iter::repeat_n(-120.0, 100))).is_empty());
    }
}
