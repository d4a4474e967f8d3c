//! Lengths of entries, and whether they fill their bars: a list of entries is a run of stretches, each of one meter.

use crate::build::Draft;
use crate::meter::Meter;
use crate::pattern::Pattern;
use crate::section::Entry;

/// A length of music without a change of meter.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) struct Stretch {
    pub(super) meter: Meter,
    pub(super) ticks: u64,
}

/// Stretches one after another, neighbours of one meter merged.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub(super) struct Run(pub(super) Vec<Stretch>);

impl Run {
    /// The run of some entries with the options left out; `None` when something in it can't be told.
    pub(super) fn of(entries: &[Entry], draft: &Draft) -> Option<Self> {
        let mut run = Self::default();
        for entry in entries {
            match entry {
                Entry::Played { play, times, meter, .. } => {
                    let pattern = draft.pattern(&play.pattern)?;
                    run.add(meter.or(draft.meter)?, u64::from(pattern.length().0) * u64::from(*times));
                }
                Entry::Optional(optional) => {
                    let inner = Self::of(&optional.instead, draft)?;
                    inner.0.iter().for_each(|stretch| run.add(stretch.meter, stretch.ticks));
                }
            }
        }
        Some(run)
    }

    pub(super) fn add(&mut self, meter: Meter, ticks: u64) {
        match self.0.last_mut() {
            Some(last) if last.meter == meter => last.ticks += ticks,
            _ => self.0.push(Stretch { meter, ticks }),
        }
    }

    /// Whole bars in it.
    pub(super) fn bars(&self) -> u64 {
        self.0.iter().map(|stretch| stretch.ticks / u64::from(stretch.meter.bar().0)).sum()
    }

    /// How far into a bar its end lies.
    pub(super) fn past_bar_line(&self) -> u64 {
        self.0.last().map_or(0, |stretch| stretch.ticks % u64::from(stretch.meter.bar().0))
    }

    /// In words: `2 bars`, `1 1/2 bars of 3/4`.
    pub(super) fn in_words(&self) -> String {
        if self.0.is_empty() {
            return "nothing".to_owned();
        }
        self.0.iter().map(|stretch| bars_in_words(stretch.ticks, stretch.meter)).collect::<Vec<_>>().join(" and ")
    }
}

/// A length in bars where it is whole or half bars, else in the meter's own notes.
pub(super) fn bars_in_words(ticks: u64, meter: Meter) -> String {
    let bar = u64::from(meter.bar().0);
    let of = format!("of {}/{}", meter.count(), meter.unit());
    match (ticks / bar, ticks % bar) {
        (1, 0) => format!("1 bar {of}"),
        (bars, 0) => format!("{bars} bars {of}"),
        (0, part) if part * 2 == bar => format!("half a bar {of}"),
        (bars, part) if part * 2 == bar => format!("{bars} 1/2 bars {of}"),
        (bars, part) => {
            let hundredths = part * 100 / bar;
            format!("{bars}.{hundredths:02} bars {of}")
        }
    }
}

/// Whether a pattern that starts `into_bar` ticks after a bar line has a slot begin on every bar line it meets.
pub(super) fn meets_bar_lines(pattern: &Pattern, into_bar: u64, meter: Meter) -> bool {
    let bar = u64::from(meter.bar().0);
    let end = into_bar + u64::from(pattern.length().0);
    let slots = u32::try_from(pattern.strokes.len()).expect("a pattern has few slots");
    let mut starts = (0..slots).map(|slot| into_bar + u64::from(pattern.grid.slot_start(slot).0)).peekable();
    (1..).map(|number| number * bar).take_while(|line| *line < end).all(|line| {
        while starts.next_if(|start| *start < line).is_some() {}
        starts.peek() == Some(&line)
    })
}
