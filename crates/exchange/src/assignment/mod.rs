//! Assignments: what a teacher asks of a learner with one lesson, which it carries whole.
//!
//! Data: [`Task`] (what is asked) + the lesson's text → checked [`Assignment`] → text, and back. What follows the
//! lesson's own rules (stand, ladder, today's plan) follows the assignment where it is given [`Assignment::lesson`] and
//! [`Assignment::policy`].
//!
//! ```
//! use sixrung_exchange::assignment::{Assignment, Task};
//!
//! let lesson = br#"Lesson(version: 1, title: "One chord", tempo: 90, meter: "4/4",
//!     shapes: [(name: "Em", frets: "022000")],
//!     patterns: [(name: "slow", grid: "quarters", strokes: "D D D D")],
//!     sections: [(name: "All", entries: [(chord: "Em", pattern: "slow", times: 4)])])"#;
//! let task = Task { days: Some(5), minutes: Some(15), ..Task::default() };
//! let assignment = Assignment::new(lesson, task).expect("nothing is wrong with it");
//! let text = assignment.to_text();
//! assert_eq!(Assignment::read(text.as_bytes()), Ok(assignment));
//! ```

mod check;
mod policy;
mod read;
mod task;
mod write;

pub use check::Wrong;
pub use task::Task;

use sixrung_lesson::{Diagnostic, LadderRules, Lesson, Tempo, content_hash, read as read_lesson};
use sixrung_practice::{Ladder, Policy};

use crate::paper::Kind;

/// How the names of these files end.
pub const ENDING: &str = ".assignment.ron";

/// The form these files have.
static FORM: Kind = Kind {
    name: "Assignment",
    called: "an assignment",
    version: 1,
    // A lesson of the greatest size, and room for what is asked.
    most_bytes: (1 << 20) + (64 << 10),
    made_by: "sixrung assign",
};

/// What a teacher asks for, with the lesson; all of it fits together.
#[derive(Clone, Debug, PartialEq)]
pub struct Assignment {
    text: String,
    hash: u64,
    lesson: Lesson,
    task: Task,
}

/// Why no assignment could be made.
#[derive(Clone, Debug, PartialEq)]
pub enum NotMade {
    /// The lesson can't be played: what is wrong with it.
    Lesson(Vec<Diagnostic>),
    /// What is asked does not fit the lesson.
    Task(Wrong),
}

impl Assignment {
    /// What is asked, with the bytes of the lesson's text.
    ///
    /// # Errors
    /// Everything that is wrong with the lesson, or the first thing asked that does not fit it.
    pub fn new(lesson: &[u8], task: Task) -> Result<Self, NotMade> {
        let read = read_lesson(lesson).map_err(NotMade::Lesson)?;
        let text = std::str::from_utf8(lesson).expect("what was read is text").to_owned();
        let task = check::checked(task, &read.lesson).map_err(NotMade::Task)?;
        Ok(Self { text, hash: read.hash, lesson: read.lesson, task })
    }

    /// The same lesson, with something else asked: its text is not read again.
    ///
    /// # Errors
    /// The first thing asked that does not fit the lesson.
    pub fn asking(&self, task: Task) -> Result<Self, Wrong> {
        let task = check::checked(task, &self.lesson)?;
        Ok(Self { task, ..self.clone() })
    }

    /// What is asked, every name and number checked against the lesson.
    #[must_use]
    pub const fn task(&self) -> &Task {
        &self.task
    }

    /// The lesson's text, byte for byte as the teacher had it.
    #[must_use]
    pub fn lesson_text(&self) -> &str {
        &self.text
    }

    /// The fingerprint of the lesson's text, by which the journal knows it.
    #[must_use]
    pub const fn lesson_hash(&self) -> u64 {
        self.hash
    }

    /// The fingerprint of all that is asked and the lesson. Comments in the file don't change it.
    #[must_use]
    pub fn id(&self) -> u64 {
        content_hash(write::plainly(self).as_bytes())
    }

    /// The lesson as its text has it.
    #[must_use]
    pub const fn original(&self) -> &Lesson {
        &self.lesson
    }

    /// The lesson as it is to be practised: its ladder from the start to the goal, climbed by the assignment's policy,
    /// its criterion the assignment's, its first arrangement the one asked for. Sections stay: none is hidden from who
    /// wants to play it.
    #[must_use]
    pub fn lesson(&self) -> Lesson {
        let mut lesson = self.lesson.clone();
        lesson.ladder = self.ladder_rules();
        lesson.criterion = self.task.criterion(&self.lesson);
        // The first is the one a lesson opens with.
        if let Some(at) = lesson.arrangements.iter().position(|arrangement| arrangement.name == self.arrangement()) {
            lesson.arrangements[..=at].rotate_right(1);
        }
        lesson
    }

    /// The rules of the climb.
    #[must_use]
    pub fn policy(&self) -> Policy {
        self.task.policy.unwrap_or_else(|| Policy::of(&self.lesson.ladder))
    }

    /// The ladder, from the start to the goal.
    #[must_use]
    pub fn ladder(&self) -> Ladder {
        Ladder::new(&self.ladder_rules(), self.lesson.tempo)
    }

    /// The tempo it begins with.
    #[must_use]
    pub fn start(&self) -> Tempo {
        self.ladder().first()
    }

    /// The tempo it ends with: the original one where no other is asked for.
    #[must_use]
    pub fn goal(&self) -> Tempo {
        self.task.goal.unwrap_or(self.lesson.tempo)
    }

    /// The arrangement's name: the lesson's first where no other is asked for.
    #[must_use]
    pub fn arrangement(&self) -> &str {
        let first = self.lesson.arrangements.first().map_or("", |arrangement| arrangement.name.as_str());
        self.task.arrangement.as_deref().unwrap_or(first)
    }

    /// Whether a section is asked for: all are where none is named.
    #[must_use]
    pub fn asks_for(&self, section: &str) -> bool {
        self.task.sections.is_empty() || self.task.sections.iter().any(|asked| asked == section)
    }

    fn ladder_rules(&self) -> LadderRules {
        let policy = self.policy();
        let goal = self.task.goal.filter(|goal| *goal < self.lesson.tempo);
        let own = &self.lesson.ladder;
        let rules = LadderRules { goal, up_after: policy.up_after, down_after: policy.down_after, ..own.clone() };
        let Some(start) = self.task.start else { return rules };
        // Reckoned anew from this start, unless the teacher named the rungs; above it, as far as a rung must be.
        let reckoned = LadderRules { start: start.bpm() / self.lesson.tempo.bpm(), ..rules.clone() };
        let rungs = Ladder::new(&reckoned, self.lesson.tempo);
        let above = |rung: &Tempo| {
            if own.named.is_empty() { rung.bpm() >= start.bpm() * Ladder::AUDIBLE_RATIO } else { *rung > start }
        };
        let named = std::iter::once(start).chain(rungs.rungs().iter().copied().filter(above)).collect();
        LadderRules { named, ..rules }
    }
}
