//! Where the trouble is: bar by bar, in how many of the last passes something went wrong there.

use std::collections::BTreeMap;

use rusqlite::params;
use sixrung_lesson::Stretch;
use sixrung_practice::{ChordFinding, Finding};

use crate::error::JournalError;
use crate::open::Journal;
use crate::stretches::{self, StretchKey};
use crate::strokes::{StrokeMark, Strokes};

/// So many passes of a section are looked at: enough that a tenth of them is two, few enough that what was mended a
/// week ago is forgotten. A design choice of ours.
pub const LAST_PASSES: u32 = 20;

/// One bar of a section in the last passes.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub struct BarTrouble {
    /// Its index in the section.
    pub bar: u32,
    /// Passes it was played in and heard.
    pub passes: u32,
    /// Of them those with a fault in it.
    pub with_fault: u32,
    /// Strokes asked for in all of them.
    pub strokes: u32,
    /// Of them early, late, missed or with another chord.
    pub faults: u32,
}

impl BarTrouble {
    /// In what share of its passes something went wrong, 0 to 1.
    #[must_use]
    pub fn share(&self) -> f64 {
        f64::from(self.with_fault) / f64::from(self.passes.max(1))
    }
}

impl Journal {
    /// The bars of a section in its last passes that were heard, in order. A loop of a few of its bars counts to them,
    /// from the oldest of those passes on; its pattern on one chord does not, since that has bars of its own.
    ///
    /// # Errors
    /// When the file cannot be read, or holds what it should not.
    pub fn bar_troubles(&self, key: &StretchKey, last: u32) -> Result<Vec<BarTrouble>, JournalError> {
        let found = stretches::with_loops(&self.db, key)?;
        let mut whole = Vec::new();
        for stretch in found.iter().filter(|stretch| !stretch.is_loop) {
            whole.extend(self.newest_marks(stretch.id, i64::MIN, last)?);
        }
        whole.sort_by_key(|(ended, _)| std::cmp::Reverse(*ended));
        whole.truncate(last as usize);
        let oldest = whole.last().map_or(i64::MIN, |(ended, _)| *ended);
        let mut bars = BTreeMap::<u32, BarTrouble>::new();
        let first_bar = if let Stretch::Bars { first, .. } = key.stretch { first } else { 0 };
        whole.iter().for_each(|(_, marks)| add_pass(&mut bars, first_bar, marks));
        for stretch in found.iter().filter(|stretch| stretch.is_loop) {
            let passes = self.newest_marks(stretch.id, oldest, last)?;
            passes.iter().for_each(|(_, marks)| add_pass(&mut bars, stretch.first_bar, marks));
        }
        Ok(bars.into_values().collect())
    }

    /// The strokes of the newest passes that were judged by ear, newest first, and when they ended.
    fn newest_marks(&self, stretch: i64, since: i64, last: u32) -> Result<Vec<(i64, Vec<StrokeMark>)>, JournalError> {
        let sql = "SELECT ended, marks FROM passes CROSS JOIN strokes ON strokes.pass = passes.id
                   WHERE player = ?1 AND stretch = ?2 AND deleted IS NULL AND ended >= ?3 AND verdict <> 'not_judged'
                     AND step <> 'one_chord' AND length(marks) > 0
                   ORDER BY ended DESC LIMIT ?4";
        let mut query = self.db.prepare_cached(sql)?;
        let mut rows = query.query(params![self.player, stretch, since, last])?;
        let mut found = Vec::new();
        while let Some(row) = rows.next()? {
            let marks = row.get_ref(1)?.as_blob().map_err(|_| JournalError::damaged("strokes are no bytes"))?;
            found.push((row.get(0)?, Strokes::from_bytes(marks, &[])?.marks));
        }
        Ok(found)
    }
}

fn add_pass(bars: &mut BTreeMap<u32, BarTrouble>, first_bar: u32, marks: &[StrokeMark]) {
    for strokes in marks.chunk_by(|one, next| one.bar == next.bar) {
        let bar = first_bar + u32::from(strokes[0].bar);
        let sum = bars.entry(bar).or_insert(BarTrouble { bar, ..BarTrouble::default() });
        let faults = strokes.iter().filter(|mark| is_fault(mark)).count();
        sum.passes += 1;
        sum.with_fault += u32::from(faults > 0);
        sum.strokes += u32::try_from(strokes.len()).unwrap_or(u32::MAX);
        sum.faults += u32::try_from(faults).unwrap_or(u32::MAX);
    }
}

/// What the criterion of a clean pass counts: a stroke out of time or missed, or another chord than asked for.
fn is_fault(mark: &StrokeMark) -> bool {
    mark.finding != Finding::InTime || mark.chord == ChordFinding::Wrong
}
