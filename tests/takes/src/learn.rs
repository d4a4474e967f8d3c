//! "Let me hear your chords": slow strokes of each shape by the player whose takes follow.

use serde::Serialize;
use sixrung_lesson::{Action, Direction, Dynamic, Lesson};

use crate::dice::Dice;
use crate::error::Error;
use crate::part::{Asked, Chord, Part};
use crate::player::{Style, perform};
use crate::room::{Condition, record_beside};
use crate::synth::{Engine, Guitar, Onsets, Program, RATE, Synth};
use crate::take::{TAIL_S, frame, tuning_cents};

/// Slow down-strokes of each shape.
const SLOW: usize = 5;
/// Pairs of a down- and an up-stroke over all shapes together, at least.
const PAIRS: usize = 20;
const SLOW_APART_S: f64 = 1.5;
const PAIR_APART_S: f64 = 0.45;
/// Silence before the first stroke, and between the last of a shape and the next shape.
const LEAD_S: f64 = 1.0;

/// A player with a guitar in a room: the same seed plays, sounds and echoes the same way from take to take.
#[derive(Clone, Copy, Debug)]
pub struct Player {
    /// Habits and room are drawn from this.
    pub seed: u64,
    /// Which guitar.
    pub program: Program,
    /// What makes its notes.
    pub engine: Engine,
}

impl Player {
    /// The player's habits, playing for a level with this half window.
    #[must_use]
    pub fn style(&self, level_ms: f64) -> Style {
        Style::draw(level_ms, &mut Dice::branch(self.seed, "player"))
    }

    pub(crate) fn tuning(&self) -> Dice {
        Dice::branch(self.seed, "tuning")
    }

    pub(crate) fn walls(&self) -> Dice {
        Dice::branch(self.seed, "walls")
    }
}

/// What is true of a learning take; times in seconds from the first sample.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct LearnTruth {
    /// Always `learn`.
    pub kind: &'static str,
    /// The lesson's file, beside the take.
    pub lesson: String,
    /// The player's seed.
    pub player_seed: u64,
    /// Which guitar.
    pub program: &'static str,
    /// Where it was recorded: `quiet` or `room`.
    pub condition: &'static str,
    /// What made the notes.
    pub engine: &'static str,
    /// How far off each string was, in cents, the heaviest first.
    pub tuning_cents: Vec<f64>,
    /// Names of the shapes in the order they are played, which is the lesson's.
    pub shapes: Vec<String>,
    /// Every stroke, by time.
    pub strokes: Vec<LearnStroke>,
}

/// One stroke of a learning take.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct LearnStroke {
    /// The shape.
    pub chord: String,
    /// `down` or `up`.
    pub stroke: &'static str,
    /// One of the five slow ones.
    pub slow: bool,
    /// When it was due.
    pub expected_s: f64,
    /// When its first string was heard.
    pub played_s: f64,
}

/// Plays and records a learning take of all shapes of `lesson`: of each, five slow down-strokes, then down and up in
/// turn, twenty of each over all shapes. Nothing sounds beside the guitar.
///
/// # Errors
/// fluidsynth fails.
pub fn learn(
    lesson: &Lesson,
    file: &str,
    player: &Player,
    condition: Condition,
    synth: &Synth,
    onsets: &Onsets,
) -> Result<(Vec<f32>, LearnTruth), Error> {
    let part = part(lesson);
    let condition = if condition == Condition::Room { Condition::Room } else { Condition::Quiet };
    let style = Style { bias_ms: 0.0, ..player.style(0.0) };
    let mut dice = Dice::branch(player.seed, "learn");
    let mut done = perform(&part, 1, LEAD_S, style, &[], onsets, &mut dice);
    let ends_at_s = LEAD_S + part.pass_s + TAIL_S;
    done.tuning_cents = tuning_cents(part.open.len(), &mut player.tuning());
    let guitar = Guitar { engine: player.engine, program: player.program, strings: part.open.len() };
    let guitar = synth.sound(&done, guitar, onsets, frame(ends_at_s, RATE))?;
    let playing = frame(LEAD_S, RATE)..frame(ends_at_s - TAIL_S, RATE);
    let sound = record_beside(&guitar, &[], playing, condition, &mut player.walls(), &mut dice);
    let strokes = done.struck.iter().map(|struck| {
        let asked = &part.asked[struck.stroke];
        LearnStroke {
            chord: asked.chord.map_or_else(String::new, |chord| part.chords[chord].name.clone()),
            stroke: if asked.direction == Direction::Down { "down" } else { "up" },
            slow: asked.slot == 0,
            expected_s: LEAD_S + asked.at_s,
            played_s: onsets.first_heard_s(&struck.notes).unwrap_or_default(),
        }
    });
    let truth = LearnTruth {
        kind: "learn",
        lesson: file.to_owned(),
        player_seed: player.seed,
        program: player.program.name(),
        condition: condition.name(),
        engine: player.engine.name(),
        tuning_cents: done.tuning_cents.clone(),
        shapes: part.chords.iter().map(|chord| chord.name.clone()).collect(),
        strokes: strokes.collect(),
    };
    Ok((sound, truth))
}

/// Slow strokes stand in slot 0, the others in slot 1.
fn part(lesson: &Lesson) -> Part {
    let chord = |shape: &sixrung_lesson::Shape| {
        let pitches = shape.pitches(&lesson.tuning, lesson.capo);
        Chord { name: shape.name.clone(), keys: pitches.iter().map(|pitch| pitch.map(|pitch| pitch.0)).collect() }
    };
    let chords: Vec<Chord> = lesson.shapes.iter().map(chord).collect();
    let pairs = PAIRS.div_ceil(chords.len().max(1));
    let mut asked = Vec::new();
    let mut at_s = 0.0;
    for chord in 0..chords.len() {
        for index in 0..SLOW + 2 * pairs {
            let slow = index < SLOW;
            asked.push(Asked {
                at_s,
                bar: chord,
                slot: u32::from(!slow),
                slot_s: if slow { SLOW_APART_S } else { PAIR_APART_S },
                action: Action::Strum,
                direction: if slow || (index - SLOW).is_multiple_of(2) { Direction::Down } else { Direction::Up },
                dynamic: Dynamic::Plain,
                chord: Some(chord),
            });
            at_s += if slow { SLOW_APART_S } else { PAIR_APART_S };
        }
        at_s += SLOW_APART_S;
    }
    let open = lesson.tuning.open().iter().map(|pitch| pitch.up(lesson.capo).0).collect();
    Part { asked, stops_s: Vec::new(), pass_s: at_s, chords, open }
}
