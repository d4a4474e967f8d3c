//! Repeats written out and options decided: a section as a row of pieces, each a pattern played once.

use super::{LayoutError, MAX_BARS};
use crate::lesson::{Arrangement, Lesson};
use crate::meter::Meter;
use crate::pattern::Pattern;
use crate::section::{ChordRef, Entry, Exception, Occasion, Play, Section};

/// A pattern played once.
pub(super) struct Piece<'a> {
    pub(super) pattern: &'a Pattern,
    /// One chord more than the pattern has change points, or as many when the last of them is an early change.
    pub(super) chords: &'a [ChordRef],
    pub(super) meter: Meter,
}

impl Piece<'_> {
    /// Whether its last change point takes the first chord of what is played next.
    pub(super) fn changes_early(&self) -> bool {
        self.chords.len() == self.pattern.change_points()
    }
}

/// Once through a section: its entries before each of its endings in turn.
pub(super) fn unfold<'a>(
    lesson: &'a Lesson,
    section: &'a Section,
    arrangement: &Arrangement,
) -> Result<Vec<Piece<'a>>, LayoutError> {
    let mut unfolding = Unfolding { lesson, arrangement, pieces: Vec::new() };
    if section.endings.is_empty() {
        unfolding.entries(&section.entries)?;
    }
    for ending in &section.endings {
        unfolding.entries(&section.entries)?;
        unfolding.entries(ending)?;
    }
    if unfolding.pieces.is_empty() { Err(LayoutError::Empty) } else { Ok(unfolding.pieces) }
}

struct Unfolding<'a, 'b> {
    lesson: &'a Lesson,
    arrangement: &'b Arrangement,
    pieces: Vec<Piece<'a>>,
}

impl<'a> Unfolding<'a, '_> {
    fn entries(&mut self, entries: &'a [Entry]) -> Result<(), LayoutError> {
        for entry in entries {
            match entry {
                Entry::Played { play, times, exceptions, meter } => {
                    let meter = meter.unwrap_or(self.lesson.meter);
                    for time in 1..=*times {
                        self.play(on_time(play, exceptions, time, *times), meter)?;
                    }
                }
                Entry::Optional(optional) if self.arrangement.options.contains(&optional.name) => {
                    self.entries(&optional.fuller)?;
                }
                Entry::Optional(optional) => self.entries(&optional.instead)?,
            }
        }
        Ok(())
    }

    fn play(&mut self, play: &'a Play, meter: Meter) -> Result<(), LayoutError> {
        let pattern = self.lesson.pattern(&play.pattern).filter(|pattern| !pattern.strokes.is_empty());
        let pattern = pattern.ok_or_else(|| LayoutError::UnknownPattern(play.pattern.clone()))?;
        let (change_points, chords) = (pattern.change_points(), play.chords.len());
        if chords == 0 || !(change_points..=change_points + 1).contains(&chords) {
            return Err(LayoutError::ChordsMismatch { pattern: pattern.name.clone(), change_points, chords });
        }
        // No pattern is shorter than half a bar, so more pieces than this can't fit.
        if self.pieces.len() >= 2 * MAX_BARS {
            return Err(LayoutError::TooLong);
        }
        self.pieces.push(Piece { pattern, chords: &play.chords, meter });
        Ok(())
    }
}

/// What is played the `time`th of `times` times. A numbered exception is more particular than "the last".
fn on_time<'a>(usual: &'a Play, exceptions: &'a [Exception], time: u16, times: u16) -> &'a Play {
    let on = |wanted: Occasion| exceptions.iter().find(move |exception| exception.on == wanted);
    on(Occasion::Nth(time))
        .or_else(|| on(Occasion::Last).filter(|_| time == times))
        .map_or(usual, |exception| &exception.play)
}
