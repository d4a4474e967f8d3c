//! A recording at half its tempo, its pitch unchanged and its attacks as sharp as they were.
//!
//! Overlap-add of stretches that are moved to where they continue what was written before (WSOLA: Verhelst and Roelands,
//! ICASSP 1993; written from memory). Around each attack the sound is copied as it is, and the room this takes is made up
//! between attacks: so an attack is heard once, and lies at exactly twice its time.

/// Length of a stretch, in seconds: two periods of a guitar's lowest string, 82 Hz, and a little.
const STRETCH_S: f64 = 0.030;
/// So long after an attack the sound is copied as it is, in seconds: a strum's strings and their noise. A design choice.
const KEPT_S: f64 = 0.040;
/// Stretches are moved by at most this, in seconds: a period of the lowest string.
const MOVED_S: f64 = 0.012;
/// First every so many positions are tried, comparing every so many samples; then the ones around the best.
const COARSE: usize = 8;
const SPARSE: usize = 4;

/// `samples` at `rate` frames a second, twice as long. `attacks` are places in it, in frames, in any order.
#[must_use]
pub fn slowed(samples: &[f32], rate: u32, attacks: &[usize]) -> Vec<f32> {
    let half = frames(rate, STRETCH_S / 2.0).max(1);
    let (length, reach) = (2 * half, frames(rate, MOVED_S));
    // What comes just before an attack, moved, must not bring it too early.
    let map = Map::new(samples.len(), attacks, length + reach, frames(rate, KEPT_S));
    let mut slow = vec![0.0_f32; 2 * samples.len() + length];
    let mut before: Option<usize> = None;
    for to in (0..2 * samples.len()).step_by(half) {
        let (ideal, is_kept) = map.place(to);
        let from = match before {
            Some(before) if !is_kept => best(samples, before + half, ideal, (length, reach)),
            _ => ideal,
        };
        for (index, out) in slow[to..].iter_mut().take(length).enumerate() {
            let Some(sample) = samples.get(from + index) else { break };
            *out += sample * window(index, half, to == 0);
        }
        before = Some(from);
    }
    slow.truncate(2 * samples.len());
    slow
}

#[expect(clippy::cast_possible_truncation, clippy::cast_sign_loss, reason = "milliseconds of frames")]
fn frames(rate: u32, seconds: f64) -> usize {
    (f64::from(rate) * seconds).round() as usize
}

/// A triangle as high as its neighbours are low; the very first stretch begins at full height.
#[expect(clippy::cast_precision_loss, reason = "milliseconds of frames")]
fn window(index: usize, half: usize, is_first: bool) -> f32 {
    match index.checked_sub(half) {
        None if is_first => 1.0,
        None => index as f32 / half as f32,
        Some(after) => 1.0 - after as f32 / half as f32,
    }
}

/// Where around `ideal` the sound goes on most like it does at `natural`.
fn best(samples: &[f32], natural: usize, ideal: usize, (length, reach): (usize, usize)) -> usize {
    let Some(wanted) = samples.get(natural..natural + length) else { return ideal };
    let likeness = |from: usize| {
        let Some(heard) = samples.get(from..from + length) else { return f32::MIN };
        let pairs = || wanted.iter().zip(heard).step_by(SPARSE);
        let power: f32 = pairs().map(|(_, heard)| heard * heard).sum();
        pairs().map(|(wanted, heard)| wanted * heard).sum::<f32>() / power.sqrt().max(1e-9)
    };
    let best_of = |places: &mut dyn Iterator<Item = usize>| {
        places.max_by(|a, b| likeness(*a).total_cmp(&likeness(*b))).unwrap_or(ideal)
    };
    let near = best_of(&mut (ideal.saturating_sub(reach)..=ideal + reach).step_by(COARSE));
    best_of(&mut (near.saturating_sub(COARSE)..=near + COARSE))
}

/// Which place of the recording belongs to a place of the slow one.
struct Map {
    /// Corners as (slow, recorded), by time.
    corners: Vec<(usize, usize)>,
}

impl Map {
    fn new(length: usize, attacks: &[usize], before: usize, kept: usize) -> Self {
        let mut attacks: Vec<usize> = attacks.iter().copied().filter(|attack| *attack < length).collect();
        attacks.sort_unstable();
        attacks.dedup();
        let mut corners: Vec<(usize, usize)> = vec![(0, 0)];
        for (index, attack) in attacks.iter().copied().enumerate() {
            let next = attacks.get(index + 1).copied().unwrap_or(length);
            let (_, free_from) = corners[corners.len() - 1];
            let before = before.min(attack.saturating_sub(free_from));
            let kept = kept.min((next - attack) / 2);
            corners.extend([(2 * attack - before, attack - before), (2 * attack + kept, attack + kept)]);
        }
        corners.push((2 * length, length));
        Self { corners }
    }

    /// The place, and whether the sound is copied there as it is.
    fn place(&self, slow: usize) -> (usize, bool) {
        let after = self.corners.partition_point(|corner| corner.0 <= slow).clamp(1, self.corners.len() - 1);
        let (from, to) = (self.corners[after - 1], self.corners[after]);
        let (wide, high) = (to.0 - from.0, to.1 - from.1);
        (from.1 + (slow - from.0) * high / wide.max(1), wide == high)
    }
}

#[cfg(test)]
mod tests {
    use std::f32::consts::TAU;

    use super::{Map, slowed};

    const RATE: u32 = 8_000;

    #[test]
    fn a_tone_lasts_twice_as_long_at_the_same_pitch() {
        for hertz in [82.0_f32, 196.0, 440.0] {
            #[expect(clippy::cast_precision_loss, reason = "a second")]
            let tone: Vec<f32> = (0..8_000).map(|n| (TAU * hertz * n as f32 / 8_000.0).sin()).collect();
            let slow = slowed(&tone, RATE, &[]);
            assert_eq!(slow.len(), 16_000);
            let ups = |samples: &[f32]| samples.windows(2).filter(|pair| pair[0] < 0.0 && pair[1] >= 0.0).count();
            let (once, twice) = (ups(&tone), ups(&slow));
            assert!(twice.abs_diff(2 * once) <= 3, "{hertz} Hz: {once} and {twice} periods");
            let loudest = slow.iter().fold(0.0_f32, |loudest, sample| loudest.max(sample.abs()));
            assert!(loudest < 1.05, "{hertz} Hz: {loudest}");
        }
    }

    #[test]
    fn an_attack_is_heard_once_at_twice_its_time() {
        let attacks = [700_usize, 2_100, 2_900, 5_000];
        let mut sound = vec![0.0_f32; 7_000];
        for attack in attacks {
            for (n, sample) in sound[attack..].iter_mut().enumerate().take(1_500) {
                #[expect(clippy::cast_precision_loss, reason = "a fraction of a second")]
                let time = n as f32 / 8_000.0;
                *sample += (-14.0 * time).exp() * (TAU * 150.0 * time).cos();
            }
        }
        let slow = slowed(&sound, RATE, &attacks);
        // A leap from one sample to the next is an attack and nothing else.
        let leaps: Vec<usize> = (1..slow.len()).filter(|n| (slow[*n] - slow[n - 1]).abs() > 0.5).collect();
        assert_eq!(leaps, attacks.map(|attack| 2 * attack));
    }

    #[test]
    fn the_map_runs_from_end_to_end_and_never_back() {
        let map = Map::new(9_000, &[100, 150, 4_000, 4_001, 8_990, 20_000], 240, 320);
        let places: Vec<usize> = (0..=18_000).map(|slow| map.place(slow).0).collect();
        assert!(places.is_sorted());
        assert_eq!((places[0], places[18_000]), (0, 9_000));
        assert_eq!(map.place(8_000).0, 4_000);
        assert!(slowed(&[], RATE, &[]).is_empty());
    }
}
