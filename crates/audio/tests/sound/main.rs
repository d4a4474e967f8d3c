//! What the performer sounds like, measured from outside.

#[path = "../hand_made/mod.rs"]
mod hand_made;

mod clicks;
mod colour;
mod handing_over;
mod played;
mod seams;
mod song;
mod tuning;
