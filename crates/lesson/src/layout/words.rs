//! Words placed: a marked syllable on its change, the others spread evenly between.

use super::place::{NamedSlot, Span};
use crate::section::Syllable;
use crate::units::Tick;

/// A syllable with its time, before it is known which of the score's changes falls on it.
pub(super) struct TimedSyllable<'a> {
    pub(super) syllable: &'a Syllable,
    pub(super) at: Tick,
    /// When the change it is sung on ends.
    pub(super) until: Tick,
    pub(super) pickup: bool,
}

/// The changes a section's words count: its start, and every later slot whose chord has another name than the one
/// before it.
pub(super) fn word_changes(span: &Span<'_>, slots: &[NamedSlot<'_>]) -> Vec<Tick> {
    let slots = &slots[span.slots.clone()];
    let later = slots.windows(2).filter(|pair| pair[0].chord != pair[1].chord).map(|pair| pair[1].at);
    std::iter::once(span.start).chain(later).collect()
}

/// A section's words, line by line, with their times.
pub(super) fn place_words<'a>(span: &Span<'a>, changes: &[Tick]) -> Vec<Vec<TimedSyllable<'a>>> {
    let lines = &span.section.words;
    let syllables: Vec<&Syllable> = lines.iter().flat_map(|line| &line.syllables).collect();
    let mut timed = group_times(&syllables, changes, span).into_iter();
    lines.iter().map(|line| timed.by_ref().take(line.syllables.len()).collect()).collect()
}

/// Times of the syllables, group by group; a group is a marked syllable and the unmarked ones after it.
fn group_times<'a>(syllables: &[&'a Syllable], changes: &[Tick], span: &Span<'_>) -> Vec<TimedSyllable<'a>> {
    let marked: Vec<usize> = (0..syllables.len()).filter(|&index| syllables[index].takes_change).collect();
    let change = |number: usize| changes.get(number).copied().unwrap_or(span.end);
    let pickups = marked.first().copied().unwrap_or(0);
    let mut timed: Vec<_> = syllables[..pickups]
        .iter()
        .map(|syllable| TimedSyllable { syllable, at: span.start, until: span.start, pickup: true })
        .collect();
    // Words without a single mark are no pickup: they are spread over the whole section.
    let starts = if marked.is_empty() { vec![0] } else { marked.clone() };
    for (number, &first) in starts.iter().enumerate() {
        let end = starts.get(number + 1).copied().unwrap_or(syllables.len());
        let until = if marked.is_empty() { span.end } else { change(number + 1) };
        spread(&syllables[first..end], change(number), until, &mut timed);
    }
    timed
}

fn spread<'a>(group: &[&'a Syllable], from: Tick, until: Tick, timed: &mut Vec<TimedSyllable<'a>>) {
    let length = u64::from(until.saturating_sub(from).0);
    for (place, syllable) in (0_u64..).zip(group) {
        let offset = length * place / group.len() as u64;
        let at = from + Tick(u32::try_from(offset).expect("a share of a u32 is a u32"));
        timed.push(TimedSyllable { syllable, at, until, pickup: false });
    }
}
