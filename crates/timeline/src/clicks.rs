//! When the metronome clicks: the beats of a bar, the count-in, and the notes between beats where the beat is slow.

use sixrung_lesson::{Meter, Score, TICKS_PER_QUARTER, Tempo, Tick};

use crate::event::{ClickKind, Event, EventKind};
use crate::frames::TempoGrid;

/// Beats slower than this are divided: people cannot keep to a click much below about 33 a minute (Repp 2005).
const SLOWEST_CLICKS_PER_MINUTE: f64 = 33.0;

/// A bar shorter than this is counted in twice: a design choice of ours, after the common practice of two bars when
/// the tempo is fast.
const SHORT_BAR_SECONDS: f64 = 2.0;

/// Bars to count in when nobody has said how many: one, or two when a bar is shorter than two seconds.
#[must_use]
pub fn default_count_in_bars(meter: Meter, tempo: Tempo, beat: Tick) -> u8 {
    let bar_seconds = f64::from(meter.bar().0) / f64::from(beat.0.max(1)) * 60.0 / tempo.bpm();
    if bar_seconds < SHORT_BAR_SECONDS { 2 } else { 1 }
}

/// The clicks of a whole score, `offset` ticks late.
pub(crate) fn pass_clicks(score: &Score, grid: TempoGrid, offset: Tick, events: &mut Vec<Event>) {
    for bar in &score.bars {
        let step = slow_division(bar.meter, grid).unwrap_or(bar.meter.beat());
        bar_clicks(bar.meter, step, offset + bar.start, events);
    }
}

/// The clicks of a count-in from tick 0. Compound meters are counted in their written notes, six eighths for 6/8 with
/// accents on 1 and 4: common practice, no source.
pub(crate) fn count_in_clicks(meter: Meter, bars: u8, grid: TempoGrid, events: &mut Vec<Event>) {
    let counted = if meter.is_compound() { written_note(meter) } else { meter.beat() };
    let step = slow_division(meter, grid).map_or(counted, |division| division.min(counted));
    for bar in 0..u32::from(bars) {
        bar_clicks(meter, step, meter.bar() * bar, events);
    }
}

fn bar_clicks(meter: Meter, step: Tick, start: Tick, events: &mut Vec<Event>) {
    for number in 0..meter.bar().0 / step.0 {
        let offset = step * number;
        let kind = match offset.0 {
            0 => ClickKind::Bar,
            ticks if ticks.is_multiple_of(meter.beat().0) => ClickKind::Beat,
            _ => ClickKind::Between,
        };
        events.push(Event { at: start + offset, delay_ns: 0, kind: EventKind::Click(kind) });
    }
}

const fn written_note(meter: Meter) -> Tick {
    Tick(TICKS_PER_QUARTER * 4 / meter.unit() as u32)
}

/// The longest even part of a felt beat too slow to keep to that can be kept to; `None` when the beat itself can.
fn slow_division(meter: Meter, grid: TempoGrid) -> Option<Tick> {
    let too_slow = |step: Tick| grid.seconds(step) > 60.0 / SLOWEST_CLICKS_PER_MINUTE;
    let beat = meter.beat();
    if !too_slow(beat) {
        return None;
    }
    let mut step = if meter.is_compound() { written_note(meter) } else { Tick(beat.0 / 2) };
    while too_slow(step) && step.0.is_multiple_of(2) {
        step = Tick(step.0 / 2);
    }
    Some(step)
}
