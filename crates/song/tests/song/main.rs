//! What the crate promises, heard from outside: beats found, clicks where they belong, seams that can't be heard.

mod beats;
mod clicks;
mod made;
mod measure;
mod onto_beats;
mod seams;
