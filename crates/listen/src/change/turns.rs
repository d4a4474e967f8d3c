//! Strokes and what they sounded to changes: how long each took, and how many attempts before it failed.

use super::event::{ChangeEvent, DrillChord, HeardChord};

/// Who takes longer than this from one chord to the other has stopped, not changed, in seconds: a design choice of ours.
const LONGEST_CHANGE_S: f64 = 10.0;

/// A stroke and what it sounded.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) struct Heard {
    pub(super) at_s: f64,
    pub(super) chord: HeardChord,
    /// Of a stroke that is not sure, which of the two it far rather was.
    pub(super) leans: Option<DrillChord>,
}

/// Follows a player to and fro between two chords.
#[derive(Debug, Default)]
pub(super) struct Turns {
    /// The chord held for sure, and when it was last struck, in seconds.
    held: Option<(DrillChord, f64)>,
    /// Strokes since then that sounded none of the two for sure.
    between: Vec<Heard>,
}

impl Turns {
    /// Part of the sound was lost: what was begun is not counted.
    pub(super) fn forget(&mut self) {
        self.held = None;
        self.between.clear();
    }

    /// Takes the next stroke; gives the change it completes.
    pub(super) fn take(&mut self, heard: Heard) -> Option<ChangeEvent> {
        let Some(chord) = heard.chord.drilled() else {
            if self.held.is_some() {
                self.between.push(heard);
            }
            return None;
        };
        let before = self.held.replace((chord, heard.at_s));
        let changed = before.filter(|(from, _)| *from != chord).and_then(|before| self.change(before, heard, chord));
        self.between.clear();
        changed
    }

    /// The change from the chord held to the one just struck. `None` where its beginning or its end can't be told.
    fn change(&self, (from, last_s): (DrillChord, f64), first: Heard, to: DrillChord) -> Option<ChangeEvent> {
        let (mut last_s, mut first_s, mut botched) = (last_s, first.at_s, 0);
        for heard in &self.between {
            match heard.chord {
                HeardChord::Neither => botched += 1,
                // The new chord, not heard for sure but borne out by the stroke that follows.
                _ if heard.leans == Some(to) => {
                    first_s = heard.at_s;
                    break;
                }
                // Still the old one: what failed before it was no attempt at the new one.
                _ if heard.leans == Some(from) => (last_s, botched) = (heard.at_s, 0),
                _ => return None,
            }
        }
        let took_s = first_s - last_s;
        (took_s <= LONGEST_CHANGE_S).then_some(ChangeEvent::Changed { from, to, took_s, botched })
    }
}

#[cfg(test)]
mod tests {
    use super::{ChangeEvent, DrillChord, Heard, HeardChord, Turns};

    /// Strokes a second apart: `1` and `2` are the chords, `x` is neither, `?` unsure, `a` and `b` unsure but far rather
    /// the first or the second. Expected: from, seconds, botched.
    fn check(strokes: &str, expected: &[(DrillChord, f64, u32)]) {
        let mut turns = Turns::default();
        let mut found = Vec::new();
        for (index, mark) in (0_u32..).zip(strokes.chars()) {
            let (chord, leans) = match mark {
                '1' => (HeardChord::First, None),
                '2' => (HeardChord::Second, None),
                'x' => (HeardChord::Neither, None),
                'a' => (HeardChord::Unsure, Some(DrillChord::First)),
                'b' => (HeardChord::Unsure, Some(DrillChord::Second)),
                _ => (HeardChord::Unsure, None),
            };
            let changed = turns.take(Heard { at_s: f64::from(index), chord, leans });
            if let Some(ChangeEvent::Changed { from, to, took_s, botched }) = changed {
                assert_ne!(from, to, "{strokes}");
                found.push((from, took_s, botched));
            }
        }
        assert_eq!(found, expected, "{strokes}");
    }

    const FIRST: DrillChord = DrillChord::First;
    const SECOND: DrillChord = DrillChord::Second;

    #[test]
    fn a_change_runs_from_the_last_old_stroke_to_the_first_new_one() {
        check("12", &[(FIRST, 1.0, 0)]);
        check("111221", &[(FIRST, 1.0, 0), (SECOND, 1.0, 0)]);
        check("1111", &[]);
    }

    #[test]
    fn a_failed_attempt_is_counted_and_does_not_end_the_change() {
        check("11x2", &[(FIRST, 2.0, 1)]);
        check("1xx2x1", &[(FIRST, 3.0, 2), (SECOND, 2.0, 1)]);
        // Back on the old chord: it begins anew.
        check("1x12", &[(FIRST, 1.0, 0)]);
        // Before the first chord nothing was to be changed.
        check("x1x1", &[]);
    }

    #[test]
    fn an_unsure_stroke_counts_only_as_what_the_next_ones_bear_out() {
        check("1b2", &[(FIRST, 1.0, 0)]);
        check("1a2", &[(FIRST, 1.0, 0)]);
        check("1xb2", &[(FIRST, 2.0, 1)]);
        check("1?2", &[]);
        check("1b1", &[]);
        check("1?21", &[(SECOND, 1.0, 0)]);
        check("1?x2", &[]);
    }

    #[test]
    fn who_stops_for_long_has_not_changed() {
        check("1xxxxxxxxxx2", &[]);
        check("1xxxxxxxxx2", &[(FIRST, 10.0, 9)]);
    }
}
