//! Patterns from their grid and stroke text.

use super::name;
use crate::file::v1::PatternForm;
use crate::findings::Findings;
use crate::meter::Meter;
use crate::pattern::Pattern;
use crate::section::{Entry, Section};
use crate::text::meter::parse_grid;
use crate::text::strokes::{BarLine, parse_strokes};

/// Slots a pattern may have: 64 bars of sixteenths.
const MAX_SLOTS: usize = 1024;

/// A pattern with what was written only for the eye.
#[derive(Debug)]
pub(crate) struct DraftPattern {
    pub(crate) pattern: Pattern,
    pub(crate) bar_lines: Vec<BarLine>,
}

/// A pattern; `meter` is that of its bars, by which an open direction is decided.
pub(super) fn pattern(form: &PatternForm, meter: Option<Meter>, findings: &mut Findings<'_>) -> Option<DraftPattern> {
    let name = name(form.name.as_ref(), findings);
    let grid = form.grid.as_ref().and_then(|written| {
        parse_grid(&written.value).map_err(|problems| findings.all_in_text(written, problems)).ok()
    });
    let written = form.strokes.as_ref().filter(|_| !findings.is_full())?;
    // Without a grid or meter the tokens are still read, for what is wrong with them.
    let read = parse_strokes(&written.value, grid.unwrap_or(crate::Grid::Eighths), meter.unwrap_or(Meter::COMMON));
    let read = read.map_err(|problems| findings.all_in_text(written, problems)).ok()?;
    if read.strokes.len() > MAX_SLOTS {
        let message = format!("a pattern has at most {MAX_SLOTS} slots; found {}", read.strokes.len());
        findings.error(written.span, "too-many", message, "a pattern is played again by times; write it once");
        return None;
    }
    let (grid, _) = (grid?, meter?);
    Some(DraftPattern { pattern: Pattern { name, grid, strokes: read.strokes }, bar_lines: read.bar_lines })
}

/// The meter of the first entry that plays a pattern, where that entry names its own.
pub(super) fn first_meter(form: &PatternForm, sections: &[Section]) -> Option<Meter> {
    let name = form.name.as_ref()?;
    let entries = sections.iter().flat_map(|section| section.entries.iter().chain(section.endings.iter().flatten()));
    first_use(&name.value, entries)?
}

fn first_use<'e>(name: &str, entries: impl IntoIterator<Item = &'e Entry>) -> Option<Option<Meter>> {
    entries.into_iter().find_map(|entry| match entry {
        Entry::Played { play, exceptions, meter, .. } => {
            let plays = play.pattern == name || exceptions.iter().any(|exception| exception.play.pattern == name);
            plays.then_some(*meter)
        }
        Entry::Optional(optional) => first_use(name, optional.fuller.iter().chain(&optional.instead)),
    })
}
