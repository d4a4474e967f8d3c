//! Stretches laid out flat.

mod built;
mod properties;
mod unfolding;
mod words;
