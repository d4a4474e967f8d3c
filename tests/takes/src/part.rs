//! What is asked of the player: the expected strokes of one pass, in seconds and keys.

use sixrung_lesson::{Action, Direction, Dynamic, Lesson, Score, Shape, Stretch, Tempo, layout};
use sixrung_timeline::{Between, Clicks, ExpectedStroke, Plan, Request, compile};

use crate::error::Error;
use crate::strings::MAX_STRINGS;
use crate::synth::RATE;

/// One pass of a section.
#[derive(Clone, Debug, PartialEq)]
pub struct Part {
    /// The strokes asked for, by time.
    pub asked: Vec<Asked>,
    /// When the hand is to stop all strings, in seconds from the start of the pass.
    pub stops_s: Vec<f64>,
    /// Length of the pass, in seconds.
    pub pass_s: f64,
    /// The chords asked for.
    pub chords: Vec<Chord>,
    /// What the strings sound unfretted, capo included, the heaviest first, as MIDI keys.
    pub open: Vec<u8>,
}

/// One stroke asked for.
#[derive(Clone, Debug, PartialEq)]
pub struct Asked {
    /// When its first string is to sound, in seconds from the start of the pass.
    pub at_s: f64,
    /// Index of its bar.
    pub bar: usize,
    /// Slot within the bar.
    pub slot: u32,
    /// The shorter of the slots beside it, in seconds.
    pub slot_s: f64,
    /// What the hand does.
    pub action: Action,
    /// Which way.
    pub direction: Direction,
    /// How loud.
    pub dynamic: Dynamic,
    /// Index in [`Part::chords`].
    pub chord: Option<usize>,
}

/// What a chord sounds.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Chord {
    /// Its name.
    pub name: String,
    /// One entry a string, the heaviest first, as MIDI keys; `None` where muted.
    pub keys: Vec<Option<u8>>,
}

/// What is to be played.
#[derive(Clone, Debug)]
pub struct Piece<'a> {
    /// The lesson.
    pub lesson: &'a Lesson,
    /// Name of the section.
    pub section: &'a str,
    /// Name of the arrangement.
    pub arrangement: &'a str,
    /// The tempo.
    pub tempo: Tempo,
}

impl Piece<'_> {
    /// Lays it out.
    ///
    /// # Errors
    /// The lesson has no such section or arrangement.
    pub fn score(&self) -> Result<Score, Error> {
        let unknown = || Error::Lesson(format!("no arrangement named `{}`", self.arrangement));
        let arrangement = self.lesson.arrangement(self.arrangement).ok_or_else(unknown)?;
        layout(self.lesson, &Stretch::Section(self.section.to_owned()), arrangement)
            .map_err(|error| Error::Lesson(error.to_string()))
    }
}

impl Part {
    /// Lays out and compiles a section.
    ///
    /// # Errors
    /// The lesson has no such section or arrangement, nothing to strike in it, or more strings than a take can hold.
    pub fn of(piece: &Piece<'_>) -> Result<Self, Error> {
        let Piece { lesson, section, tempo, .. } = *piece;
        let score = piece.score()?;
        let request = Request {
            id: 0,
            rate: RATE,
            tempo,
            count_in_bars: 0,
            between: Between::Seamless,
            passes: None,
            clicks: Clicks::default(),
            backing: false,
        };
        let plan = compile(lesson, &score, &request).map_err(|error| Error::Lesson(error.to_string()))?;
        let strings = lesson.tuning.strings();
        if strings > MAX_STRINGS {
            return Err(Error::Lesson(format!("{strings} strings are more than a take can hold ({MAX_STRINGS})")));
        }
        let part = Self::from_plan(lesson, &score, &plan);
        if part.asked.is_empty() { Err(Error::Lesson(format!("nothing to strike in `{section}`"))) } else { Ok(part) }
    }

    fn from_plan(lesson: &Lesson, score: &Score, plan: &Plan) -> Self {
        let grid = plan.timeline.grid;
        let dynamic = |stroke: &ExpectedStroke| {
            let slot = score.slots.iter().find(|slot| slot.at == stroke.at);
            slot.map_or(Dynamic::Plain, |slot| slot.stroke.dynamic)
        };
        let asked = |stroke: &ExpectedStroke| Asked {
            at_s: grid.seconds(stroke.at),
            bar: stroke.bar,
            slot: stroke.slot,
            slot_s: grid.seconds(stroke.slot_length),
            action: stroke.action,
            direction: stroke.direction,
            dynamic: dynamic(stroke),
            chord: stroke.shape,
        };
        let chord = |shape: &Shape| {
            let pitches = shape.pitches(&lesson.tuning, score.capo);
            Chord { name: shape.name.clone(), keys: pitches.iter().map(|pitch| pitch.map(|pitch| pitch.0)).collect() }
        };
        let stops = score.slots.iter().filter(|slot| slot.stroke.action == Action::Stop).map(|slot| slot.at);
        let silences = score.changes.iter().filter(|change| change.shape.is_none()).map(|change| change.at);
        Self {
            asked: plan.expected.iter().map(asked).collect(),
            stops_s: stops.chain(silences).map(|at| grid.seconds(at)).collect(),
            pass_s: grid.seconds(score.length),
            chords: score.shapes.iter().map(chord).collect(),
            open: lesson.tuning.open().iter().map(|pitch| pitch.up(score.capo).0).collect(),
        }
    }

    /// From stroke `index` to the next one, or to the end of the pass, in seconds.
    #[must_use]
    pub fn gap_after_s(&self, index: usize) -> f64 {
        let next = self.asked.get(index + 1).map_or(self.pass_s, |next| next.at_s);
        next - self.asked[index].at_s
    }

    /// The strokes around `index` that are played on the same chord without a change between.
    #[must_use]
    pub fn span(&self, index: usize) -> std::ops::Range<usize> {
        let same = |other: &Asked| other.chord == self.asked[index].chord;
        let before = self.asked[..index].iter().rev().take_while(|other| same(other)).count();
        let after = self.asked[index..].iter().take_while(|other| same(other)).count();
        index - before..index + after
    }
}
