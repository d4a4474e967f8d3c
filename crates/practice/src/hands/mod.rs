//! The mechanics of the fretting hand: what a change of shapes asks of the fingers, which fingering asks least, and how
//! all of it is fitted to one learner.
//!
//! A [`Shape`](sixrung_lesson::Shape) becomes a [`Grip`] (the teacher's, or one of [`fingerings`]); two grips become
//! [`ChangeMoves`], those become [`Features`], and [`Weights`] make a cost of them. From the changes that a stretch
//! needs ([`needed_changes`]) come the fingerings chosen for it ([`choose_fingerings`]), offers to the teacher
//! ([`refingerings`]) and the pair to drill next ([`rank_changes`]). No validated cost of a chord change exists; this
//! one is a proposal of ours, and [`HandModel::fitted`] bends it to the learner's own times.
//!
//! ```
//! use sixrung_lesson::{Stretch, layout};
//! use sixrung_practice::hands::{ChangeMoves, FingerMove, Grip, Weights, needed_changes, refingerings};
//!
//! let text = r#"
//! Lesson(
//!     version: 1, title: "Two chords by the stove", tempo: 92, meter: "4/4",
//!     shapes: [
//!         (name: "D", frets: "xx0232", fingers: "---132"),
//!         (name: "A", frets: "x02220", fingers: "--123-"),
//!     ],
//!     patterns: [(name: "plain", grid: "eighths", strokes: "D - D> U - U D> U")],
//!     sections: [(name: "Verse", entries: [(chord: "D", pattern: "plain"), (chord: "A", pattern: "plain")])],
//! )"#;
//! let lesson = sixrung_lesson::read(text.as_bytes()).expect("nothing is wrong with it").lesson;
//! let score = layout(&lesson, &Stretch::Section("Verse".into()), &lesson.arrangements[0]).expect("it is there");
//!
//! let [d, a] = [0, 1].map(|shape| Grip::given(&score.shapes[shape]).expect("the teacher fingered it"));
//! let moves = ChangeMoves::between(&d, &a, score.capo);
//! assert!(matches!(moves.fingers[0].1, FingerMove::Slides { .. }), "finger 3 leads the hand along string 2");
//! assert_eq!(Weights::PROPOSAL.cost(&moves.features()), 2.5);
//!
//! // With finger 1 in the middle of A, it stays on string 3 and finger 3 still slides.
//! let offers = refingerings(&needed_changes(&score), &score.shapes, score.capo, &Weights::PROPOSAL);
//! assert_eq!(ChangeMoves::between(&d, &offers[0].offered, score.capo).features().anchors, 1);
//! ```

mod choose;
mod features;
mod fingerings;
mod fit;
mod grip;
mod labels;
mod moves;
mod neck;
mod needed;
mod rank;
mod refinger;
mod shape_cost;

pub use choose::{Chosen, choose_fingerings};
pub use features::{Features, Weights};
pub use fingerings::fingerings;
pub use fit::{HandModel, OwnTime};
pub use grip::{Grip, Hold};
pub use moves::{ChangeMoves, FingerMove};
pub use neck::{SCALE_MM, span_mm, wire_mm};
pub use needed::{NeededChange, needed_changes};
pub use rank::{DrillPair, Played, Way, expected_s, rank_changes};
pub use refinger::{ChangedChange, Refingering, refingerings};
pub use shape_cost::ShapeParts;
