//! `sixrung judge`: judges a recording exactly as the stand would.

use std::io::Write;
use std::path::Path;
use std::sync::Arc;

use sixrung_devices::decode;
use sixrung_lesson::Criterion;
use sixrung_listen::{
    Finding, Learned, PassPlan, PassVerdict, PlannedShape, TakeOptions, TakeVerdict, Verdict, judge_take,
};
use sixrung_timeline::{Between, Clicks, Request, compile};

use super::args::Judge;
use super::fault::Fault;
use super::judge_json::{cure, exit_code, take_json};
use super::unprinted;
use super::what::{Chosen, choose};
use crate::learned_text;
use crate::say;

/// Expected times are in seconds, so any rate will do; a high one keeps their rounding out of sight.
const GRID_RATE: u32 = 192_000;

/// Exit code 0 clean, 10 not clean, 11 not judged.
pub(super) fn judge(args: &Judge, out: &mut dyn Write) -> Result<u8, Fault> {
    let chosen = choose(&args.what)?;
    let criterion = criterion(args, &chosen);
    if args.starts_at.is_some_and(|at| !at.is_finite()) || !args.latency_ms.is_finite() {
        return Err(Fault::usage("a time must be a number of seconds, a latency one of milliseconds"));
    }
    let plans = plans(&chosen, args.what.passes)?;
    let recording = decode(&args.take).map_err(|error| Fault::error(error.message()).hint(error.hint()))?;
    let (starts_at_s, latency_ms) = (args.starts_at, args.latency_ms);
    let played = args.played.as_ref().map(|played| reference(played, recording.rate)).transpose()?;
    let learned =
        args.learned.as_ref().map(|file| learned(file, &PlannedShape::all(&chosen.score, &chosen.lesson.tuning)));
    let learned = learned.transpose()?;
    let options = TakeOptions { criterion, starts_at_s, latency_ms, played, learned };
    let judged = judge_take(&recording.mono, recording.rate, &plans, &options).ok_or_else(|| {
        Fault::error(format!("{}: {} frames a second can't be judged", args.take.display(), recording.rate))
            .hint("give a recording at 8000 to 192000 frames a second")
    })?;
    let verdict = overall(&judged);
    print(args, &chosen, &judged, verdict, out).map_err(|error| unprinted(&error))?;
    Ok(exit_code(verdict))
}

/// What was played beside the take.
fn reference(path: &Path, rate: u32) -> Result<Arc<[f32]>, Fault> {
    let played = decode(path).map_err(|error| Fault::error(error.message()).hint(error.hint()))?;
    if played.rate != rate {
        let text = format!("{}: {} frames a second, and the take has {rate}", path.display(), played.rate);
        return Err(Fault::error(text).hint(format!("write it again with `sixrung render --rate {rate}`")));
    }
    Ok(played.mono.into())
}

/// What was learned of these shapes.
pub(super) fn learned(path: &Path, shapes: &[PlannedShape]) -> Result<Arc<Learned>, Fault> {
    let name = path.display();
    let text = std::fs::read_to_string(path)
        .map_err(|error| Fault::error(format!("{name}: {error}")).hint("give a file that `sixrung learn` wrote"))?;
    let learned = learned_text::read(&text)
        .map_err(|why| Fault::error(format!("{name}: {why}")).hint("write it again with `sixrung learn`"))?;
    if !shapes.iter().any(|shape| learned.shape(shape).is_some()) {
        let text = format!("{name}: it holds none of the shapes played here");
        return Err(Fault::error(text).hint("learn from a recording of this lesson's own shapes, with its capo"));
    }
    Ok(Arc::new(learned))
}

fn criterion(args: &Judge, chosen: &Chosen) -> Criterion {
    let criterion = chosen.lesson.criterion;
    Criterion { level: args.level.map_or(criterion.level, Into::into), ..criterion }
}

fn plans(chosen: &Chosen, passes: u32) -> Result<Vec<PassPlan>, Fault> {
    let request = Request {
        id: 0,
        rate: GRID_RATE,
        tempo: chosen.tempo,
        count_in_bars: 0,
        between: Between::Seamless,
        passes: Some(passes),
        clicks: Clicks::default(),
        backing: false,
    };
    let plan = compile(&chosen.lesson, &chosen.score, &request).map_err(|error| Fault::usage(error.to_string()))?;
    let first = PassPlan::new(&plan.expected, plan.timeline.grid, plan.timeline.pass)
        .with_shapes(PlannedShape::all(&chosen.score, &chosen.lesson.tuning));
    Ok((0..passes).map(|pass| first.starting_at(f64::from(pass) * first.length_s)).collect())
}

/// The whole take: not judged if any pass is not, clean if all are.
fn overall(judged: &TakeVerdict) -> Verdict {
    if let Some(reason) = judged.reason {
        return Verdict::NotJudged(reason);
    }
    let not_judged = judged.passes.iter().find(|pass| matches!(pass.verdict, Verdict::NotJudged(_)));
    let not_clean = judged.passes.iter().find(|pass| pass.verdict == Verdict::NotClean);
    not_judged.or(not_clean).map_or(Verdict::Clean, |pass| pass.verdict)
}

fn print(
    args: &Judge,
    chosen: &Chosen,
    judged: &TakeVerdict,
    verdict: Verdict,
    out: &mut dyn Write,
) -> std::io::Result<()> {
    if args.json {
        serde_json::to_writer(&mut *out, &take_json(verdict, judged.starts_at_s, &judged.passes, &chosen.score))?;
        return writeln!(out);
    }
    match verdict {
        Verdict::Clean => writeln!(out, "clean")?,
        Verdict::NotClean => writeln!(out, "not clean")?,
        Verdict::NotJudged(reason) => {
            writeln!(out, "not judged: {}", say::reason(reason))?;
            writeln!(out, "hint: {}", cure(reason))?;
        }
    }
    for (index, pass) in judged.passes.iter().enumerate() {
        writeln!(out, "pass {}: {}", index + 1, summary(pass))?;
    }
    Ok(())
}

fn summary(pass: &PassVerdict) -> String {
    let count = |finding| pass.count(finding);
    let mut text = format!(
        "{} of {} strokes in time, {} early, {} late, {} missed, {} extra",
        count(Finding::InTime),
        pass.strokes.len(),
        count(Finding::Early),
        count(Finding::Late),
        count(Finding::Missed),
        pass.extras_s.len()
    );
    if let (Some(median), Some(spread)) = (pass.median_offset_ms, pass.spread_ms) {
        text += &format!("; {median:+.1} ms on the whole, give or take {spread:.1}");
    }
    text
}
