//! The player's chords in the room: which are asked for, what was learned of them, on which guitar and when.

use std::collections::BTreeMap;
use std::sync::Arc;

use sixrung_listen::{LEARNED_VERSION, LearnPlan, LearnWait, Learned, LearnedShape, PlannedShape};
use sixrung_practice::{Moment, UtcOffset};

use super::Studio;
use super::desk::Told;
use crate::learned_text;
use crate::pages::{AskedChord, ChordItem, ChordState, ChordsPage};
use crate::session::{Input, chord_view, nothing_known, sounding};
use crate::stand::{ChordsWish, Intent};
use crate::text::chords as text;

/// What the guitar is called until the player calls it otherwise.
const GUITAR: &str = "my guitar";
/// Under this the directions of strokes are kept.
const DIRECTIONS: &str = "directions";

/// What the room knows of chords.
pub(super) struct Chords {
    zone: UtcOffset,
    guitar: String,
    guitars: Vec<String>,
    /// By name, as the journal keeps them: each shape by itself, and the directions.
    kept: BTreeMap<String, (Learned, Moment)>,
    /// The shapes asked for, as indices into the stretch's shapes.
    asked: Vec<usize>,
}

/// Which chords are asked for.
#[derive(Clone, Copy)]
pub(super) enum Which {
    /// Those not known yet.
    Unknown,
    /// All of the stretch.
    All,
    /// One.
    Only(usize),
}

impl Chords {
    pub(super) fn new(zone: UtcOffset) -> Self {
        Self { zone, guitar: GUITAR.to_owned(), guitars: Vec::new(), kept: BTreeMap::new(), asked: Vec::new() }
    }

    /// All that is known of this guitar.
    fn known(&self) -> Learned {
        self.kept.values().fold(nothing_known(), |mut all, (learned, _)| {
            all.shapes.extend(learned.shapes.iter().cloned());
            all.direction = all.direction.or_else(|| learned.direction.clone());
            all
        })
    }

    fn learned(&self, shape: &PlannedShape) -> Option<Moment> {
        let mut kept = self.kept.values();
        kept.find_map(|(learned, at)| learned.shape(shape).map(|_| *at))
    }

    /// In words: today, yesterday, so many days ago.
    fn when(&self, at: Moment, now: Moment) -> String {
        text::days_ago(now.day(self.zone).0 - at.day(self.zone).0)
    }
}

/// A shape's name in the journal: what its strings sound, on which open strings.
fn name(strings: &[Option<u8>], open: &[u8]) -> String {
    let strings = strings.iter().map(|key| key.map_or_else(|| "x".to_owned(), |key| key.to_string()));
    let open = open.iter().map(u8::to_string);
    format!("shape {} on {}", strings.collect::<Vec<_>>().join(" "), open.collect::<Vec<_>>().join(" "))
}

/// The shape as it is kept: one heard again by its slow strokes alone keeps the attack it had.
fn renewed(shape: &LearnedShape, before: Option<&(Learned, Moment)>) -> LearnedShape {
    let old = before.and_then(|(learned, _)| learned.shapes.first());
    let attack_db = match old {
        Some(old) if shape.attack_db.is_empty() => old.attack_db.clone(),
        _ => shape.attack_db.clone(),
    };
    LearnedShape { attack_db, ..shape.clone() }
}

impl Studio {
    /// Takes up a guitar, with what was learned of it.
    pub(super) fn take_guitar(&mut self, guitar: Option<String>, now: Moment) {
        if let Some(guitar) = guitar.filter(|guitar| !guitar.trim().is_empty()) {
            self.chords.guitar = guitar.trim().to_owned();
        }
        self.chords.guitars = self.keeper.guitars();
        let kept = self.keeper.all_learned(&self.chords.guitar).into_iter();
        // What another version kept means nothing to this one.
        self.chords.kept =
            kept.filter_map(|(what, value, at)| Some((what, (learned_text::read(&value).ok()?, at)))).collect();
        self.know(now);
    }

    /// Tells session and ear what is known.
    fn know(&mut self, now: Moment) {
        let known = Arc::new(self.chords.known());
        self.tell(Told::Know(Arc::clone(&known)));
        self.take(Input::Knows(known), now);
    }

    /// Keeps what was just learned, shape by shape.
    pub(super) fn keep_learned(&mut self, learned: &Learned, now: Moment) {
        for shape in &learned.shapes {
            let what = name(&shape.strings, &shape.open);
            let shape = renewed(shape, self.chords.kept.get(&what));
            self.keep(what, Learned { shapes: vec![shape], ..nothing_known() }, now);
        }
        if let Some(direction) = learned.direction.clone() {
            self.keep(DIRECTIONS.to_owned(), Learned { direction: Some(direction), ..nothing_known() }, now);
        }
        if !self.chords.guitars.contains(&self.chords.guitar) {
            self.chords.guitars.push(self.chords.guitar.clone());
        }
        self.know(now);
    }

    fn keep(&mut self, what: String, learned: Learned, now: Moment) {
        debug_assert_eq!(learned.version, LEARNED_VERSION);
        let text = learned_text::write(&learned, &format!("Of the guitar \"{}\".", self.chords.guitar));
        self.keeper.set_learned(&self.chords.guitar, &what, Some((text, now)));
        self.chords.kept.insert(what, (learned, now));
    }

    pub(super) fn chords_wish(&mut self, wish: ChordsWish, now: Moment) {
        let is_asking = match self.session.learning() {
            Some(progress) => progress.wait != LearnWait::Done,
            // The ear has not said anything yet; without a microphone it never will.
            None => self.session.sound().input,
        };
        match wish {
            ChordsWish::Next if is_asking => self.tell(Told::HearNext),
            ChordsWish::Next => self.wish(Intent::ClosePage, now),
            ChordsWish::Again if is_asking => self.tell(Told::HearAgain),
            ChordsWish::Again => self.hear_chords(Which::All),
            ChordsWish::Only(index) => self.hear_chords(Which::Only(index)),
            ChordsWish::Forget => {
                for what in std::mem::take(&mut self.chords.kept).into_keys() {
                    self.keeper.set_learned(&self.chords.guitar, &what, None);
                }
                self.know(now);
                self.hear_chords(Which::Unknown);
            }
            ChordsWish::Guitar(guitar) => {
                self.keeper.set("guitar", guitar.trim());
                self.take_guitar(Some(guitar), now);
                self.hear_chords(Which::Unknown);
            }
        }
    }

    /// Begins to ask for chords.
    pub(super) fn hear_chords(&mut self, which: Which) {
        let Some(stage) = self.session.stage() else { return };
        let shapes = sounding(stage);
        let all = 0..shapes.len();
        self.chords.asked = match which {
            Which::All => all.collect(),
            Which::Unknown => all.filter(|index| self.chords.learned(&shapes[*index]).is_none()).collect(),
            Which::Only(index) => all.filter(|shape| *shape == index).collect(),
        };
        let asked: Arc<[PlannedShape]> = self.chords.asked.iter().map(|index| shapes[*index].clone()).collect();
        // Who strums is known from the first time: then the slow strokes are enough.
        let knows_directions = self.chords.kept.contains_key(DIRECTIONS) && !matches!(which, Which::All);
        let plan = if knows_directions { LearnPlan::slow(asked) } else { LearnPlan::new(asked) };
        self.tell(Told::HearChords(Some(plan)));
    }

    /// What the page of chords shows now.
    pub(crate) fn chords_page(&self, now: Moment) -> ChordsPage {
        let chords = &self.chords;
        let mut page = ChordsPage {
            guitar: chords.guitar.clone(),
            guitars: chords.guitars.clone(),
            hearing: self.session.hearing(),
            directions: chords.kept.get(DIRECTIONS).map(|(_, at)| chords.when(*at, now)),
            ..ChordsPage::default()
        };
        if !page.guitars.contains(&page.guitar) {
            page.guitars.push(page.guitar.clone());
        }
        let Some(stage) = self.session.stage() else { return page };
        let shapes = sounding(stage);
        let progress = self.session.learning();
        let task = progress.and_then(|progress| progress.task);
        let place = task.map(|task| task.shape);
        let asked = place.and_then(|place| chords.asked.get(place).copied());
        page.capo = stage.score.capo;
        page.is_done = progress.is_some_and(|progress| progress.wait == LearnWait::Done);
        page.now = progress.zip(task).zip(asked).map(|((progress, task), shape)| AskedChord {
            chord: chord_view(stage, Some(shape)),
            number: place.map_or(0, |place| place + 1),
            of: chords.asked.len(),
            task,
            heard: progress.heard,
            wait: progress.wait,
            trouble: progress.trouble,
        });
        let item = |(index, shape): (usize, &PlannedShape)| ChordItem {
            name: chord_view(stage, Some(index)).name,
            state: match chords.learned(shape) {
                _ if asked == Some(index) => ChordState::Now,
                Some(at) => ChordState::Known(chords.when(at, now)),
                None if chords.asked.iter().position(|asked| *asked == index) > place && place.is_some() => {
                    ChordState::Coming
                }
                None => ChordState::LeftOut,
            },
        };
        page.shapes = shapes.iter().enumerate().map(item).collect();
        page
    }
}
