//! Words of the path: the steps, what each asks for, what counts as done.

use sixrung_practice::{Done, Step};

/// A step's name.
#[must_use]
pub const fn name(step: Step) -> &'static str {
    match step {
        Step::Shapes => "Shapes",
        Step::Changes => "Changes",
        Step::OneStroke => "One stroke",
        Step::OneChord => "Pattern",
        Step::Slow => "Slow",
        Step::Climb => "Climb",
        Step::PlayAlong => "Play along",
        Step::Sing => "Sing",
    }
}

/// What a step asks for, in one line.
#[must_use]
pub const fn task(step: Step) -> &'static str {
    match step {
        Step::Shapes => "Put the fingers down one by one, then let each string ring.",
        Step::Changes => "Back and forth between two chords, until it is steady.",
        Step::OneStroke => "One strum down at each new chord. Let it ring, and sing if you like.",
        Step::OneChord => "Only the strumming, on one chord. One clean time is enough.",
        Step::Slow => "Strumming and changes together, slowly. One clean time is enough.",
        Step::Climb => "Play it clean a few times, and the tempo goes up a rung.",
        Step::PlayAlong => "The whole song at its tempo. Go on whatever happens.",
        Step::Sing => "The whole song, and sing it. Let the hand run by itself.",
    }
}

/// That a step is done.
#[must_use]
pub const fn done(step: Step) -> &'static str {
    match step {
        Step::Shapes => "Every string rings.",
        Step::Changes => "The change is steady.",
        Step::OneStroke => "Every chord came in time.",
        Step::OneChord => "You have the strokes.",
        Step::Slow => "You have the strokes and the changes, slowly.",
        Step::Climb => "You can play this part at its own tempo.",
        Step::PlayAlong => "You played the whole song.",
        Step::Sing => "You played and sang the whole song.",
    }
}

/// The button that goes on to a step.
#[must_use]
pub fn go_on(step: Step) -> String {
    format!("Next step: {}", name(step))
}

/// How a step came to be done, in a word.
#[must_use]
pub const fn how(done: Done) -> &'static str {
    match done {
        Done::Heard => "done",
        Done::SelfMarked => "marked as done",
        Done::Skipped => "left out",
    }
}

/// A step as a control.
#[must_use]
pub fn control(step: Step, done: Option<Done>) -> String {
    match done {
        Some(done) => format!("{}, {}", name(step), how(done)),
        None => name(step).to_owned(),
    }
}

/// Where on the path one is: `Step 3 of 8: one stroke`.
#[must_use]
pub fn place(step: Step, of: usize) -> String {
    let number = Step::ALL.iter().position(|other| *other == step).map_or(1, |place| place + 1);
    format!("Step {number} of {of}: {}", name(step).to_lowercase())
}

/// Under the ladder, at a step that is not the climb: whether the rung is the usual one.
#[must_use]
pub const fn tempo(step: Step, is_original: bool) -> &'static str {
    match (step.is_whole(), is_original) {
        (true, true) => "the song’s tempo; − for slower",
        (true, false) => "slower than the song; + for faster",
        (false, true) => "the song’s tempo",
        (false, false) => "slow is fine; + faster, − slower",
    }
}

/// Heading of the page of steps.
pub const TITLE: &str = "Steps";
/// Under it.
pub const LEAD: &str = "From not knowing a shape to singing the song. Take them in order, or go where you like.";
/// Marks the step on the stand.
pub const MARK: &str = "I can do this: next step";
/// Leaves it out.
pub const LEAVE_OUT: &str = "Skip this step";

/// Above what can be done with the step on the stand.
#[must_use]
pub fn current(step: Step) -> String {
    format!("the step on the stand: {}", name(step).to_lowercase())
}

/// Why a change is offered to be drilled.
#[must_use]
pub fn holds_back(broken: usize, of: usize, passes: usize) -> String {
    format!("In your last {passes} passes this change broke {broken} times of {of}: it holds the section back.")
}

/// The button that goes to its drill.
#[must_use]
pub fn drill(from: &str, into: &str) -> String {
    format!("Practise {from} – {into} alone")
}
