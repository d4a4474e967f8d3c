//! A change drill: two chords to and fro at the player's own pace, some changes botched first.

use serde::Serialize;
use sixrung_lesson::{Action, Direction, Dynamic, Lesson};

use crate::confusions::confusions;
use crate::dice::Dice;
use crate::error::Error;
use crate::learn::Player;
use crate::part::{Asked, Chord, Part};
use crate::player::{Damp, Style, perform};
use crate::room::{Condition, record_beside};
use crate::synth::{Guitar, Onsets, RATE, Synth};
use crate::take::{TAIL_S, frame, tuning_cents};

/// How long a change takes, botched attempts included, in seconds: choices of ours, as all below.
const CHANGE_S: (f64, f64) = (0.5, 2.5);
/// A botched attempt comes after this share of a change.
const ATTEMPT_SHARE: (f64, f64) = (0.35, 0.65);
/// And such a change takes at least so long, in seconds.
const BOTCHED_CHANGE_S: f64 = 2.0;
/// Strokes of one chord follow each other in so many seconds: a habit of the player, more or less.
const APART_S: (f64, f64) = (0.4, 1.0);
/// Most strokes of one chord in a row, and how many of those after the first go up.
const MOST_STROKES: usize = 4;
const UP_SHARE: f64 = 0.15;
/// When the fingers leave the old chord: after this share of a change.
const LIFT_SHARE: (f64, f64) = (0.25, 0.9);
/// Half of the botched attempts are dead: at most so many strings ring.
const DEAD_SHARE: f64 = 0.5;
const MOST_RINGING: usize = 2;
/// Half of the wrong ones are a common confusion of the new chord, the others another shape of the lesson.
const CONFUSED_SHARE: f64 = 0.5;
/// Silence before the first stroke, in seconds.
const LEAD_S: f64 = 1.0;

/// What is to be played.
#[derive(Clone, Copy, Debug)]
pub struct Drill<'a> {
    /// The lesson that has the shapes.
    pub lesson: &'a Lesson,
    /// Its file, beside the take.
    pub file: &'a str,
    /// The two shapes, as indices in the lesson.
    pub shapes: [usize; 2],
    /// How many changes, and how many of them are botched first.
    pub changes: usize,
    /// See `changes`.
    pub botched: usize,
    /// Who plays.
    pub player: Player,
    /// Where: quiet or in a room.
    pub condition: Condition,
    /// What is drawn is drawn from this.
    pub seed: u64,
}

/// What is true of a drill take; times in seconds from the first sample.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct DrillTruth {
    /// Always `drill`.
    pub kind: &'static str,
    /// The lesson's file, beside the take.
    pub lesson: String,
    /// The take's own seed, and the player's.
    pub seed: u64,
    /// See `seed`.
    pub player_seed: u64,
    /// Which guitar.
    pub program: &'static str,
    /// What made the notes.
    pub engine: &'static str,
    /// Where it was recorded: `quiet` or `room`.
    pub condition: &'static str,
    /// How far off each string was, in cents, the heaviest first.
    pub tuning_cents: Vec<f64>,
    /// The two shapes.
    pub shapes: [String; 2],
    /// Every stroke, by time.
    pub strokes: Vec<DrillStroke>,
    /// Every change, by time.
    pub changes: Vec<DrillChange>,
}

/// A stroke of a drill.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct DrillStroke {
    /// When its first string was heard.
    pub played_s: f64,
    /// The chord held.
    pub chord: String,
    /// `clean`, `wrong` or `dead`.
    pub deed: &'static str,
}

/// A change of a drill.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct DrillChange {
    /// The chord left.
    pub from: String,
    /// The chord reached.
    pub to: String,
    /// When the last stroke of the one was heard.
    pub last_s: f64,
    /// From there to the first clean stroke of the other.
    pub took_s: f64,
    /// Attempts between them that failed.
    pub botched: usize,
}

/// A stroke before it is played.
struct Planned {
    asked: Asked,
    deed: &'static str,
}

/// Plays and records a drill.
///
/// # Errors
/// fluidsynth fails.
pub fn drill(drill: &Drill<'_>, synth: &Synth, onsets: &Onsets) -> Result<(Vec<f32>, DrillTruth), Error> {
    let Drill { lesson, player, .. } = *drill;
    let mut dice = Dice::branch(drill.seed, "drill");
    let (part, deeds) = plan(drill, &mut dice);
    let style = Style { bias_ms: 0.0, ..player.style(0.0) };
    let mut done = perform(&part, 1, LEAD_S, style, &[], onsets, &mut dice);
    let strings = part.open.len();
    for (struck, deed) in done.struck.iter_mut().zip(&deeds) {
        if *deed == "dead" {
            let mut ringing: Vec<usize> = (0..dice.below(MOST_RINGING + 1)).map(|_| dice.below(strings)).collect();
            ringing.dedup();
            struck.notes.iter_mut().for_each(|note| note.dead = !ringing.contains(&note.string));
        }
    }
    for (index, pair) in part.asked.windows(2).enumerate() {
        if pair[0].bar != pair[1].bar && deeds[index] == "clean" {
            let at_s = LEAD_S + pair[0].at_s + dice.between(LIFT_SHARE.0, LIFT_SHARE.1) * (pair[1].at_s - pair[0].at_s);
            let keys = |chord: Option<usize>, string: usize| chord.and_then(|chord| part.chords[chord].keys[string]);
            let moves = (0..strings).filter(|string| keys(pair[0].chord, *string) != keys(pair[1].chord, *string));
            done.damps.extend(moves.map(|string| Damp { string, at_s }));
        }
    }
    done.tuning_cents = tuning_cents(strings, &mut player.tuning());
    let ends_at_s = LEAD_S + part.pass_s + TAIL_S;
    let guitar = Guitar { engine: player.engine, program: player.program, strings };
    let guitar = synth.sound(&done, guitar, onsets, frame(ends_at_s, RATE))?;
    let playing = frame(LEAD_S, RATE)..frame(ends_at_s - TAIL_S, RATE);
    let condition = if drill.condition == Condition::Room { Condition::Room } else { Condition::Quiet };
    let sound = record_beside(&guitar, &[], playing, condition, &mut player.walls(), &mut dice);
    let strokes = done.struck.iter().zip(&deeds).map(|(struck, deed)| DrillStroke {
        played_s: onsets.first_heard_s(&struck.notes).unwrap_or_default(),
        chord: part.asked[struck.stroke].chord.map_or_else(String::new, |chord| part.chords[chord].name.clone()),
        deed,
    });
    let strokes: Vec<DrillStroke> = strokes.collect();
    let truth = DrillTruth {
        kind: "drill",
        lesson: drill.file.to_owned(),
        seed: drill.seed,
        player_seed: player.seed,
        program: player.program.name(),
        engine: player.engine.name(),
        condition: condition.name(),
        tuning_cents: done.tuning_cents.clone(),
        shapes: drill.shapes.map(|shape| lesson.shapes[shape].name.clone()),
        changes: changes(&strokes),
        strokes,
    };
    Ok((sound, truth))
}

fn changes(strokes: &[DrillStroke]) -> Vec<DrillChange> {
    let mut changes = Vec::new();
    let mut held: Option<&DrillStroke> = None;
    let mut botched = 0;
    for stroke in strokes {
        if stroke.deed != "clean" {
            botched += 1;
            continue;
        }
        if let Some(before) = held.filter(|before| before.chord != stroke.chord) {
            let (from, to) = (before.chord.clone(), stroke.chord.clone());
            let took_s = stroke.played_s - before.played_s;
            changes.push(DrillChange { from, to, last_s: before.played_s, took_s, botched });
        }
        (held, botched) = (Some(stroke), 0);
    }
    changes
}

/// Which two shapes of a lesson are drilled, drawn: half of the time such as are easily taken for one another.
#[must_use]
pub fn draw_pair(lesson: &Lesson, dice: &mut Dice) -> [usize; 2] {
    let part = empty_part(lesson);
    let close = |pair: &[usize; 2]| {
        let names = pair.map(|shape| lesson.shapes[shape].name.as_str());
        let taken_for = |one: &str, other: &str| confusions(&part, one).iter().any(|chord| chord.name == other);
        taken_for(names[0], names[1]) || taken_for(names[1], names[0])
    };
    let count = lesson.shapes.len();
    let all: Vec<[usize; 2]> = (0..count).flat_map(|one| (0..count).map(move |other| [one, other])).collect();
    let wanted = dice.chance(0.5);
    let pairs: Vec<[usize; 2]> = all.into_iter().filter(|pair| pair[0] != pair[1] && close(pair) == wanted).collect();
    dice.pick(&pairs).copied().unwrap_or([0, 1.min(count.saturating_sub(1))])
}

fn empty_part(lesson: &Lesson) -> Part {
    let chord = |shape: &sixrung_lesson::Shape| {
        let pitches = shape.pitches(&lesson.tuning, lesson.capo);
        Chord { name: shape.name.clone(), keys: pitches.iter().map(|pitch| pitch.map(|pitch| pitch.0)).collect() }
    };
    let open = lesson.tuning.open().iter().map(|pitch| pitch.up(lesson.capo).0).collect();
    let chords = lesson.shapes.iter().map(chord).collect();
    Part { asked: Vec::new(), stops_s: Vec::new(), pass_s: 0.0, chords, open }
}

/// The strokes and what becomes of each. A bar is one hold of a chord: an attempt has one of its own.
fn plan(drill: &Drill<'_>, dice: &mut Dice) -> (Part, Vec<&'static str>) {
    let mut part = empty_part(drill.lesson);
    let mut order: Vec<usize> = (1..=drill.changes).collect();
    (1..order.len()).rev().for_each(|index| order.swap(index, dice.below(index + 1)));
    let botched = &order[..drill.botched.min(order.len())];
    let usual_s = dice.between(APART_S.0, APART_S.1);
    let mut planned: Vec<Planned> = Vec::new();
    let (mut at_s, mut bar) = (0.0, 0);
    for hold in 0..=drill.changes {
        let chord = drill.shapes[hold % 2];
        if hold > 0 {
            let mut change_s = dice.between(CHANGE_S.0, CHANGE_S.1);
            if botched.contains(&hold) {
                change_s = change_s.max(BOTCHED_CHANGE_S);
                let share = dice.between(ATTEMPT_SHARE.0, ATTEMPT_SHARE.1);
                let dead = dice.chance(DEAD_SHARE);
                let held = if dead { chord } else { wrong(drill, &mut part, chord, dice) };
                let deed = if dead { "dead" } else { "wrong" };
                planned.push(stroke(at_s + share * change_s, bar, held, Direction::Down, deed));
                bar += 1;
            }
            at_s += change_s;
        }
        let strokes = 1 + dice.below(MOST_STROKES);
        for index in 0..strokes {
            if index > 0 {
                at_s += usual_s * dice.between(0.85, 1.15);
            }
            let up = index > 0 && dice.chance(UP_SHARE);
            planned.push(stroke(at_s, bar, chord, if up { Direction::Up } else { Direction::Down }, "clean"));
        }
        bar += 1;
    }
    part.pass_s = at_s;
    let deeds = planned.iter().map(|planned| planned.deed).collect();
    part.asked = planned.into_iter().map(|planned| planned.asked).collect();
    (part, deeds)
}

/// Another chord than the two of the drill, as an index in the part's.
fn wrong(drill: &Drill<'_>, part: &mut Part, chord: usize, dice: &mut Dice) -> usize {
    let keys = drill.shapes.map(|shape| part.chords[shape].keys.clone());
    let is_other = |chord: &Chord| !keys.contains(&chord.keys) && !chord.name.is_empty();
    let of_lesson: Vec<usize> = (0..drill.lesson.shapes.len()).filter(|index| is_other(&part.chords[*index])).collect();
    let confused: Vec<Chord> =
        confusions(part, &part.chords[chord].name).into_iter().filter(|chord| is_other(chord)).collect();
    let from_table = dice.chance(CONFUSED_SHARE) || of_lesson.is_empty();
    match dice.pick(&confused).filter(|_| from_table) {
        Some(other) => {
            part.chords.push(other.clone());
            part.chords.len() - 1
        }
        None => dice.pick(&of_lesson).copied().unwrap_or(chord),
    }
}

fn stroke(at_s: f64, bar: usize, chord: usize, direction: Direction, deed: &'static str) -> Planned {
    let asked = Asked {
        at_s,
        bar,
        slot: 0,
        slot_s: APART_S.0,
        action: Action::Strum,
        direction,
        dynamic: Dynamic::Plain,
        chord: Some(chord),
    };
    Planned { asked, deed }
}
