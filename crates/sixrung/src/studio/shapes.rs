//! The page of shapes in the room: fingers one by one, strings heard one by one.

use std::sync::Arc;

use sixrung_audio::Command;
use sixrung_drawing::diagram::placements;
use sixrung_lesson::{Finger, Shape, Tuning};
use sixrung_listen::Sounding;
use sixrung_practice::{Done, Moment, Step};
use sixrung_timeline::{Alone, alone};

use super::Studio;
use super::desk::{Told, Tune};
use crate::pages::{ShapeItem, ShapesPage};
use crate::session::chord_view;
use crate::stand::{Intent, ShapesWish};
use crate::text::shapes as text;

/// So near its pitch a string counts as this one, in cents: a guitar is rarely in tune to better, and a fret away is a
/// hundred. A design choice of ours.
const NEAR_CENTS: f64 = 40.0;
/// After our own sound ended, the room is given so long to fall silent, in seconds.
const FALLS_SILENT_S: f64 = 0.6;
/// Tells our own shapes from what the session plays.
const ID: u64 = u64::MAX;
/// Under this the journal keeps that the diagram was explained.
const MET: &str = "met.diagram";

/// What the room knows of the page.
#[derive(Default)]
pub(super) struct Shapes {
    now: usize,
    placed: usize,
    /// One entry a shape of the section, one a string.
    rings: Vec<Vec<bool>>,
    seen: Vec<bool>,
    next: Option<Alone>,
    /// Our own sound fills the room until this output frame.
    ours_until: u64,
    explains: bool,
}

impl Studio {
    /// The section's shapes in the order they come.
    fn section_shapes(&self) -> Vec<Arc<Shape>> {
        self.session.stage().map(|stage| stage.shapes.clone()).unwrap_or_default()
    }

    /// The page is opened.
    pub(super) fn open_shapes(&mut self) {
        let shapes = self.section_shapes();
        let explains = !self.keeper.settings().contains_key(MET);
        self.keeper.set(MET, "yes");
        let rings = shapes.iter().map(|shape| vec![false; shape.strings.len()]).collect();
        self.shapes = Shapes { rings, seen: vec![false; shapes.len()], explains, ..Shapes::default() };
        self.tune_to_shape();
    }

    /// Leaves the page: our own sound falls silent.
    pub(super) fn close_shapes(&mut self) {
        self.send(Command::Stop);
        self.tell(Told::Tune(None));
    }

    /// The ear listens for the strings of the shape now shown.
    fn tune_to_shape(&mut self) {
        let pitches: Vec<_> = self.shape_pitches().into_iter().flatten().collect();
        let Some(last) = pitches.last().copied() else { return self.tell(Told::Tune(None)) };
        let padded = pitches.iter().copied().chain(std::iter::repeat(last));
        let tuning = Tuning::new(padded.take(pitches.len().max(Tuning::MIN_STRINGS)).collect());
        self.tell(Told::Tune(tuning.map(|tuning| Tune { tuning, capo: 0, string: None })));
    }

    /// What each string of the shape now shown should sound.
    fn shape_pitches(&self) -> Vec<Option<sixrung_lesson::Pitch>> {
        let Some(stage) = self.session.stage() else { return Vec::new() };
        let shape = stage.shapes.get(self.shapes.now);
        shape.map(|shape| shape.pitches(&stage.lesson.tuning, stage.score.capo)).unwrap_or_default()
    }

    /// The ear heard a string, or nothing.
    pub(super) fn shape_string_heard(&mut self, sounding: &Sounding, now: Moment) {
        let Sounding::String(reading) = sounding else { return };
        let is_ours = self.now(now).frame < self.shapes.ours_until;
        if is_ours || reading.cents.abs() > NEAR_CENTS {
            return;
        }
        let pitches = self.shape_pitches();
        let Some(rings) = self.shapes.rings.get_mut(self.shapes.now) else { return };
        // Of strings of one pitch each rings.
        for (ring, pitch) in rings.iter_mut().zip(pitches) {
            *ring |= pitch == Some(reading.target);
        }
    }

    pub(super) fn shapes_wish(&mut self, wish: ShapesWish, now: Moment) {
        match wish {
            ShapesWish::Next => self.next_finger(now),
            ShapesWish::Hear => self.hear_shape(now),
            ShapesWish::Only(index) => self.show_shape(index),
            ShapesWish::Explain => self.shapes.explains = !self.shapes.explains,
        }
    }

    fn show_shape(&mut self, index: usize) {
        if index >= self.shapes.rings.len() {
            return;
        }
        (self.shapes.now, self.shapes.placed, self.shapes.next) = (index, 0, None);
        self.tune_to_shape();
    }

    /// One more finger; with all of them down, the next shape; after the last, the step is done.
    fn next_finger(&mut self, now: Moment) {
        let shapes = self.section_shapes();
        let Some(shape) = shapes.get(self.shapes.now) else { return self.wish(Intent::ClosePage, now) };
        // After the last finger the strings are asked for.
        if self.shapes.placed <= placements(shape).len() {
            self.shapes.placed += 1;
            return;
        }
        self.shapes.seen[self.shapes.now] = true;
        match self.shapes.seen.iter().position(|seen| !seen) {
            Some(next) => self.show_shape(next),
            None => {
                let all_ring = (0..shapes.len()).all(|index| self.rings(index, &shapes[index]));
                let done = if all_ring { Done::Heard } else { Done::SelfMarked };
                self.wish(Intent::MarkStep(Step::Shapes, done), now);
            }
        }
    }

    /// Whether every string of a shape that should ring was heard.
    fn rings(&self, index: usize, shape: &Shape) -> bool {
        let rings = self.shapes.rings.get(index).into_iter().flatten();
        shape.strings.iter().zip(rings).all(|(string, rings)| *rings || string.fret().is_none())
    }

    /// Strummed, and the next time string by string.
    fn hear_shape(&mut self, now: Moment) {
        let how = self.shapes.next.unwrap_or(Alone::Strummed);
        let Some(stage) = self.session.stage() else { return };
        let rate = self.session.sound().rate;
        let Some(shape) = stage.shapes.get(self.shapes.now).filter(|_| rate > 0) else { return };
        let Some(timeline) = alone(shape, &stage.lesson.tuning, stage.score.capo, how, (ID, rate)) else { return };
        #[expect(clippy::cast_possible_truncation, clippy::cast_sign_loss, reason = "a few seconds")]
        let frames = ((timeline.grid.seconds(timeline.cycle) + FALLS_SILENT_S) * f64::from(rate)) as u64;
        self.shapes.ours_until = self.now(now).frame + frames;
        self.shapes.next = Some(match how {
            Alone::Strummed => Alone::StringByString,
            Alone::StringByString => Alone::Strummed,
        });
        self.play(timeline, Command::Play);
    }

    /// What the page shows now.
    pub(crate) fn shapes_page(&self, now: Moment) -> ShapesPage {
        let mut page =
            ShapesPage { hearing: self.session.hearing(), explains: self.shapes.explains, ..ShapesPage::default() };
        let Some(stage) = self.session.stage() else { return page };
        let item = |(index, shape): (usize, &Arc<Shape>)| ShapeItem {
            chord: chord_view(stage, Some(index)),
            is_done: self.shapes.seen.get(index) == Some(&true) || self.rings(index, shape),
        };
        page.shapes = stage.shapes.iter().enumerate().map(item).collect();
        (page.now, page.placed, page.capo) = (self.shapes.now, self.shapes.placed, stage.score.capo);
        let Some(shape) = stage.shapes.get(page.now) else { return page };
        let number = |index| stage.lesson.tuning.number(index);
        let rings = self.shapes.rings.get(page.now);
        let ring = |(index, string): (usize, &sixrung_lesson::StringUse)| {
            string.fret().map(|_| rings.and_then(|rings| rings.get(index)) == Some(&true))
        };
        page.rings = shape.strings.iter().enumerate().map(ring).collect();
        let fingers = placements(shape);
        let is_ours = self.now(now).frame < self.shapes.ours_until;
        let is_last = self.shapes.seen.iter().filter(|seen| !**seen).count() <= 1;
        (page.sentence, page.more) = match page.placed {
            _ if is_ours => (text::LISTEN.to_owned(), String::new()),
            0 if !fingers.is_empty() => (text::OPEN_HAND.to_owned(), text::OPEN_HAND_MORE.to_owned()),
            placed if (1..=fingers.len()).contains(&placed) => {
                let at = fingers[placed - 1];
                let words = match at.strings {
                    (from, to) if from != to => {
                        text::barre(at.finger.unwrap_or(Finger::Index), number(from), number(to), at.fret)
                    }
                    (string, _) => text::finger(at.finger, number(string), at.fret),
                };
                (words, text::placed(placed, fingers.len()))
            }
            _ if !self.session.sound().input => (text::STRUM.to_owned(), text::STRUM_MORE.to_owned()),
            _ => {
                let of = page.rings.iter().flatten().count();
                let heard = page.rings.iter().flatten().filter(|rings| **rings).count();
                match (heard == of, is_last) {
                    (false, _) => (text::PLUCK.to_owned(), text::heard(heard, of)),
                    (true, false) => (text::RINGS.to_owned(), text::RINGS_MORE.to_owned()),
                    (true, true) => (text::RINGS.to_owned(), text::RINGS_LAST.to_owned()),
                }
            }
        };
        page.is_last = is_last;
        page.listens = page.placed > fingers.len() || fingers.is_empty();
        page.mutes = shape.mute_notes.iter().map(|note| text::mute(note, number(note.string))).collect();
        page
    }
}
