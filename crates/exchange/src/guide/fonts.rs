//! The fonts a guide is set in: the bytes come from whoever asks for it.

use std::fmt;

use sixrung_drawing::Face;

/// Font files, TrueType or OpenType: three cuts, and two for the signs they lack. Paper does with few: every cut more
/// makes a file larger by 4 to 10 kB.
#[derive(Clone, Copy, Debug)]
pub struct Fonts {
    /// Inter 400.
    pub regular: &'static [u8],
    /// Inter 700.
    pub bold: &'static [u8],
    /// Gentium Book Plus.
    pub book: &'static [u8],
    /// DejaVu Sans.
    pub signs: &'static [u8],
    /// DejaVu Sans bold.
    pub signs_bold: &'static [u8],
}

/// Index of a font file.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub(crate) struct FontId(pub(crate) usize);

impl Fonts {
    /// All, in the order of [`FontId`].
    pub(crate) const fn all(&self) -> [&'static [u8]; 5] {
        [self.regular, self.bold, self.book, self.signs, self.signs_bold]
    }
}

/// The font of a cut, and those behind it. Gentium, which sung words bring anyway, has ♭ and ♯.
pub(crate) const fn chain(face: Face) -> &'static [FontId] {
    match face {
        Face::Regular | Face::Medium => &[FontId(0), FontId(2), FontId(3)],
        Face::SemiBold | Face::Bold => &[FontId(1), FontId(4)],
        Face::Book | Face::BookBold => &[FontId(2), FontId(3)],
    }
}

/// The fonts a cut is set in on paper, the first that has a letter first: places in the order of the fields of [`Fonts`].
pub fn fonts_of(face: Face) -> impl Iterator<Item = usize> {
    chain(face).iter().map(|font| font.0)
}

/// A font file that can't be read: its place in the order of the fields of [`Fonts`].
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct FontError(pub usize);

impl fmt::Display for FontError {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(f, "font {} can't be read", self.0 + 1)
    }
}

impl std::error::Error for FontError {}
