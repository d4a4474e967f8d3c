//! Pieces placed one after another: bars cut, chords and early changes resolved.

use super::unfold::Piece;
use super::{LayoutError, MAX_BARS};
use crate::pattern::{Grid, Stroke};
use crate::score::Bar;
use crate::section::{ChordRef, Section};
use crate::units::Tick;

/// A slot whose chord still goes by its name.
pub(super) struct NamedSlot<'a> {
    pub(super) at: Tick,
    pub(super) length: Tick,
    pub(super) bar: usize,
    pub(super) index: u32,
    pub(super) grid: Grid,
    pub(super) stroke: Stroke,
    pub(super) chord: &'a ChordRef,
    /// Whether its chord is that of what is played next.
    pub(super) early: bool,
    /// Which piece it belongs to, counted through the stretch.
    piece: usize,
}

/// Once through a section, to be placed.
pub(super) struct Passage<'a> {
    pub(super) section: &'a Section,
    pub(super) pieces: Vec<Piece<'a>>,
}

/// Where a passage came to lie.
pub(super) struct Span<'a> {
    pub(super) section: &'a Section,
    pub(super) start: Tick,
    pub(super) end: Tick,
    /// Its first slot and one past its last.
    pub(super) slots: std::ops::Range<usize>,
}

/// Everything placed.
#[derive(Default)]
pub(super) struct Placed<'a> {
    pub(super) bars: Vec<Bar>,
    pub(super) slots: Vec<NamedSlot<'a>>,
    pub(super) spans: Vec<Span<'a>>,
    pub(super) length: Tick,
    pieces: usize,
}

/// Places passages one after another; what follows the last of them is the first.
pub(super) fn place<'a>(passages: &[Passage<'a>]) -> Result<Placed<'a>, LayoutError> {
    let mut placed = Placed::default();
    let pieces = || passages.iter().flat_map(|passage| &passage.pieces);
    let mut following = pieces().cycle().skip(1);
    for passage in passages {
        let (start, first_slot, first_bar) = (placed.length, placed.slots.len(), placed.bars.len());
        for piece in &passage.pieces {
            let next = following.next().map_or(piece.chords, |next| next.chords);
            placed.piece(piece, &next[0], passage.section, first_bar)?;
        }
        if !placed.at_bar_line() {
            return Err(placed.broken_bar());
        }
        let slots = first_slot..placed.slots.len();
        placed.spans.push(Span { section: passage.section, start, end: placed.length, slots });
    }
    Ok(placed)
}

impl<'a> Placed<'a> {
    fn piece(
        &mut self,
        piece: &Piece<'a>,
        next_chord: &'a ChordRef,
        section: &Section,
        first_bar: usize,
    ) -> Result<(), LayoutError> {
        if !self.at_bar_line() && self.bars.last().is_some_and(|bar| bar.meter != piece.meter) {
            return Err(self.broken_bar());
        }
        let start = self.length;
        let early_chord = piece.changes_early().then_some(next_chord);
        let mut chords = piece.chords.iter().chain(early_chord);
        let mut chord = chords.next().expect("a piece has at least one chord");
        let mut changes_left = piece.pattern.change_points();
        for (number, stroke) in (0..).zip(&piece.pattern.strokes) {
            if stroke.changes {
                chord = chords.next().expect("a piece has a chord for each change point");
                changes_left -= 1;
            }
            let grid = piece.pattern.grid;
            let at = start + grid.slot_start(number);
            let length = grid.slot_start(number + 1) - grid.slot_start(number);
            if self.at_bar_line() {
                self.begin_bar(piece, section, first_bar)?;
            }
            let bar = self.bars.len() - 1;
            self.length = at + length;
            if self.length > self.bar_end() {
                return Err(self.broken_bar());
            }
            let index = self.slots.last().filter(|slot| slot.bar == bar).map_or(0, |slot| slot.index + 1);
            let early = changes_left == 0 && early_chord.is_some();
            self.slots.push(NamedSlot {
                at,
                length,
                bar,
                index,
                grid,
                stroke: *stroke,
                chord,
                early,
                piece: self.pieces,
            });
        }
        self.pieces += 1;
        Ok(())
    }

    fn begin_bar(&mut self, piece: &Piece<'_>, section: &Section, first_bar: usize) -> Result<(), LayoutError> {
        if self.bars.len() >= MAX_BARS {
            return Err(LayoutError::TooLong);
        }
        let number = u32::try_from(self.bars.len() - first_bar).expect("there are at most MAX_BARS bars");
        self.bars.push(Bar { start: self.length, meter: piece.meter, section: section.name.clone(), number });
        Ok(())
    }

    fn bar_end(&self) -> Tick {
        self.bars.last().map_or(Tick::ZERO, |bar| bar.start + bar.meter.bar())
    }

    fn at_bar_line(&self) -> bool {
        self.length == self.bar_end()
    }

    fn broken_bar(&self) -> LayoutError {
        let (section, bar) = self.bars.last().map_or_else(Default::default, |bar| (bar.section.clone(), bar.number));
        LayoutError::BrokenBar { section, bar }
    }

    /// Keeps only bars `first..end` (from 0, in range) and counts ticks from their start. An early change at their
    /// end takes their own first chord, since they are played as a loop.
    pub(super) fn keep_bars(&mut self, first: usize, end: usize) {
        let start = self.bars[first].start;
        let stop = self.bars.get(end).map_or(self.length, |bar| bar.start);
        let from = self.slots.partition_point(|slot| slot.at < start);
        let to = self.slots.partition_point(|slot| slot.at < stop);
        let piece_after = self.slots.get(to).map(|slot| slot.piece);
        self.slots.truncate(to);
        self.slots.drain(..from);
        self.bars.truncate(end);
        self.bars.drain(..first);
        self.length = stop - start;
        let first_chord = self.slots[0].chord;
        let last_piece = self.slots.last().map(|slot| slot.piece);
        for slot in &mut self.slots {
            if slot.early && Some(slot.piece) == last_piece && last_piece != piece_after {
                slot.chord = first_chord;
            }
            slot.at = slot.at - start;
            slot.bar -= first;
        }
        for bar in &mut self.bars {
            bar.start = bar.start - start;
        }
    }
}
