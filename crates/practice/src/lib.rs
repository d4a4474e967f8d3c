//! The ladder, the climb and what to work on next: what a patient teacher decides after each pass.
//!
//! A [`Ladder`] is built from the lesson's rules; a [`Climb`] keeps where a player stands on it, takes each pass as an
//! [`Input`] with the moment it ended, and answers with [`Effect`]s; [`advice`] picks the one thing to work on next; a
//! [`Sitting`] counts the minutes played and says when a break is due; [`Care`] asks with it whether anything hurts.
//! [`today::plan`] makes a plan for the next minutes from all that is known, and a [`today::TodayRun`] leads through it.
//! Pure: the clock comes in as an argument.
//!
//! ```
//! use sixrung_lesson::{LadderRules, Tempo};
//! use sixrung_practice::{Climb, Effect, Input, Ladder, Marked, Moment, Pass, Policy, UtcOffset, Verdict};
//!
//! let rules = LadderRules::default();
//! let ladder = Ladder::new(&rules, Tempo::from_bpm(126.0).expect("a tempo in range"));
//! let mut climb = Climb::new(ladder, Policy::of(&rules), UtcOffset::default());
//! let mut effects = Vec::new();
//! for pass in 0..3 {
//!     let input = Input::Pass(Pass { tempo: climb.at(), verdict: Verdict::Clean, marked: Marked::Heard });
//!     effects = climb.update(input, Moment(30 * pass));
//! }
//! assert!(matches!(effects.last(), Some(Effect::Climbed { .. })));
//! assert_eq!(climb.at().bpm(), 84.0);
//! ```

mod advice;
mod care;
mod change_times;
mod climb;
mod date;
mod felt;
pub mod hands;
mod held_back;
mod ladder;
mod moment;
mod policy;
mod sitting;
mod step;
pub mod today;

pub use advice::{Advice, ChangeTrouble, Trouble, advice, worst_bars};
pub use care::{Asked, Care, CareEvent, CareInput, PainFlag, Permission};
pub use change_times::{ChangeTimes, beats_between};
pub use climb::{
    Climb, ClimbState, Effect, Held, Input, Marked, Mode, Move, Pass, Proposal, RestReason, RungRecord, Tally, TopOfDay,
};
pub use date::{Date, NoDate};
pub use felt::Felt;
pub use held_back::{HeldBack, held_back};
pub use ladder::{Ladder, share_of};
pub use moment::{Day, Moment, UtcOffset};
pub use policy::{BreakRules, Feedback, HearFirst, Offers, OutOfRange, Policy, SessionEnd, Start};
pub use sitting::{BreakDue, Sitting};
pub use step::{Done, Step, StepsDone};

// The verdict is what comes in here and what the journal keeps: who keeps passes need not know the listener.
pub use sixrung_listen::{ChordFinding, Finding, PassVerdict, Processing, Reason, StrokeFinding, Verdict};
