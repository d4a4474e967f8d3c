//! The verdict as JSON. The names are fixed: other programs read them.

use serde::Serialize;
use sixrung_lesson::{Action, Direction, Score};
use sixrung_listen::{ChordFinding, Finding, PassVerdict, Reason, StringFault, StringFinding, StrokeFinding, Verdict};

use crate::say;

/// The whole of what `judge --json` prints.
#[derive(Debug, Serialize)]
pub(super) struct TakeJson {
    verdict: &'static str,
    reason: Option<String>,
    starts_at_s: Option<f64>,
    passes: Vec<PassJson>,
    strokes: Vec<StrokeJson>,
    extras: Vec<ExtraJson>,
}

#[derive(Debug, Serialize)]
struct PassJson {
    index: usize,
    verdict: &'static str,
    reason: Option<String>,
    expected: usize,
    in_time: usize,
    early: usize,
    late: usize,
    missed: usize,
    extra: usize,
    median_offset_ms: Option<f64>,
    spread_ms: Option<f64>,
}

#[derive(Debug, Serialize)]
struct StrokeJson {
    pass: usize,
    bar: usize,
    slot: u32,
    expected_s: f64,
    heard_s: Option<f64>,
    offset_ms: Option<f64>,
    stroke: &'static str,
    finding: &'static str,
    chord: Option<String>,
    chord_finding: &'static str,
    sounded_like: Option<String>,
    heard_stroke: Option<&'static str>,
    strings: Vec<StringJson>,
}

#[derive(Debug, Serialize)]
struct StringJson {
    string: u8,
    finding: &'static str,
}

#[derive(Debug, Serialize)]
struct ExtraJson {
    heard_s: f64,
}

/// Builds it from the judged passes.
pub(super) fn take_json(verdict: Verdict, starts_at_s: Option<f64>, passes: &[PassVerdict], score: &Score) -> TakeJson {
    let mut extras: Vec<f64> = passes.iter().flat_map(|pass| pass.extras_s.iter().copied()).collect();
    extras.sort_by(f64::total_cmp);
    TakeJson {
        verdict: verdict_name(verdict),
        reason: reason(verdict),
        starts_at_s,
        passes: passes.iter().enumerate().map(|(index, pass)| pass_json(index, pass)).collect(),
        strokes: passes
            .iter()
            .enumerate()
            .flat_map(|(index, pass)| pass.strokes.iter().map(move |stroke| stroke_json(index, stroke, score)))
            .collect(),
        extras: extras.into_iter().map(|heard_s| ExtraJson { heard_s }).collect(),
    }
}

fn pass_json(index: usize, pass: &PassVerdict) -> PassJson {
    PassJson {
        index,
        verdict: verdict_name(pass.verdict),
        reason: reason(pass.verdict),
        expected: pass.strokes.len(),
        in_time: pass.count(Finding::InTime),
        early: pass.count(Finding::Early),
        late: pass.count(Finding::Late),
        missed: pass.count(Finding::Missed),
        extra: pass.extras_s.len(),
        median_offset_ms: pass.median_offset_ms,
        spread_ms: pass.spread_ms,
    }
}

fn stroke_json(pass: usize, stroke: &StrokeFinding, score: &Score) -> StrokeJson {
    StrokeJson {
        pass,
        bar: stroke.bar,
        slot: stroke.slot,
        expected_s: stroke.expected_s,
        heard_s: stroke.heard_s,
        offset_ms: stroke.offset_ms,
        stroke: stroke_name(stroke.action, stroke.direction),
        finding: match stroke.finding {
            Finding::InTime => "in_time",
            Finding::Early => "early",
            Finding::Late => "late",
            Finding::Missed => "missed",
        },
        chord: stroke.shape.and_then(|shape| score.shapes.get(shape)).map(|shape| shape.name.clone()),
        chord_finding: match stroke.chord {
            ChordFinding::Right => "right",
            ChordFinding::Wrong => "wrong",
            ChordFinding::Unsure => "unsure",
        },
        sounded_like: stroke.sounded_like.clone(),
        heard_stroke: stroke.heard_direction.map(|heard| match heard {
            Direction::Down => "down",
            Direction::Up => "up",
        }),
        strings: stroke.strings.iter().map(string_json).collect(),
    }
}

fn string_json(found: &StringFinding) -> StringJson {
    let finding = match found.fault {
        StringFault::Dead => "dead",
        StringFault::WrongFret => "wrong_fret",
        StringFault::ShouldBeMuted => "should_be_muted",
    };
    StringJson { string: found.string, finding }
}

fn stroke_name(action: Action, direction: Direction) -> &'static str {
    match (action, direction) {
        (Action::Chuck, _) => "chuck",
        (Action::Bass, _) => "bass",
        (_, Direction::Down) => "down",
        (_, Direction::Up) => "up",
    }
}

fn verdict_name(verdict: Verdict) -> &'static str {
    match verdict {
        Verdict::Clean => "clean",
        Verdict::NotClean => "not_clean",
        Verdict::NotJudged(_) => "not_judged",
    }
}

fn reason(verdict: Verdict) -> Option<String> {
    match verdict {
        Verdict::NotJudged(reason) => Some(say::reason(reason).to_owned()),
        Verdict::Clean | Verdict::NotClean => None,
    }
}

/// The exit code of `judge`.
pub(super) fn exit_code(verdict: Verdict) -> u8 {
    match verdict {
        Verdict::Clean => 0,
        Verdict::NotClean => 10,
        Verdict::NotJudged(_) => 11,
    }
}

/// What to try about a pass that was not judged.
pub(super) fn cure(reason: Reason) -> &'static str {
    match reason {
        Reason::Unclear => "move the microphone nearer the guitar, or sing more softly",
        Reason::Silence | Reason::TooFaint => "move the microphone closer, or turn its level up",
        Reason::Clipped => "turn the microphone's level down, or move it away",
        Reason::Gap => "close what keeps the computer busy, or make the buffer larger",
        Reason::LearningRoundTrip | Reason::RoundTripMoved => "play one more pass",
        Reason::OwnSound => "wear headphones, or turn the guitar part down",
        Reason::StartUnclear => "say where bar 1 beat 1 lies with --starts-at SECONDS",
        Reason::Stopped => "play the pass to its end",
        Reason::TooShort => "give a recording that holds the whole pass, or fewer --passes",
        Reason::BadSamples => "the file holds numbers that are no sound: export it again",
        Reason::TooFast => "give a slower tempo",
        Reason::NothingExpected => "choose a section that has strokes to play",
        Reason::Processed(processing) => say::processing_cure(processing),
    }
}
