//! What the learner has marked in a recording: bar 1, the tempo, anchors. Every change leaves beats that can be.

use sixrung_lesson::Tempo;
use sixrung_song::{Anchor, BeatMap, MapError, Proposal};

/// Bar 1 goes to a beat that was found, when one lies this near, in seconds.
const SNAP_S: f64 = 0.070;
/// Anchors taken from beats that were found tell where all of them lie to within this, in seconds: at half the tempo
/// twice as much, well within the narrowest timing window of ±40 ms. Where that takes too many, half as much again.
const FOUND_WITHIN_S: f64 = 0.005;
const LOOSER: f64 = 1.5;
/// Each anchor is a joint in the slowed sound, and something to look after.
const MANY_ANCHORS: usize = 40;
/// The most the recording is shifted, in semitones either way.
pub const MOST_SEMITONES: i8 = 7;

/// Marks in a recording.
#[derive(Clone, Debug, PartialEq)]
pub struct Marks {
    /// Bar 1 beat 1, in seconds.
    pub start_s: f64,
    /// The tempo away from anchors, in the lesson's beats.
    pub tempo: Tempo,
    /// Beats put by hand, or taken from those found.
    pub anchors: Vec<Anchor>,
    /// So many semitones higher.
    pub semitones: i8,
}

impl Marks {
    /// Where beats lie.
    ///
    /// # Errors
    /// When they can't lie so.
    pub fn map(&self) -> Result<BeatMap, MapError> {
        BeatMap::new(self.start_s, self.tempo, &self.anchors)
    }

    /// Bar 1 beat 1 at a time, or at the beat found near it. Anchors no longer mean anything, and go.
    ///
    /// # Errors
    /// When beats can't lie so.
    pub fn with_start(&self, at_s: f64, found: Option<&Proposal>) -> Result<Self, MapError> {
        let near = found.into_iter().flat_map(|found| &found.beats_s).map(|beat| (*beat, (beat - at_s).abs()));
        let nearest = near.min_by(|a, b| a.1.total_cmp(&b.1)).filter(|(_, off)| *off <= SNAP_S);
        Self { start_s: nearest.map_or(at_s, |(beat, _)| beat), anchors: Vec::new(), ..self.clone() }.checked()
    }

    /// Another tempo. Anchors go: they say how the old one drifts.
    ///
    /// # Errors
    /// When beats can't lie so.
    pub fn with_tempo(&self, tempo: Tempo) -> Result<Self, MapError> {
        Self { tempo, anchors: Vec::new(), ..self.clone() }.checked()
    }

    /// The beats that were found, as a few anchors; bar 1 goes to the one nearest it.
    ///
    /// # Errors
    /// When beats can't lie so.
    pub fn with_found(&self, found: &Proposal) -> Result<Self, MapError> {
        let off = |at: &f64| (at - self.start_s).abs();
        let nearest = (0..).zip(&found.beats_s).min_by(|(_, a), (_, b)| off(a).total_cmp(&off(b)));
        let Some((first, start_s)) = nearest else { return self.clone().checked() };
        let mut within_s = FOUND_WITHIN_S;
        let mut anchors = found.anchors(within_s);
        while anchors.len() > MANY_ANCHORS {
            within_s *= LOOSER;
            anchors = found.anchors(within_s);
        }
        let shifted = anchors.iter().map(|anchor| Anchor { beat: anchor.beat - first, ..*anchor });
        let anchors = shifted.filter(|anchor| anchor.beat != 0).collect();
        Self { start_s: *start_s, tempo: found.tempo, anchors, ..self.clone() }.checked()
    }

    /// The beat nearest a time, anchored there: bar 1 itself when it is beat 0.
    ///
    /// # Errors
    /// When beats can't lie so.
    pub fn with_anchor(&self, at_s: f64) -> Result<Self, MapError> {
        let beat = nearest_beat(&self.map()?, at_s);
        self.moved(beat, at_s)
    }

    /// The anchor nearest a time taken away, bar 1 left as it is.
    ///
    /// # Errors
    /// When beats can't lie so.
    pub fn without_anchor(&self, at_s: f64) -> Result<Self, MapError> {
        let mut marks = self.clone();
        let off = |anchor: &Anchor| (anchor.at_s - at_s).abs();
        let nearest = (0..self.anchors.len()).min_by(|a, b| off(&self.anchors[*a]).total_cmp(&off(&self.anchors[*b])));
        if let Some(nearest) = nearest {
            marks.anchors.remove(nearest);
        }
        marks.checked()
    }

    /// The beat nearest a time moved by so many seconds; it becomes an anchor, or bar 1 moves.
    ///
    /// # Errors
    /// When beats can't lie so.
    pub fn nudged(&self, at_s: f64, by_s: f64) -> Result<Self, MapError> {
        let map = self.map()?;
        let beat = nearest_beat(&map, at_s);
        self.moved(beat, map.at(f64::from(beat)) + by_s)
    }

    fn moved(&self, beat: i32, at_s: f64) -> Result<Self, MapError> {
        let mut marks = self.clone();
        if beat == 0 {
            marks.start_s = at_s;
        } else {
            marks.anchors.retain(|anchor| anchor.beat != beat);
            marks.anchors.push(Anchor { beat, at_s });
            marks.anchors.sort_by_key(|anchor| anchor.beat);
        }
        marks.checked()
    }

    fn checked(self) -> Result<Self, MapError> {
        self.map().map(|_| self)
    }
}

#[expect(clippy::cast_possible_truncation, reason = "beats of a recording")]
fn nearest_beat(map: &BeatMap, at_s: f64) -> i32 {
    map.beat_at(at_s).round() as i32
}

#[cfg(test)]
mod tests {
    use sixrung_lesson::Tempo;
    use sixrung_song::{Anchor, MapError, Proposal};

    use super::Marks;

    fn tempo(bpm: f64) -> Tempo {
        Tempo::from_bpm(bpm).expect("in range")
    }

    fn marks() -> Marks {
        Marks { start_s: 2.0, tempo: tempo(120.0), anchors: Vec::new(), semitones: 0 }
    }

    #[test]
    fn bar_1_goes_to_a_found_beat_nearby_and_nowhere_else() {
        let found = Proposal { tempo: tempo(121.0), beats_s: vec![2.49, 2.99, 3.49], strength: 3.0 };
        assert_eq!(marks().with_start(3.03, Some(&found)).map(|marks| marks.start_s), Ok(2.99));
        assert_eq!(marks().with_start(3.2, Some(&found)).map(|marks| marks.start_s), Ok(3.2));
        assert_eq!(marks().with_start(3.2, None).map(|marks| marks.start_s), Ok(3.2));
        assert!(matches!(marks().with_start(-1.0, None), Err(MapError::Time(_))));
    }

    #[test]
    fn anchors_are_put_moved_and_taken_away_by_the_beat_nearest() {
        let put = marks().with_anchor(4.06).expect("a little late");
        assert_eq!(put.anchors, [Anchor { beat: 4, at_s: 4.06 }]);
        let moved = put.nudged(4.1, 0.01).expect("later still");
        assert!((moved.anchors[0].at_s - 4.07).abs() < 1e-9);
        // Bar 1 itself moves, and no anchor is made of it.
        let bar_1 = moved.nudged(2.1, -0.02).expect("earlier");
        assert!((bar_1.start_s - 1.98).abs() < 1e-9 && bar_1.anchors.len() == 1);
        assert_eq!(bar_1.without_anchor(0.0).map(|marks| marks.anchors.len()), Ok(0));
        // A beat can't be moved past another: nothing changes.
        assert!(put.nudged(4.06, -3.0).is_err());
    }

    #[test]
    fn beats_that_shake_a_lot_become_no_more_anchors_than_can_be_looked_after() {
        let shaken = |beat: i32| 1.0 + 0.5 * f64::from(beat) + if beat % 2 == 0 { 0.03 } else { 0.0 };
        let found = Proposal { tempo: tempo(120.0), beats_s: (0..400).map(shaken).collect(), strength: 3.0 };
        let taken = marks().with_found(&found).expect("beats in order");
        assert!(taken.anchors.len() <= 40, "{}", taken.anchors.len());
    }

    #[test]
    fn found_beats_become_a_few_anchors_counted_from_bar_1() {
        let beats_s: Vec<f64> =
            (0..40).map(|beat| 1.0 + 0.5 * f64::from(beat) + 0.01 * f64::from((beat - 20).max(0))).collect();
        let found = Proposal { tempo: tempo(120.0), beats_s: beats_s.clone(), strength: 3.0 };
        let taken = marks().with_found(&found).expect("beats in order");
        assert!((taken.start_s - 2.0).abs() < 1e-9);
        assert!((2..8).contains(&taken.anchors.len()), "{:?}", taken.anchors);
        let map = taken.map().expect("checked");
        for (beat, at_s) in (-2..).zip(beats_s) {
            assert!((map.at(f64::from(beat)) - at_s).abs() < 0.0051, "beat {beat}");
        }
    }
}
