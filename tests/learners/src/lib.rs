//! Learners by the numbers: who practise, get better, tire and forget; and policies of practice held against each other
//! on them.
//!
//! **A model with made-up parameters.** Its form follows common findings (errors fall by a power law of practice, part
//! of a day's gain is gone in the morning, untrained players lead the beat), its numbers are design choices of ours,
//! and no result of it says anything about people. It shows what a policy does with passes that are sometimes clean and
//! sometimes not, under the ladder's own rules.
//!
//! Phases: [`Traits`] (one learner's parameters, drawn) → [`Learner`] (their state) → [`Learner::pass`] (what was
//! played of a [`sixrung_listen::PassPlan`]) → [`judged`] (by the ear's own judge) → [`month`] (through the real climb)
//! → [`Figures`].
//!
//! ```
//! use sixrung_learners::{Chance, Learner, Part, Traits, judged};
//! use sixrung_lesson::Criterion;
//!
//! let (mut learner, mut chance) = (Learner::new(Traits::draw(&mut Chance::new(7, 0))), Chance::new(7, 1));
//! let part = Part::default();
//! let slow = part.original.bpm() * 0.6;
//! let tempo = sixrung_lesson::Tempo::from_bpm(slow.round()).expect("in range");
//! let plan = part.plan(tempo);
//! let played = learner.pass("Verse", tempo, &plan, &mut chance);
//! let verdict = judged(&plan, &played, &Criterion::default());
//! assert_eq!(verdict.strokes.len(), played.len());
//! learner.rest(10.0);
//! learner.sleep(8.0);
//! ```

mod chance;
mod clean;
mod contenders;
mod experience;
mod figures;
mod learner;
mod month;
mod part;
mod played;
mod traits;

pub use chance::Chance;
pub use contenders::{Contender, contenders, ours};
pub use figures::{Figures, Interval, table};
pub use learner::Learner;
pub use month::{DAYS, Month, Reached, SURELY_CLEAN, month, months};
pub use part::Part;
pub use played::{Played, heard, judged};
pub use traits::Traits;
