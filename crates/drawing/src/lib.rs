//! How chords and strokes are drawn, as plain geometry: one drawing for the screen and for paper.
//!
//! A [`diagram`] and a [`strip`] come out as [`Mark`]s: lines, dots and text in roles of ink. Who draws them gives the
//! inks their colours. Lengths are in points of whoever draws, y grows downward. Pure: no clock, no disk, no screen.
//!
//! ```
//! use sixrung_drawing::{Hand, Point, Rect, diagram};
//!
//! let text = r#"Lesson(version: 1, title: "One chord", tempo: 90, meter: "4/4",
//!     shapes: [(name: "D", frets: "xx0232", fingers: "---132")],
//!     patterns: [(name: "plain", grid: "quarters", strokes: "D D D D")],
//!     sections: [(name: "All", entries: [(chord: "D", pattern: "plain")])])"#;
//! let lesson = sixrung_lesson::read(text.as_bytes()).expect("nothing is wrong with it").lesson;
//! let board = Rect::new(Point::new(0.0, 0.0), Point::new(50.0, 45.0));
//! let drawn = diagram::lay_out(&lesson.shapes[0], board, Hand::Right);
//! assert_eq!((drawn.dots.len(), drawn.signs.len()), (3, 3));
//! ```

pub mod diagram;
mod mark;
mod name;
mod place;
pub mod strip;

pub use mark::{Ends, Face, Ink, Mark, Side};
pub use name::{NO_CHORD, chord_name, stroke_letter};
pub use place::{Hand, Point, Rect};
