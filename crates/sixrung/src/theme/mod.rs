//! Colours, sizes and fonts: the only place they come from.

mod contrast;
mod faces;
mod look;
mod palette;
mod size;
mod style;

#[cfg(test)]
mod tests;

pub use contrast::contrast;
pub use faces::{Face, font, font_definitions, guide_fonts, install, paper_font};
pub use look::{Hand, Look, Motion, Sheet};
pub use palette::Palette;
pub use size::{Step, cap_height_mm, glance_pt, reading_factor};
pub use style::visuals;

/// Everything a painter needs to know about how things look.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Theme {
    /// The colours.
    pub palette: Palette,
    /// What the player asked for.
    pub look: Look,
}

impl Theme {
    /// The theme of a look.
    #[must_use]
    pub const fn new(look: Look) -> Self {
        Self { palette: Palette::of(look.sheet), look }
    }
}
