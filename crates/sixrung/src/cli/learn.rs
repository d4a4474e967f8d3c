//! `sixrung learn`: from a recording of a lesson's shapes, how this player on this guitar sounds.

use std::io::Write;

use serde::Serialize;
use sixrung_devices::decode;
use sixrung_listen::{LearnError, LearnPlan, PlannedShape, learn_take};

use super::args::Learn;
use super::fault::Fault;
use super::unprinted;
use super::what::open;
use crate::learned_text;

#[derive(Serialize)]
struct LearnedJson {
    out: String,
    shapes: Vec<String>,
    direction: bool,
}

/// Exit code 0 when the file was written.
pub(super) fn learn(args: &Learn, out: &mut dyn Write) -> Result<u8, Fault> {
    let lesson = open(&args.lesson)?;
    let plan = LearnPlan::new(PlannedShape::of(&lesson.shapes, &lesson.tuning, lesson.capo));
    if plan.tasks.is_empty() {
        return Err(
            Fault::error(format!("{}: it has no shapes to learn", args.lesson)).hint("give a lesson with chords")
        );
    }
    let take = args.take.display();
    let recording = decode(&args.take).map_err(|error| Fault::error(error.message()).hint(error.hint()))?;
    let learned = learn_take(&recording.mono, recording.rate, &plan).ok_or_else(|| {
        Fault::error(format!("{take}: {} frames a second can't be heard", recording.rate))
            .hint("give a recording at 8000 to 192000 frames a second")
    })?;
    let learned = learned.map_err(|error| Fault::error(format!("{take}: {error}")).hint(cure(&error, &plan)))?;
    let text = learned_text::write(&learned, &format!("From {take}, of \"{}\".", lesson.title));
    crate::files::write_whole(&args.out, |file| file.write_all(text.as_bytes()))
        .map_err(|error| Fault::error(format!("{}: {error}", args.out.display())))?;
    let shapes: Vec<String> = learned.shapes.iter().map(|shape| shape.name.clone()).collect();
    let direction = learned.direction.is_some();
    let path = args.out.display().to_string();
    let printed = if args.json {
        let json = LearnedJson { out: path, shapes, direction };
        serde_json::to_writer(&mut *out, &json).map_err(std::io::Error::from).and_then(|()| writeln!(out))
    } else {
        let strokes = if direction { "down- and up-strokes" } else { "down- and up-strokes can't be told apart" };
        writeln!(out, "{path}: learned {}; {strokes}", shapes.join(", "))
    };
    printed.map_err(|error| unprinted(&error))?;
    Ok(0)
}

/// What to play instead.
fn cure(error: &LearnError, plan: &LearnPlan) -> String {
    match error {
        LearnError::TooFew { .. } | LearnError::TooMany { .. } => {
            let names: Vec<&str> = plan.shapes.iter().map(|shape| shape.name.as_str()).collect();
            let strokes = plan.strokes() as usize / plan.shapes.len().max(1);
            format!(
                "play each of {} with five slow down-strokes, then {} strokes down and up in turn, and nothing else",
                names.join(", "),
                strokes.saturating_sub(5)
            )
        }
        LearnError::NotAlike { shape } => {
            format!(
                "hold `{shape}` firmly through its five slow strokes; an extra stroke before it has the same effect"
            )
        }
        LearnError::TooFast { .. } => "leave a second between the slow strokes".to_owned(),
    }
}
