//! Assignments in the room: the lesson inside goes onto the stand, and its rules hold.

use std::sync::Arc;

use sixrung_exchange::assignment::Assignment;
use sixrung_practice::Moment;

use super::Studio;
use crate::library::Source;
use crate::session::{Input, Opened};
use crate::stand::Note;
use crate::text::report as text;

impl Studio {
    /// Puts an assignment's lesson on the stand, and says what is asked. What is wrong with it is told instead.
    pub(super) fn open_assignment(&mut self, source: Source, bytes: &[u8], now: Moment) {
        let assignment = match Assignment::read(bytes) {
            Ok(assignment) => Arc::new(assignment),
            Err(refusal) => {
                let told = refusal.told();
                let name = source.to_argument();
                return self.problem(format!("{name}:{}", told.lines().next().unwrap_or_default()), refusal.hint, now);
            }
        };
        // Which assignment a lesson was last practised for: its report is made from that file.
        let key = format!("assignment.{:016x}", assignment.lesson_hash());
        self.keeper.set(&key, &source.to_argument());
        let (lesson, hash) = (Arc::new(assignment.lesson()), assignment.lesson_hash());
        self.handing.answer();
        let note = Note { text: text::asked_here(&assignment), hint: text::hint(&assignment) };
        self.put(Opened { source, lesson, hash, assigned: Some(assignment) }, now);
        self.take(Input::Note(note), now);
    }
}
