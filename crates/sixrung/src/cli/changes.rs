//! `sixrung changes`: hears a change drill in a recording, as the page of the drill does.

use std::io::Write;

use serde::Serialize;
use sixrung_devices::decode;
use sixrung_lesson::{Lesson, Stretch, layout};
use sixrung_listen::{ChangeEvent, DrillChord, HeardChord, PlannedShape, hear_changes};
use sixrung_practice::{ChangeTimes, beats_between};

use super::args::Changes;
use super::fault::Fault;
use super::judge::learned;
use super::unprinted;
use super::what::open;

/// What `changes --json` prints. The names are fixed: other programs read them.
#[derive(Debug, Serialize)]
struct ChangesJson {
    from: String,
    to: String,
    count: usize,
    botched: u32,
    median_s: Option<f64>,
    spread_s: Option<f64>,
    steady: bool,
    /// Beats the lesson leaves for it where it is tightest; one where it never asks for it.
    beats: f64,
    fits_bpm: Option<f64>,
    changes: Vec<ChangeJson>,
    strokes: Vec<StrokeJson>,
}

#[derive(Debug, Serialize)]
struct ChangeJson {
    from: String,
    to: String,
    took_s: f64,
    botched: u32,
}

#[derive(Debug, Serialize)]
struct StrokeJson {
    at_s: f64,
    /// A chord's name, `unsure` or `neither`.
    chord: String,
}

/// Exit code 0 when the recording was heard, whatever was in it.
pub(super) fn changes(args: &Changes, out: &mut dyn Write) -> Result<u8, Fault> {
    let lesson = open(&args.lesson)?;
    let indices = [shape(&lesson, &args.from)?, shape(&lesson, &args.to)?];
    if indices[0] == indices[1] {
        return Err(Fault::usage("a change needs two chords").hint("give another shape with --to"));
    }
    let shapes = PlannedShape::of(&lesson.shapes, &lesson.tuning, lesson.capo);
    let learned = args.learned.as_ref().map(|file| learned(file, &shapes)).transpose()?;
    let recording = decode(&args.take).map_err(|error| Fault::error(error.message()).hint(error.hint()))?;
    let pair = indices.map(|index| shapes[index].clone());
    let heard = hear_changes(&recording.mono, recording.rate, pair, learned).ok_or_else(|| {
        Fault::error(format!("{}: {} frames a second can't be heard", args.take.display(), recording.rate))
            .hint("give a recording at 8000 to 192000 frames a second")
    })?;
    let json = found(&lesson, indices, &heard);
    let printed = if args.json {
        serde_json::to_writer(&mut *out, &json).map_err(std::io::Error::from).and_then(|()| writeln!(out))
    } else {
        writeln!(out, "{}", line(&json))
    };
    printed.map_err(|error| unprinted(&error))?;
    Ok(0)
}

fn shape(lesson: &Lesson, name: &str) -> Result<usize, Fault> {
    lesson.shapes.iter().position(|shape| shape.name == name).ok_or_else(|| {
        let names: Vec<_> = lesson.shapes.iter().map(|shape| shape.name.as_str()).collect();
        Fault::usage(format!("no shape is called {name:?}")).hint(format!("it has: {}", names.join(", ")))
    })
}

fn found(lesson: &Lesson, indices: [usize; 2], heard: &[ChangeEvent]) -> ChangesJson {
    let name = |chord: DrillChord| lesson.shapes[indices[chord.index()]].name.clone();
    let (mut times, mut strokes, mut changes) = (ChangeTimes::default(), Vec::new(), Vec::new());
    for event in heard {
        match *event {
            ChangeEvent::Stroke { at_s, chord } => {
                let chord = match chord {
                    HeardChord::First => name(DrillChord::First),
                    HeardChord::Second => name(DrillChord::Second),
                    HeardChord::Unsure => "unsure".to_owned(),
                    HeardChord::Neither => "neither".to_owned(),
                };
                strokes.push(StrokeJson { at_s, chord });
            }
            ChangeEvent::Changed { from, to, took_s, botched } => {
                times.add(took_s);
                changes.push(ChangeJson { from: name(from), to: name(to), took_s, botched });
            }
        }
    }
    let beats = beats(lesson, indices);
    ChangesJson {
        from: name(DrillChord::First),
        to: name(DrillChord::Second),
        count: times.count(),
        botched: changes.iter().map(|change| change.botched).sum(),
        median_s: times.median(),
        spread_s: times.spread(),
        steady: times.is_steady(),
        beats,
        fits_bpm: times.fits(beats).map(sixrung_lesson::Tempo::bpm),
        changes,
        strokes,
    }
}

/// The fewest beats that the whole lesson leaves for the change, to or fro; one where it never asks for it.
fn beats(lesson: &Lesson, [one, other]: [usize; 2]) -> f64 {
    let arrangement = lesson.arrangements.first().cloned().unwrap_or_default();
    let Ok(score) = layout(lesson, &Stretch::Whole, &arrangement) else { return 1.0 };
    // The score holds the shapes it uses, in an order of its own.
    let at = |index: usize| score.shapes.iter().position(|shape| shape.name == lesson.shapes[index].name);
    let (Some(one), Some(other)) = (at(one), at(other)) else { return 1.0 };
    let both = [(one, other), (other, one)].map(|(from, to)| beats_between(&score, lesson.beat, from, to));
    both.into_iter().flatten().reduce(f64::min).unwrap_or(1.0)
}

fn line(found: &ChangesJson) -> String {
    let ChangesJson { from, to, count, botched, beats, .. } = found;
    let (Some(median_s), Some(spread_s)) = (found.median_s, found.spread_s) else {
        return format!("{from} – {to}: no change was heard, {} strokes", found.strokes.len());
    };
    let room = if (beats - 1.0).abs() < 1e-9 { "one beat".to_owned() } else { format!("{beats:.2} beats") };
    let fits = match found.fits_bpm {
        Some(bpm) => format!("fits up to {bpm:.0} with {room} for it"),
        None => format!("fits no tempo yet with {room} for it"),
    };
    let steady = if found.steady { ", steady" } else { "" };
    format!("{from} – {to}: {count} changes, {botched} botched; {median_s:.2} s ± {spread_s:.2} s{steady}; {fits}")
}
