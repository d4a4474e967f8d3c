//! The face of Sixrung: the window and the command line.
//!
//! [`session`] is the practice session as a pure state machine; [`studio`] carries its effects out on devices, ear and
//! journal; [`song`] reads and slows the learner's own recording; [`stand`] and [`pages`] draw what it shows; [`app`] is the window around them; [`cli`] is everything that
//! works without one.

pub mod app;
pub mod cli;
pub mod commands;
pub mod draw;
pub mod ear;
pub mod files;
pub mod hand_back;
pub mod learned_text;
pub mod library;
pub mod measuring;
pub mod pages;
pub mod recording;
pub mod say;
pub mod session;
pub mod song;
pub mod stand;
pub mod studio;
pub mod text;
pub mod theme;
