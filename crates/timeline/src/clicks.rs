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

/// How the click goes. As it is when new, it clicks on every beat, the first of a bar told from the others.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Hash)]
pub struct Clicks {
    /// Which beats are left out, so that the player carries the time.
    pub thinned: Thinned,
    /// What clicks between beats.
    pub division: Division,
    /// Whether the first beat of a bar sounds like the others.
    pub even: bool,
    /// Whether the beats of a count-in step up, so that one hears which comes.
    pub count_rises: bool,
}

/// Which beats click. A count-in is never thinned.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Hash)]
pub enum Thinned {
    /// All.
    #[default]
    Not,
    /// The first of a bar.
    FirstOnly,
    /// The second, the fourth: where hands clap. A bar of one beat keeps its first.
    EvenOnly,
    /// So many bars are heard, then so many are silent, by turns from the beginning of a pass.
    SilentBars {
        /// Bars heard, at least 1.
        heard: u8,
        /// Bars silent.
        silent: u8,
    },
}

impl Thinned {
    fn keeps_bar(self, number: usize) -> bool {
        match self {
            Self::SilentBars { heard, silent } => {
                let heard = usize::from(heard.max(1));
                number % (heard + usize::from(silent)) < heard
            }
            _ => true,
        }
    }

    fn keeps(self, offset: Tick, meter: Meter) -> bool {
        let beat = offset.0 / meter.beat().0;
        let is_beat = offset.0.is_multiple_of(meter.beat().0);
        match self {
            Self::Not | Self::SilentBars { .. } => true,
            Self::FirstOnly => offset == Tick::ZERO,
            Self::EvenOnly => is_beat && (beat % 2 == 1 || meter.beats() == 1),
        }
    }
}

/// What clicks between two beats.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Hash)]
pub enum Division {
    /// Nothing, but where the beat is too slow to keep to.
    #[default]
    WhereSlow,
    /// The beat is cut in two.
    Two,
    /// In three, as a shuffle and compound meters are.
    Three,
    /// In four.
    Four,
}

impl Division {
    fn step(self, meter: Meter, grid: TempoGrid) -> Tick {
        let beat = meter.beat();
        let parts = match self {
            Self::WhereSlow => return slow_division(meter, grid).unwrap_or(beat),
            Self::Two => 2,
            Self::Three => 3,
            Self::Four => 4,
        };
        if beat.0.is_multiple_of(parts) { Tick(beat.0 / parts) } else { beat }
    }
}

/// The clicks of a whole score, `offset` ticks late.
pub(crate) fn pass_clicks(score: &Score, clicks: Clicks, grid: TempoGrid, offset: Tick, events: &mut Vec<Event>) {
    for (_, bar) in score.bars.iter().enumerate().filter(|(number, _)| clicks.thinned.keeps_bar(*number)) {
        let step = clicks.division.step(bar.meter, grid);
        let kept = bar_clicks(bar.meter, step).filter(|(offset, _)| clicks.thinned.keeps(*offset, bar.meter));
        events.extend(kept.map(|(at, kind)| {
            let kind = if clicks.even && kind == ClickKind::Bar { ClickKind::Beat } else { kind };
            click(offset + bar.start + at, kind)
        }));
    }
}

/// The clicks of a count-in from tick 0. Compound meters are counted in their written notes, six eighths for 6/8 with
/// accents on 1 and 4: common practice, no source.
pub(crate) fn count_in_clicks(meter: Meter, bars: u8, clicks: Clicks, grid: TempoGrid, events: &mut Vec<Event>) {
    let counted = if meter.is_compound() { written_note(meter) } else { meter.beat() };
    let step = slow_division(meter, grid).map_or(counted, |division| division.min(counted));
    for bar in 0..u32::from(bars) {
        events.extend(bar_clicks(meter, step).map(|(at, kind)| {
            let beat = u8::try_from(at.0 / meter.beat().0).unwrap_or(u8::MAX);
            let rises = clicks.count_rises && kind == ClickKind::Beat;
            click(meter.bar() * bar + at, if rises { ClickKind::Count(beat) } else { kind })
        }));
    }
}

fn click(at: Tick, kind: ClickKind) -> Event {
    Event { at, delay_ns: 0, kind: EventKind::Click(kind) }
}

fn bar_clicks(meter: Meter, step: Tick) -> impl Iterator<Item = (Tick, ClickKind)> {
    (0..meter.bar().0 / step.0).map(move |number| {
        let offset = step * number;
        let kind = match offset.0 {
            0 => ClickKind::Bar,
            ticks if ticks.is_multiple_of(meter.beat().0) => ClickKind::Beat,
            _ => ClickKind::Between,
        };
        (offset, kind)
    })
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
