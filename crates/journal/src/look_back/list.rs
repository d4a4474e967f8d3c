//! The passes one by one, newest first, a page at a time.

use rusqlite::{OptionalExtension as _, params};
use sixrung_practice::Moment;

use crate::error::JournalError;
use crate::open::Journal;
use crate::passes::{COLUMNS, JOINED, PassId, PlayedPass, pass_from};
use crate::stretches;
use crate::strokes::Strokes;

/// Where a page of passes goes on: before the pass that ended then.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub struct PassPlace {
    /// When it ended.
    pub ended: Moment,
    /// Which it is: of those that ended in the same second, the ones kept before it.
    pub id: PassId,
}

impl PassPlace {
    /// Before all others comes the newest pass.
    pub const NEWEST: Self = Self { ended: Moment(i64::MAX), id: PassId(i64::MAX) };
}

/// A pass with all that was heard of it, enough to draw it again.
#[derive(Clone, Debug, PartialEq)]
pub struct KeptPass {
    /// The pass.
    pub pass: PlayedPass,
    /// Its strokes.
    pub strokes: Strokes,
}

impl Journal {
    /// At most `limit` passes of a lesson, by its title, or of everything, newest first, from `place` on. The next page
    /// begins at the last of them.
    ///
    /// # Errors
    /// When the file cannot be read, or holds what it should not.
    pub fn passes_before(
        &self,
        title: Option<&str>,
        place: PassPlace,
        limit: u32,
    ) -> Result<Vec<(PassId, PlayedPass)>, JournalError> {
        // Of each stretch as many as may be asked for, then the newest of all: what it costs grows with the page, not
        // with the passes kept.
        let mut places = Vec::new();
        match title {
            None => places.extend(self.places_before(None, place, limit)?),
            Some(title) => {
                for stretch in stretches::of_lesson(&self.db, title)? {
                    places.extend(self.places_before(Some(stretch), place, limit)?);
                }
            }
        }
        places.sort_unstable_by(|one, other| other.cmp(one));
        places.truncate(limit as usize);
        let pass = |place: PassPlace| Ok(self.pass(place.id)?.map(|pass| (place.id, pass)));
        places.into_iter().filter_map(|place| pass(place).transpose()).collect()
    }

    fn places_before(
        &self,
        stretch: Option<i64>,
        place: PassPlace,
        limit: u32,
    ) -> Result<Vec<PassPlace>, JournalError> {
        let of_stretch = if stretch.is_some() { "stretch = ?4" } else { "?4 IS NULL" };
        let sql = format!(
            "SELECT ended, id FROM passes
             WHERE player = ?1 AND deleted IS NULL AND ended <= ?2 AND (ended < ?2 OR id < ?3) AND {of_stretch}
             ORDER BY ended DESC, id DESC LIMIT ?5"
        );
        let mut query = self.db.prepare_cached(&sql)?;
        let rows = query.query_map(params![self.player, place.ended.0, place.id.0, stretch, limit], |row| {
            Ok(PassPlace { ended: Moment(row.get(0)?), id: PassId(row.get(1)?) })
        })?;
        Ok(rows.collect::<Result<_, _>>()?)
    }

    fn pass(&self, id: PassId) -> Result<Option<PlayedPass>, JournalError> {
        let sql = format!("SELECT {COLUMNS} FROM {JOINED} WHERE passes.id = ?1 AND player = ?2 AND deleted IS NULL");
        let mut query = self.db.prepare_cached(&sql)?;
        let found = query.query_row(params![id.0, self.player], |row| Ok(pass_from(row))).optional()?;
        Ok(found.transpose()?.map(|(_, pass)| pass))
    }

    /// One pass with its strokes; `None` when it is not there, or deleted.
    ///
    /// # Errors
    /// When the file cannot be read, or holds what it should not.
    pub fn kept_pass(&self, id: PassId) -> Result<Option<KeptPass>, JournalError> {
        let Some(pass) = self.pass(id)? else { return Ok(None) };
        let strokes = self.strokes(id)?.unwrap_or_default();
        Ok(Some(KeptPass { pass, strokes }))
    }
}
