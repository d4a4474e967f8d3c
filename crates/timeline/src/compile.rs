//! A score at a tempo compiled to a plan.

use std::fmt;

use sixrung_lesson::{Lesson, Score, Tick};

use crate::backing::backing;
use crate::clicks::{count_in_clicks, pass_clicks};
use crate::event::{Event, EventKind};
use crate::expect::{cues, expected_strokes};
use crate::frames::TempoGrid;
use crate::hand::{Feel, Hands};
use crate::timeline::{Between, Plan, Request, Timeline};

/// Why a score can't be compiled.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum CompileError {
    /// The sample rate, in frames a second, is outside 8,000 to 192,000.
    Rate(u32),
    /// More than four bars of count-in.
    CountIn(u8),
    /// The score has no bars.
    Empty,
}

impl fmt::Display for CompileError {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Self::Rate(rate) => write!(f, "a sample rate of {rate} Hz is not between 8000 and 192000"),
            Self::CountIn(bars) => write!(f, "a count-in of {bars} bars is longer than 4"),
            Self::Empty => f.write_str("there is nothing to play"),
        }
    }
}

impl std::error::Error for CompileError {}

/// Compiles a score: one cycle's events with the intro before it, the cues, and the strokes expected.
///
/// # Errors
/// When the request's rate or count-in is out of range, or the score is empty.
pub fn compile(lesson: &Lesson, score: &Score, request: &Request) -> Result<Plan, CompileError> {
    compile_with(lesson, score, request, Feel::default())
}

/// As [`compile`], by hands as even as `feel` says.
///
/// # Errors
/// As [`compile`].
pub fn compile_with(lesson: &Lesson, score: &Score, request: &Request, feel: Feel) -> Result<Plan, CompileError> {
    if !(8_000..=192_000).contains(&request.rate) {
        return Err(CompileError::Rate(request.rate));
    }
    if request.count_in_bars > 4 {
        return Err(CompileError::CountIn(request.count_in_bars));
    }
    let (Some(first_bar), Some(last_bar)) = (score.bars.first(), score.bars.last()) else {
        return Err(CompileError::Empty);
    };
    let grid = TempoGrid::new(request.rate, request.tempo, lesson.beat.ticks());
    let mut count_in = Vec::new();
    count_in_clicks(first_bar.meter, request.count_in_bars, request.clicks, grid, &mut count_in);
    let counted = first_bar.meter.bar() * u32::from(request.count_in_bars);
    let (intro, intro_events, pass_at, rest, mut cycle_events) = match request.between {
        Between::Seamless => (counted, count_in, Tick::ZERO, Tick::ZERO, Vec::new()),
        Between::Rest { bars } => (Tick::ZERO, Vec::new(), counted, last_bar.meter.bar() * u32::from(bars), count_in),
    };
    pass_clicks(score, request.clicks, grid, pass_at, &mut cycle_events);
    play(lesson, score, grid, pass_at, feel, &mut cycle_events);
    if request.backing {
        backing(score, &lesson.tuning, pass_at, &mut cycle_events);
        if rest > Tick::ZERO {
            cycle_events.push(Event { at: pass_at + score.length, delay_ns: 0, kind: EventKind::BassStop });
        }
    }
    let timeline = Timeline {
        id: request.id,
        grid,
        intro,
        intro_events: intro_events.into(),
        cycle: pass_at + score.length + rest,
        cycle_events: by_time(cycle_events, grid).into(),
        pass_at,
        pass: score.length,
        passes: request.passes,
    };
    Ok(Plan { timeline, cues: cues(score, grid), expected: expected_strokes(score) })
}

/// The hands' events. Whatever the last stroke of a pass left ringing rings through the rest; it is stopped when the
/// next count-in begins, or else by the change to the first chord.
fn play(lesson: &Lesson, score: &Score, grid: TempoGrid, pass_at: Tick, feel: Feel, events: &mut Vec<Event>) {
    let last = score.slots.last().and_then(|slot| slot.shape);
    let held = if pass_at == Tick::ZERO { last } else { None };
    if pass_at != Tick::ZERO {
        let strings = 0..u8::try_from(lesson.tuning.strings()).expect("an instrument has at most eight strings");
        let stop = |string| Event { at: Tick::ZERO, delay_ns: 0, kind: EventKind::Damp { string } };
        events.extend(strings.map(stop));
    }
    let mut hands = Hands::new(score, &lesson.tuning, grid, pass_at, feel).holding(held);
    for slot in &score.slots {
        hands.play(slot, events);
    }
}

/// Events by time; at one instant strings are stopped before any sounds.
fn by_time(mut events: Vec<Event>, grid: TempoGrid) -> Vec<Event> {
    events.sort_by_cached_key(|event| {
        let order = match event.kind {
            EventKind::Damp { .. } | EventKind::BassStop => 0,
            EventKind::Click(_) => 1,
            EventKind::Pluck { .. } | EventKind::PalmMuted { .. } | EventKind::Chuck { .. } => 2,
            EventKind::Bass { .. } | EventKind::Brush { .. } => 3,
        };
        (grid.nanoseconds(event.at) + u64::from(event.delay_ns), order)
    });
    events
}
