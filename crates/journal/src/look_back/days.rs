//! Practice day by day: how fast it went, how close to the beat it was, how long it was played.

use std::collections::BTreeMap;

use rusqlite::params;
use sixrung_lesson::Tempo;
use sixrung_practice::{Day, Marked, Moment, UtcOffset};

use super::{begins, median};
use crate::codes;
use crate::error::JournalError;
use crate::open::Journal;
use crate::stretches::{self, StretchKey};

/// What was played of one stretch on one practice day.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct PracticeDay {
    /// The day.
    pub day: Day,
    /// Passes played.
    pub passes: u32,
    /// Of them clean.
    pub clean: u32,
    /// Of them not judged.
    pub not_judged: u32,
    /// How long they took together, in milliseconds.
    pub played_ms: u64,
    /// The fastest tempo with a clean pass: what was reached. Here and below only what was judged counts, and not what
    /// was played on one chord or with one stroke a change: that is not the stretch as it is written.
    pub reached: Option<Tempo>,
    /// The fastest tempo judged.
    pub fastest: Option<Tempo>,
    /// Median of the passes' median offsets in milliseconds, early is negative; `None` where none was heard.
    pub offset_ms: Option<f64>,
    /// Median of the passes' spreads in milliseconds.
    pub spread_ms: Option<f64>,
}

/// A rung that is held, and since when.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct HeldRung {
    /// The rung.
    pub tempo: Tempo,
    /// When it was first held.
    pub at: Moment,
    /// Who says so.
    pub marked: Marked,
}

/// How long was played on one practice day.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct PlayingDay {
    /// The day.
    pub day: Day,
    /// How long all its passes took together, in milliseconds.
    pub played_ms: u64,
}

/// One day as it is summed up.
#[derive(Default)]
struct Sum {
    passes: u32,
    clean: u32,
    not_judged: u32,
    played_ms: u64,
    reached: u32,
    fastest: u32,
    offsets_ms: Vec<f64>,
    spreads_ms: Vec<f64>,
}

impl Journal {
    /// What was played of a stretch day by day from `since` on, days in order, those without a pass left out. Loops of
    /// a few bars within a section count to the minutes and passes of no other stretch than themselves.
    ///
    /// # Errors
    /// When the file cannot be read, or holds what it should not.
    pub fn practice_days(
        &self,
        key: &StretchKey,
        since: Option<Day>,
        zone: UtcOffset,
    ) -> Result<Vec<PracticeDay>, JournalError> {
        // In the order of the index and with nothing but what lies in it: the passes themselves are not read.
        let sql = "SELECT ended, verdict, tempo, duration_ms, median_offset_ms, spread_ms, step
                   FROM passes
                   WHERE player = ?1 AND stretch = ?2 AND deleted IS NULL AND ended >= ?3";
        let mut query = self.db.prepare_cached(sql)?;
        let mut days = BTreeMap::<Day, Sum>::new();
        for stretch in stretches::same(&self.db, key)? {
            let mut rows = query.query(params![self.player, stretch, begins(since, zone)])?;
            // They come by time: a day's rows lie together, and its sum is looked up once.
            let (mut day, mut sum) = (Day(i64::MIN), Sum::default());
            while let Some(row) = rows.next()? {
                let now = Moment(row.get(0)?).day(zone);
                if now != day {
                    keep(&mut days, day, std::mem::take(&mut sum));
                    (day, sum) = (now, days.remove(&now).unwrap_or_default());
                }
                sum.passes += 1;
                sum.played_ms += u64::from(row.get::<_, u32>(3)?);
                let is_clean = match row.get_ref(1)?.as_bytes().unwrap_or_default() {
                    b"clean" => true,
                    b"not_clean" => false,
                    _ => {
                        sum.not_judged += 1;
                        continue;
                    }
                };
                sum.clean += u32::from(is_clean);
                if matches!(row.get_ref(6)?.as_bytes().unwrap_or_default(), b"one_stroke" | b"one_chord") {
                    continue;
                }
                let tempo = row.get(2)?;
                sum.fastest = sum.fastest.max(tempo);
                if is_clean {
                    sum.reached = sum.reached.max(tempo);
                }
                sum.offsets_ms.extend(row.get::<_, Option<f64>>(4)?);
                sum.spreads_ms.extend(row.get::<_, Option<f64>>(5)?);
            }
            keep(&mut days, day, sum);
        }
        days.into_iter().map(|(day, sum)| sum.into_day(day)).collect()
    }

    /// The rungs held of a stretch, in the order in which they came to be.
    ///
    /// # Errors
    /// When the file cannot be read, or holds what it should not.
    pub fn held_rungs(&self, key: &StretchKey) -> Result<Vec<HeldRung>, JournalError> {
        let sql = "SELECT tempo, held_at, held_marked FROM rungs
                   WHERE player = ?1 AND stretch = ?2 AND held_at IS NOT NULL";
        let mut query = self.db.prepare_cached(sql)?;
        let mut held = BTreeMap::<Tempo, HeldRung>::new();
        for stretch in stretches::same(&self.db, key)? {
            let mut rows = query.query([self.player, stretch])?;
            while let Some(row) = rows.next()? {
                let tempo = codes::tempo(row.get(0)?)?;
                let rung =
                    HeldRung { tempo, at: Moment(row.get(1)?), marked: codes::marked(&row.get::<_, String>(2)?)? };
                let first = held.entry(tempo).or_insert(rung);
                if rung.at < first.at {
                    *first = rung;
                }
            }
        }
        let mut held: Vec<_> = held.into_values().collect();
        held.sort_by_key(|rung| (rung.at, rung.tempo));
        Ok(held)
    }

    /// How long was played each day from `since` on, whatever it was: days in order, those without a pass left out.
    ///
    /// # Errors
    /// When the file cannot be read.
    pub fn playing_days(&self, since: Option<Day>, zone: UtcOffset) -> Result<Vec<PlayingDay>, JournalError> {
        let sql = "SELECT ended, duration_ms FROM passes
                   WHERE player = ?1 AND deleted IS NULL AND ended >= ?2 ORDER BY ended";
        let mut query = self.db.prepare_cached(sql)?;
        let mut rows = query.query(params![self.player, begins(since, zone)])?;
        let mut days = Vec::<PlayingDay>::new();
        while let Some(row) = rows.next()? {
            let (day, ms) = (Moment(row.get(0)?).day(zone), u64::from(row.get::<_, u32>(1)?));
            match days.last_mut().filter(|last| last.day == day) {
                Some(last) => last.played_ms += ms,
                None => days.push(PlayingDay { day, played_ms: ms }),
            }
        }
        Ok(days)
    }
}

fn keep(days: &mut BTreeMap<Day, Sum>, day: Day, sum: Sum) {
    if sum.passes > 0 {
        days.insert(day, sum);
    }
}

impl Sum {
    fn into_day(mut self, day: Day) -> Result<PracticeDay, JournalError> {
        let tempo = |milli: u32| (milli > 0).then(|| codes::tempo(milli)).transpose();
        Ok(PracticeDay {
            day,
            passes: self.passes,
            clean: self.clean,
            not_judged: self.not_judged,
            played_ms: self.played_ms,
            reached: tempo(self.reached)?,
            fastest: tempo(self.fastest)?,
            offset_ms: median(&mut self.offsets_ms),
            spread_ms: median(&mut self.spreads_ms),
        })
    }
}
