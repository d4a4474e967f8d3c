//! Which beat of the recording lies where.

use std::fmt;

use sixrung_timeline::Tempo;

/// More anchors than this are refused: drift is corrected with a few, and each is a joint in the slowed sound.
pub const MOST_ANCHORS: usize = 64;
/// Between two anchors the players keep within this factor of the tempo; beyond it an anchor sits on another beat.
const MOST_DRIFT: f64 = 1.5;

/// A beat whose place is known.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Anchor {
    /// Which beat, from bar 1 beat 1, which is 0; a pickup's are negative.
    pub beat: i32,
    /// Seconds from the start of the recording.
    pub at_s: f64,
}

/// Why beats can't be placed so.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum MapError {
    /// A time that is no number, or before the recording.
    Time(f64),
    /// Two anchors on one beat.
    Twice(i32),
    /// A later beat would come no later than an earlier one.
    Backwards {
        /// The later beat.
        beat: i32,
    },
    /// Up to this beat the players would be more than half as fast again as the tempo, or that much slower.
    Astray {
        /// The beat at the end of the stretch.
        beat: i32,
        /// The tempo it would take, in beats a minute.
        bpm: f64,
    },
    /// More than [`MOST_ANCHORS`].
    TooMany(usize),
}

impl fmt::Display for MapError {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Self::Time(_) => {
                write!(f, "a beat has no place in the recording\nhint: times are seconds from its start")
            }
            Self::Twice(beat) => write!(f, "beat {} is anchored twice\nhint: take one of the two away", beat + 1),
            Self::Backwards { beat } => {
                write!(f, "beat {} would come before an earlier one\nhint: move it or take it away", beat + 1)
            }
            Self::Astray { beat, bpm } => write!(
                f,
                "up to beat {} the tempo would be {bpm:.0}\nhint: does the anchor sit on another beat, or is the tempo \
                 half or twice what you tapped?",
                beat + 1
            ),
            Self::TooMany(count) => {
                write!(f, "{count} anchors are more than {MOST_ANCHORS}\nhint: one every few bars is enough")
            }
        }
    }
}

impl std::error::Error for MapError {}

/// Beats and times: linear between anchors, at the tempo before the first and after the last. Bar 1 is an anchor.
#[derive(Clone, Debug, PartialEq)]
pub struct BeatMap {
    tempo: Tempo,
    /// By beat, and by time; never empty.
    knots: Vec<Anchor>,
}

impl BeatMap {
    /// Bar 1 beat 1 at `start_s` seconds, a tempo in the lesson's beats, and the anchors, in any order.
    ///
    /// # Errors
    /// When a time is no number or negative, two anchors share a beat, time would run backwards, or the players would
    /// be further from the tempo than players are.
    pub fn new(start_s: f64, tempo: Tempo, anchors: &[Anchor]) -> Result<Self, MapError> {
        if anchors.len() > MOST_ANCHORS {
            return Err(MapError::TooMany(anchors.len()));
        }
        let mut knots = vec![Anchor { beat: 0, at_s: start_s }];
        knots.extend_from_slice(anchors);
        if let Some(bad) = knots.iter().find(|knot| !knot.at_s.is_finite() || knot.at_s < 0.0) {
            return Err(MapError::Time(bad.at_s));
        }
        knots.sort_by_key(|knot| knot.beat);
        for pair in knots.windows(2) {
            let beat = pair[1].beat;
            if pair[0].beat == beat {
                return Err(MapError::Twice(beat));
            }
            if pair[1].at_s <= pair[0].at_s {
                return Err(MapError::Backwards { beat });
            }
            let bpm = 60.0 * f64::from(beat - pair[0].beat) / (pair[1].at_s - pair[0].at_s);
            if !(tempo.bpm() / MOST_DRIFT..=tempo.bpm() * MOST_DRIFT).contains(&bpm) {
                return Err(MapError::Astray { beat, bpm });
            }
        }
        Ok(Self { tempo, knots })
    }

    /// The tempo away from anchors.
    #[must_use]
    pub const fn tempo(&self) -> Tempo {
        self.tempo
    }

    /// Bar 1 and the anchors, by beat.
    #[must_use]
    pub fn knots(&self) -> &[Anchor] {
        &self.knots
    }

    /// Where a beat lies, in seconds from the start of the recording; before it for a beat before its start.
    #[must_use]
    pub fn at(&self, beat: f64) -> f64 {
        let after = self.knots.partition_point(|knot| f64::from(knot.beat) <= beat);
        let (from, seconds_a_beat) = self.stretch(after);
        from.at_s + (beat - f64::from(from.beat)) * seconds_a_beat
    }

    /// Which beat lies at a time, with a fraction.
    #[must_use]
    pub fn beat_at(&self, at_s: f64) -> f64 {
        let after = self.knots.partition_point(|knot| knot.at_s <= at_s);
        let (from, seconds_a_beat) = self.stretch(after);
        f64::from(from.beat) + (at_s - from.at_s) / seconds_a_beat
    }

    /// The knot a stretch is measured from, and its seconds a beat; the stretch lies before knot `after`.
    fn stretch(&self, after: usize) -> (Anchor, f64) {
        let usual = 60.0 / self.tempo.bpm();
        match (after.checked_sub(1).and_then(|before| self.knots.get(before)), self.knots.get(after)) {
            (Some(from), Some(to)) => (*from, (to.at_s - from.at_s) / f64::from(to.beat - from.beat)),
            (Some(from), None) => (*from, usual),
            (None, _) => (self.knots[0], usual),
        }
    }

    /// The fewest beats of a row that tell where all of them lie to within `tolerance_s` seconds, the ends among them:
    /// anchors for drift that was found beat by beat (the line simplification of Ramer 1972 and of Douglas and Peucker
    /// 1973). `beats` are beat and time, by beat.
    #[must_use]
    pub fn thinned(beats: &[Anchor], tolerance_s: f64) -> Vec<Anchor> {
        let Some(last) = beats.len().checked_sub(1) else { return Vec::new() };
        let mut kept = vec![0, last];
        let mut open = vec![(0, last)];
        while let Some((from, to)) = open.pop() {
            let (a, b) = (beats[from], beats[to]);
            let slope = (b.at_s - a.at_s) / f64::from((b.beat - a.beat).max(1));
            let off =
                |index: &usize| (beats[*index].at_s - a.at_s - slope * f64::from(beats[*index].beat - a.beat)).abs();
            let worst = (from + 1..to).max_by(|one, other| off(one).total_cmp(&off(other)));
            if let Some(worst) = worst.filter(|worst| off(worst) > tolerance_s) {
                kept.push(worst);
                open.extend([(from, worst), (worst, to)]);
            }
        }
        kept.sort_unstable();
        kept.dedup();
        kept.into_iter().map(|index| beats[index]).collect()
    }
}

#[cfg(test)]
mod tests {
    use approx::assert_abs_diff_eq;
    use proptest::prelude::*;
    use sixrung_timeline::Tempo;

    use super::{Anchor, BeatMap, MapError};

    fn tempo(bpm: f64) -> Tempo {
        Tempo::from_bpm(bpm).expect("in range")
    }

    #[test]
    fn beats_lie_on_lines_between_anchors_and_at_the_tempo_beyond() {
        let anchors = [Anchor { beat: 8, at_s: 5.4 }, Anchor { beat: 4, at_s: 3.0 }];
        let map = BeatMap::new(1.0, tempo(120.0), &anchors).expect("in order once sorted");
        let rows = [(-2.0, 0.0), (0.0, 1.0), (2.0, 2.0), (4.0, 3.0), (6.0, 4.2), (8.0, 5.4), (10.0, 6.4)];
        for (beat, at_s) in rows {
            assert_abs_diff_eq!(map.at(beat), at_s, epsilon = 1e-12);
            assert_abs_diff_eq!(map.beat_at(at_s), beat, epsilon = 1e-12);
        }
    }

    #[test]
    fn what_cannot_be_is_refused_with_the_beat_it_is_about() {
        let rows: [(&[Anchor], MapError); 4] = [
            (&[Anchor { beat: 4, at_s: 0.5 }], MapError::Backwards { beat: 4 }),
            (&[Anchor { beat: 4, at_s: 3.0 }, Anchor { beat: 4, at_s: 3.1 }], MapError::Twice(4)),
            (&[Anchor { beat: 4, at_s: 1.5 }], MapError::Astray { beat: 4, bpm: 480.0 }),
            (&[Anchor { beat: 4, at_s: -1.0 }], MapError::Time(-1.0)),
        ];
        for (anchors, wanted) in rows {
            assert_eq!(BeatMap::new(1.0, tempo(120.0), anchors), Err(wanted));
        }
        assert!(matches!(BeatMap::new(f64::NAN, tempo(120.0), &[]), Err(MapError::Time(_))));
        let many: Vec<_> = (1..=65).map(|beat| Anchor { beat, at_s: 1.0 + 0.5 * f64::from(beat) }).collect();
        assert_eq!(BeatMap::new(1.0, tempo(120.0), &many), Err(MapError::TooMany(65)));
    }

    #[test]
    fn thinned_beats_still_tell_where_all_lie() {
        // A tempo that changes in the middle, with a little shaking.
        let beats: Vec<_> = (0..64)
            .map(|beat| {
                let drift = f64::from((beat - 30).max(0)) * 0.02;
                Anchor { beat, at_s: 2.0 + 0.5 * f64::from(beat) + drift + 0.003 * f64::from(beat % 3) }
            })
            .collect();
        let few = BeatMap::thinned(&beats, 0.010);
        assert!(few.len() <= 4, "{few:?}");
        let map = BeatMap::new(few[0].at_s, tempo(120.0), &few[1..]).expect("in order");
        for beat in beats {
            assert_abs_diff_eq!(map.at(f64::from(beat.beat)), beat.at_s, epsilon = 0.0101);
        }
    }

    proptest! {
        #[test]
        fn there_and_back_is_the_same_place(
            steps in proptest::collection::vec(0.4_f64..0.6, 1..12),
            beat in -20.0_f64..40.0,
        ) {
            let mut at_s = 10.0;
            let anchors: Vec<_> = (1..).zip(&steps).map(|(beat, step)| {
                at_s += step;
                Anchor { beat, at_s }
            }).collect();
            let map = BeatMap::new(10.0, tempo(120.0), &anchors).expect("players like these are no strangers");
            prop_assert!((map.beat_at(map.at(beat)) - beat).abs() < 1e-9);
            prop_assert!(map.at(beat + 0.01) > map.at(beat));
        }
    }
}
