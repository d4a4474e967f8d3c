//! The face of Sixrung: the window and the command line (being written).

pub mod pages;
pub mod stand;
pub mod text;
pub mod theme;
