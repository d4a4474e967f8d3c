//! A stretch of a lesson laid out flat: unfold → place → name → words.

mod error;
mod place;
mod unfold;
mod words;

pub use error::LayoutError;

use crate::lesson::{Arrangement, Lesson};
use crate::score::{Change, Line, Score, Slot, Stretch, SungSyllable};
use crate::section::{ChordRef, Section};
use crate::shape::Shape;
use crate::units::Tick;
use place::{NamedSlot, Passage, Placed, place};
use unfold::unfold;
use words::{TimedSyllable, place_words, word_changes};

/// The longest stretch that is laid out, in bars.
pub const MAX_BARS: usize = 4096;

/// Lays a stretch out flat as an arrangement plays it.
///
/// # Errors
/// When the section or the bars are not in the lesson, or the stretch is longer than [`MAX_BARS`]. The other errors
/// only meet a lesson that was not checked.
pub fn layout(lesson: &Lesson, stretch: &Stretch, arrangement: &Arrangement) -> Result<Score, LayoutError> {
    let mut placed = place(&passages(lesson, stretch, arrangement)?)?;
    let mut lines = placed
        .spans
        .iter()
        .flat_map(|span| place_words(span, &word_changes(span, &placed.slots)))
        .filter(|line| !line.is_empty())
        .collect::<Vec<_>>();
    if let Stretch::Bars { section, first, end } = stretch {
        cut(&mut placed, &mut lines, section, *first as usize..*end as usize)?;
    }
    let mut naming = Naming { lesson, arrangement, shapes: Vec::new() };
    let (slots, changes) = naming.slots(&placed.slots)?;
    let lines = lines.iter().map(|line| finish_line(line, &changes)).collect();
    let capo = lesson.capo.saturating_add(arrangement.capo_shift);
    Ok(Score { shapes: naming.shapes, capo, bars: placed.bars, changes, slots, lines, length: placed.length })
}

/// How many bars a section has, all its endings included.
///
/// # Errors
/// As for [`layout`].
pub fn section_bars(lesson: &Lesson, section: &str, arrangement: &Arrangement) -> Result<u32, LayoutError> {
    let placed = place(&passages(lesson, &Stretch::Section(section.to_owned()), arrangement)?)?;
    Ok(u32::try_from(placed.bars.len()).expect("there are at most MAX_BARS bars"))
}

fn passages<'a>(
    lesson: &'a Lesson,
    stretch: &Stretch,
    arrangement: &Arrangement,
) -> Result<Vec<Passage<'a>>, LayoutError> {
    let names = match stretch {
        Stretch::Section(name) | Stretch::Bars { section: name, .. } => std::slice::from_ref(name),
        Stretch::Whole => &lesson.form,
    };
    if names.is_empty() {
        return Err(LayoutError::Empty);
    }
    if names.len() > MAX_BARS {
        return Err(LayoutError::TooLong);
    }
    let find = |name: &String| -> Result<&'a Section, LayoutError> {
        lesson.section(name).ok_or_else(|| LayoutError::UnknownSection(name.clone()))
    };
    let mut passages = Vec::with_capacity(names.len());
    let mut pieces_so_far = 0;
    for name in names {
        let section = find(name)?;
        let pieces = unfold(lesson, section, arrangement)?;
        pieces_so_far += pieces.len();
        if pieces_so_far > 2 * MAX_BARS {
            return Err(LayoutError::TooLong);
        }
        passages.push(Passage { section, pieces });
    }
    Ok(passages)
}

/// Keeps a range of bars, and of the words those sung in it. A pickup is sung only before the section's own start.
fn cut(
    placed: &mut Placed<'_>,
    lines: &mut Vec<Vec<TimedSyllable<'_>>>,
    section: &str,
    range: std::ops::Range<usize>,
) -> Result<(), LayoutError> {
    if range.is_empty() || range.end > placed.bars.len() {
        let bars = u32::try_from(placed.bars.len()).expect("there are at most MAX_BARS bars");
        return Err(LayoutError::NoSuchBars { section: section.to_owned(), bars });
    }
    let start = placed.bars[range.start].start;
    placed.keep_bars(range.start, range.end);
    let end = start + placed.length;
    for line in &mut *lines {
        line.retain(|word| start <= word.at && word.at < end && (!word.pickup || start == Tick::ZERO));
        for word in line {
            word.at = word.at - start;
            word.until = Tick(word.until.0.min(end.0)) - start;
        }
    }
    lines.retain(|line| !line.is_empty());
    Ok(())
}

/// Chord names turned into the shapes that are played.
struct Naming<'a> {
    lesson: &'a Lesson,
    arrangement: &'a Arrangement,
    shapes: Vec<Shape>,
}

impl Naming<'_> {
    fn slots(&mut self, named: &[NamedSlot<'_>]) -> Result<(Vec<Slot>, Vec<Change>), LayoutError> {
        let mut slots = Vec::with_capacity(named.len());
        let mut changes: Vec<Change> = Vec::new();
        for slot in named {
            let shape = self.shape(slot.chord)?;
            let mut stroke = slot.stroke;
            stroke.changes = changes.last().is_none_or(|change| change.shape != shape);
            if stroke.changes {
                changes.push(Change { at: slot.at, shape });
            }
            let NamedSlot { at, length, bar, index, grid, .. } = *slot;
            slots.push(Slot { at, length, bar, index, grid, stroke, shape });
        }
        Ok((slots, changes))
    }

    fn shape(&mut self, chord: &ChordRef) -> Result<Option<usize>, LayoutError> {
        let ChordRef::Shape(name) = chord else {
            return Ok(None);
        };
        let unknown = |name: &String| LayoutError::UnknownShape(name.clone());
        let mut shape = self.lesson.shape(name).ok_or_else(|| unknown(name))?;
        if let Some(easier) = shape.stand_in.as_ref().filter(|_| self.arrangement.stand_ins) {
            shape = self.lesson.shape(easier).ok_or_else(|| unknown(easier))?;
        }
        let known = self.shapes.iter().position(|known| known.name == shape.name);
        Ok(Some(known.unwrap_or_else(|| {
            self.shapes.push(shape.clone());
            self.shapes.len() - 1
        })))
    }
}

fn finish_line(line: &[TimedSyllable<'_>], changes: &[Change]) -> Line {
    let syllables = line.iter().map(|word| SungSyllable {
        at: word.at,
        text: word.syllable.text.clone(),
        ends_word: word.syllable.ends_word,
        change: changes.binary_search_by_key(&word.at, |change| change.at).ok().filter(|_| word.syllable.takes_change),
        pickup: word.pickup,
    });
    let start = line.first().map_or(Tick::ZERO, |word| word.at);
    let end = line.last().map_or(start, |word| word.until);
    Line { start, end, syllables: syllables.collect() }
}
