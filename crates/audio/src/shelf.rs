//! Where the performer keeps what it was given until nothing sounds from it any more.

use crate::prepared::Prepared;

/// Places on the shelf, and the most timelines that may be away from the controls at once.
pub(crate) const PLACES: usize = 8;

/// A sound table of a timeline on the shelf.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) struct TableRef {
    /// Which timeline.
    pub place: u8,
    /// Which of its tables.
    pub table: u16,
}

/// The timelines given to the performer: the one playing, the one waiting, and those whose last sounds ring out.
#[derive(Default)]
pub(crate) struct Shelf {
    places: [Option<Box<Prepared>>; PLACES],
}

impl Shelf {
    /// Whether another timeline can be taken.
    ///
    /// # Real-time
    /// Reads eight places.
    pub(crate) fn has_room(&self) -> bool {
        self.places.iter().any(Option::is_none)
    }

    /// Takes a timeline and says where it stands, or gives it back when the shelf is full.
    ///
    /// # Real-time
    /// Moves a pointer.
    pub(crate) fn put(&mut self, prepared: Box<Prepared>) -> Result<u8, Box<Prepared>> {
        for (place, slot) in (0_u8..).zip(&mut self.places) {
            if slot.is_none() {
                *slot = Some(prepared);
                return Ok(place);
            }
        }
        Err(prepared)
    }

    /// Gives up a timeline.
    ///
    /// # Real-time
    /// Moves a pointer.
    pub(crate) fn take(&mut self, place: u8) -> Option<Box<Prepared>> {
        self.places.get_mut(usize::from(place))?.take()
    }

    /// The timeline at `place`.
    ///
    /// # Real-time
    /// Reads a pointer.
    pub(crate) fn get(&self, place: u8) -> Option<&Prepared> {
        self.places.get(usize::from(place))?.as_deref()
    }

    /// A table's samples; none at all if it is gone.
    ///
    /// # Real-time
    /// Reads two pointers.
    pub(crate) fn table(&self, table: TableRef) -> &[f32] {
        self.get(table.place).map_or(&[], |prepared| prepared.table(table.table))
    }
}
