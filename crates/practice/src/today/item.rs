//! What a plan is made of, and why. Data only: the sentences are made by whoever shows it.

use sixrung_lesson::Tempo;

use crate::step::Step;

/// One item of a plan.
#[derive(Clone, Debug, PartialEq)]
pub struct Item {
    /// What is done.
    pub what: What,
    /// For so many minutes, at least 1.
    pub minutes: u16,
    /// Why it is there.
    pub why: Why,
}

/// What is done. Sections are the lesson's indices.
#[derive(Clone, Debug, PartialEq)]
pub enum What {
    /// Something known and easy, for the hands.
    WarmUp {
        /// With this section.
        section: usize,
        /// How.
        how: WarmUp,
    },
    /// A rung that waits to be held: one pass, clean at first try.
    Recheck {
        /// The section.
        section: usize,
        /// The rung.
        rung: Tempo,
    },
    /// The ladder of the section with most to gain.
    Climb {
        /// The section.
        section: usize,
    },
    /// The next step of the section with most to gain, before its ladder.
    Step {
        /// The section.
        section: usize,
        /// From [`Step::Shapes`] to [`Step::Slow`].
        step: Step,
    },
    /// A step of the whole song.
    Song(Step),
    /// The change drill.
    Change {
        /// The shape that is left.
        from: String,
        /// The shape that comes.
        into: String,
    },
    /// Another section.
    Rotate {
        /// The section.
        section: usize,
        /// Its next step, at most [`Step::Climb`].
        step: Step,
    },
    /// Once through at the original tempo, unjudged.
    RunAtTempo(Run),
    /// The section that was learned first, once more.
    ReplayFirst {
        /// The section.
        section: usize,
        /// The fastest rung that is known.
        rung: Tempo,
    },
    /// The guitar is put down.
    Break,
}

/// How the hands are warmed.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum WarmUp {
    /// One stroke per change.
    OneStroke,
    /// Slowly, at this rung.
    Slow(Tempo),
}

/// What is run through at the original tempo.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Run {
    /// The whole song.
    Whole,
    /// One section.
    Section(usize),
}

/// Why an item is there, with the numbers for one sentence.
#[derive(Clone, Debug, PartialEq)]
pub enum Why {
    /// The section is known and the rung an easy one: the hands come first.
    EasyAndKnown {
        /// Rungs of it that are known.
        known: usize,
        /// Of so many.
        of: usize,
    },
    /// The section was clean at this rung and waits to be held.
    WaitsToBeHeld {
        /// The rung.
        rung: Tempo,
        /// Practice days since it was last played; 0 is earlier today, 1 yesterday.
        days: i64,
    },
    /// Of what is begun, this section has most to gain for the song.
    MostToGain {
        /// The fastest rung that is known.
        known: Option<Tempo>,
        /// Where the ladder ends.
        original: Tempo,
        /// Rungs still to climb.
        rungs_left: usize,
        /// How many times the song plays the section.
        times: u16,
    },
    /// Nothing is begun: the section that makes up most of the song comes first.
    FirstOfAll {
        /// How many times the song plays it.
        times: u16,
    },
    /// The step comes after one that is done, or is planned before it.
    NextStep {
        /// The step before.
        after: Step,
    },
    /// All sections stand: the song is next.
    SectionsStand {
        /// How many.
        sections: usize,
    },
    /// The change is too slow for the section.
    ChangeTooSlow {
        /// The section it holds back.
        section: usize,
        /// Median in seconds.
        median_s: f64,
        /// Over so many changes.
        count: u32,
        /// The fastest tempo it fits.
        fits: Tempo,
        /// The tempo wanted: the rung that is climbed, or the original.
        needs: Tempo,
    },
    /// The hardest change of the section whose time is not known yet.
    ChangeNotMeasured {
        /// The section.
        section: usize,
        /// How often one pass has it.
        times: u16,
    },
    /// No section can be played now; a change can.
    SectionsRest,
    /// Another section keeps the hands from going round in a rut.
    Rotation {
        /// Practice days since it was last played, where it ever was.
        days: Option<i64>,
        /// Its rungs still to climb.
        rungs_left: usize,
    },
    /// A section is begun, since there is time for it.
    NewSection {
        /// How many times the song plays it.
        times: u16,
    },
    /// It stands, and is kept up.
    KeepUp {
        /// Practice days since it was last played.
        days: Option<i64>,
    },
    /// Again, after something else.
    Again {
        /// Minutes planned for it before.
        minutes: u16,
    },
    /// Now and then the goal is heard and felt as a whole.
    NowAndThen {
        /// Passes since the last such run, today's planned ones included.
        passes: u16,
    },
    /// It was learned first: it is not to be overlaid by what was learned after it.
    LearnedFirst,
    /// So many minutes of playing ask for a break.
    PlayedLong {
        /// Minutes played before it.
        minutes: u16,
    },
}
