//! Which steps of a stretch are done.

use rusqlite::params;
use sixrung_practice::{Done, Moment, Step, StepsDone};

use crate::codes;
use crate::error::JournalError;
use crate::open::Journal;
use crate::stretches::{self, StretchKey};

impl Journal {
    /// The steps done of a stretch. A lesson whose text has changed goes on from that of the same title.
    ///
    /// # Errors
    /// When the file cannot be read, or holds what it should not.
    pub fn steps(&self, key: &StretchKey) -> Result<StepsDone, JournalError> {
        let (kind, section, first, end) = stretches::columns(&key.stretch);
        let sql = "SELECT step, how, at FROM steps
                   JOIN stretches ON stretches.id = stretch JOIN lessons ON lessons.id = lesson
                   WHERE player = ?1 AND (hash = ?2 OR title = ?3)
                     AND kind = ?4 AND section = ?5 AND first_bar = ?6 AND end_bar = ?7 AND arrangement = ?8";
        let hash = key.lesson.hash.cast_signed();
        let values = params![self.player, hash, key.lesson.title, kind, section, first, end, key.arrangement];
        let mut query = self.db.prepare_cached(sql)?;
        let mut rows = query.query(values)?;
        let mut steps = StepsDone::default();
        while let Some(row) = rows.next()? {
            let step = codes::step(&row.get::<_, String>(0)?)?;
            steps.set(step, codes::done(&row.get::<_, String>(1)?)?, Moment(row.get(2)?));
        }
        Ok(steps)
    }

    /// Keeps that a step is done. What was heard stays heard, what was marked is not left out later.
    ///
    /// # Errors
    /// When the file cannot be written; what was kept before stays.
    pub fn set_step(&mut self, key: &StretchKey, step: Step, done: Done, at: Moment) -> Result<(), JournalError> {
        let player = self.player;
        let commit = self.db.transaction()?;
        let stretch = stretches::find_or_make(&commit, key)?;
        let sql = "INSERT INTO steps (player, stretch, step, how, at) VALUES (?1, ?2, ?3, ?4, ?5)
                   ON CONFLICT DO UPDATE SET how = excluded.how, at = excluded.at
                   WHERE steps.how = 'skipped' OR steps.how = 'player' AND excluded.how = 'heard'";
        let values = params![player, stretch, codes::step_word(step), codes::done_word(done), at.0];
        commit.prepare_cached(sql)?.execute(values)?;
        Ok(commit.commit()?)
    }
}
