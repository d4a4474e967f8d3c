//! The page of changes in the room: which pair is drilled, what was heard of it, which needs it most.

use std::collections::BTreeMap;

use sixrung_audio::Command;
use sixrung_journal::{ChangePair, PlayedChange};
use sixrung_lesson::{Shape, frets_text};
use sixrung_listen::{ChangeEvent, DrillChord, HeardChord};
use sixrung_practice::hands::{
    ChangeMoves, DrillPair, FingerMove, Grip, HandModel, NeededChange, OwnTime, Played, choose_fingerings,
    needed_changes, rank_changes, refingerings,
};
use sixrung_practice::{ChangeTimes, Done, Moment, Step, beats_between};
use sixrung_timeline::{Alone, alone};

use super::Studio;
use super::desk::Told;
use crate::pages::{ChangesPage, DrillView, FingerMarks, PairItem};
use crate::say::chord_name;
use crate::session::{Input, Stage, bpm, chord_view, sounding};
use crate::stand::{ChangesWish, Intent, Page};
use crate::text::changes as text;

/// So many slow ones first: common practice, no source.
const SLOW: usize = 8;
/// The little plot shows so many of the last changes.
const SHOWN: usize = 24;
/// The journal is asked for so many changes: months of drills.
const REMEMBERED: u32 = 2000;
/// A learner's own time is the median of so many of the last changes, so that it follows what was learned.
const LAST: usize = 16;
const ID: u64 = u64::MAX - 1;
/// After our own chord the room is given so long to fall silent, in seconds.
const FALLS_SILENT_S: f64 = 0.6;

/// What the room knows of the page.
#[derive(Default)]
pub(super) struct Changes {
    /// The section's changes, its shapes as they are held, and its pairs, the one that needs it most first.
    needed: Vec<NeededChange>,
    grips: Vec<Option<Grip>>,
    pairs: Vec<DrillPair>,
    offer: String,
    /// The pair on the page, and what was heard of it.
    now: usize,
    times: ChangeTimes,
    taken_s: Vec<f32>,
    botched: u32,
    heard: Option<usize>,
    /// Which pairs were steady, and which were gone on from.
    steady: Vec<bool>,
    seen: Vec<bool>,
    own: OwnTimes,
    hears_second: bool,
    /// Our own chord fills the room until this output frame: nothing is counted, and the drill begins anew after it.
    ours_until: Option<u64>,
    played: Playing,
}

/// Counts what is played stroke by stroke.
#[derive(Default)]
struct Playing {
    last_s: Option<f64>,
    untold_s: f64,
}

impl Playing {
    /// A pause longer than this is none of playing, in seconds; what was played is told in pieces of so much. Design
    /// choices of ours.
    const PAUSE_S: f64 = 10.0;

    /// A stroke at this time: whole seconds of playing to tell.
    fn stroke(&mut self, at_s: f64) -> u32 {
        let since_s = self.last_s.replace(at_s).map_or(0.0, |last| at_s - last);
        self.untold_s += since_s.clamp(0.0, Self::PAUSE_S);
        if self.untold_s < Self::PAUSE_S {
            return 0;
        }
        #[expect(clippy::cast_possible_truncation, clippy::cast_sign_loss, reason = "some seconds")]
        let whole = self.untold_s as u32;
        self.untold_s -= f64::from(whole);
        whole
    }
}

impl Studio {
    /// The page is opened: the section's changes are ranked by what they ask and what is known of them.
    pub(super) fn open_changes(&mut self) {
        let capo = self.session.stage().map_or(0, |stage| stage.score.capo);
        self.changes = Changes { own: own_times(self.keeper.recent_changes(REMEMBERED), capo), ..Changes::default() };
        self.rank();
        let first = (!self.changes.pairs.is_empty()).then_some(0);
        let count = self.changes.pairs.len();
        (self.changes.steady, self.changes.seen) = (vec![false; count], vec![false; count]);
        if let Some(first) = first {
            self.drill(first);
        }
    }

    pub(super) fn close_changes(&mut self) {
        self.send(Command::Stop);
        self.tell(Told::HearChanges(None));
    }

    /// Ranks the pairs anew, with the hand fitted to the learner's times.
    fn rank(&mut self) {
        let Some(stage) = self.session.stage() else { return };
        // On one chord there is nothing to change: the section itself is asked.
        let score = &*stage.whole;
        let tempo = self.session.climb().map_or(stage.lesson.tempo, sixrung_practice::Climb::at);
        let needed = needed_changes(score);
        let chosen = choose_fingerings(&needed, &score.shapes, score.capo, &HandModel::PRIOR.weights);
        let own = |from: usize, to: usize| self.changes.own.own_time_of(score.shapes.get(from)?, score.shapes.get(to)?);
        let grip = |index: usize| chosen.grips.get(index).and_then(Option::as_ref);
        let measured: Vec<_> = needed
            .iter()
            .filter_map(|change| {
                let moves = ChangeMoves::between(grip(change.from)?, grip(change.to)?, score.capo);
                Some((moves.features(), own(change.from, change.to)?))
            })
            .collect();
        let model = HandModel::fitted(&HandModel::PRIOR, &measured);
        let played = Played { capo: score.capo, tempo, beat: stage.lesson.beat, model: &model };
        let pairs = rank_changes(&needed, &chosen.grips, played, own);
        let offers = refingerings(&needed, &score.shapes, score.capo, &HandModel::PRIOR.weights);
        let offer = offers.first().map(|offer| {
            let shape = &score.shapes[offer.shape];
            let number = |string| stage.lesson.tuning.number(string);
            text::refinger(&chord_name(&shape.name), &offer.offered, offer.gain / offer.cost, number)
        });
        self.changes.offer = offer.unwrap_or_default();
        (self.changes.needed, self.changes.grips, self.changes.pairs) = (needed, chosen.grips, pairs);
    }

    /// Begins to drill a pair.
    fn drill(&mut self, place: usize) {
        if place >= self.changes.pairs.len() {
            return;
        }
        self.changes.now = place;
        (self.changes.times, self.changes.taken_s) = (ChangeTimes::default(), Vec::new());
        (self.changes.botched, self.changes.heard) = (0, None);
        self.listen_for_pair();
    }

    /// After our own chord the ear listens again, from nothing.
    pub(super) fn changes_step(&mut self, now: Moment) {
        let is_over = self.changes.ours_until.is_some_and(|until| self.now(now).frame >= until);
        if is_over && self.page == Some(Page::Changes) {
            self.changes.ours_until = None;
            self.listen_for_pair();
        }
    }

    /// The ear listens for the pair on the page.
    fn listen_for_pair(&mut self) {
        let Some(pair) = self.changes.pairs.get(self.changes.now) else { return };
        let Some(stage) = self.session.stage() else { return };
        let shapes = sounding(stage);
        let two = [pair.shapes.0, pair.shapes.1].map(|index| shapes.get(index).cloned());
        if let [Some(first), Some(second)] = two {
            self.tell(Told::HearChanges(Some(Box::new([first, second]))));
        }
    }

    /// A stroke or a change was heard.
    pub(super) fn change_heard(&mut self, event: ChangeEvent, now: Moment) {
        match event {
            ChangeEvent::Stroke { chord, at_s } => {
                match chord {
                    HeardChord::First => self.changes.heard = Some(0),
                    HeardChord::Second => self.changes.heard = Some(1),
                    HeardChord::Unsure | HeardChord::Neither => {}
                }
                let seconds = self.changes.played.stroke(at_s);
                if seconds > 0 {
                    self.take(Input::Drilled { seconds }, now);
                }
            }
            ChangeEvent::Changed { from, to, took_s, botched } => self.changed((from, to), took_s, botched, now),
        }
    }

    fn changed(&mut self, (from, to): (DrillChord, DrillChord), took_s: f64, botched: u32, now: Moment) {
        let Some(pair) = self.changes.pairs.get(self.changes.now) else { return };
        let Some(stage) = self.session.stage() else { return };
        let shape = |chord: DrillChord| [pair.shapes.0, pair.shapes.1][chord.index()];
        let score = &*stage.whole;
        let frets = |index: usize| score.shapes.get(index).map(|shape| frets_text(&shape.strings)).unwrap_or_default();
        let key = (frets(shape(from)), frets(shape(to)));
        #[expect(clippy::cast_possible_truncation, clippy::cast_sign_loss, reason = "a change takes seconds")]
        let took_ms = (took_s * 1000.0).round().max(0.0) as u32;
        let pair = ChangePair { from: key.0.clone(), to: key.1.clone(), capo: score.capo };
        self.keeper.record_change(PlayedChange { pair, took_ms, botched, at: now });
        let changes = &mut self.changes;
        changes.botched += botched;
        changes.own.0.entry(key).or_default().push(took_s);
        #[expect(clippy::cast_possible_truncation, reason = "for drawing")]
        changes.taken_s.push(took_s as f32);
        // The slow ones are for the fingers, not for the clock.
        if changes.taken_s.len() > SLOW {
            changes.times.add(took_s);
        }
        if changes.times.is_steady() {
            changes.steady[changes.now] = true;
        }
    }

    pub(super) fn changes_wish(&mut self, wish: ChangesWish, now: Moment) {
        match wish {
            ChangesWish::Only(place) => self.drill(place),
            ChangesWish::Named(from, into) => {
                if self.page != Some(Page::Changes) {
                    self.show_page(Some(Page::Changes), now);
                }
                if let Some(place) = self.pair_named(&from, &into) {
                    self.drill(place);
                }
            }
            ChangesWish::Hear => self.hear_pair(now),
            ChangesWish::Next => {
                if let Some(seen) = self.changes.seen.get_mut(self.changes.now) {
                    *seen = true;
                }
                match self.changes.seen.iter().position(|seen| !seen) {
                    Some(next) => self.drill(next),
                    None => {
                        let steady = &self.changes.steady;
                        let all_steady = !steady.is_empty() && steady.iter().all(|steady| *steady);
                        let done = if all_steady { Done::Heard } else { Done::SelfMarked };
                        self.wish(Intent::MarkStep(Step::Changes, done), now);
                    }
                }
            }
        }
    }

    /// The place of the pair of these two shapes.
    fn pair_named(&self, from: &str, into: &str) -> Option<usize> {
        let stage = self.session.stage()?;
        let index = |name: &str| stage.whole.shapes.iter().position(|shape| shape.name == name);
        let (one, other) = (index(from)?, index(into)?);
        let wanted = (one.min(other), one.max(other));
        self.changes.pairs.iter().position(|pair| pair.shapes == wanted)
    }

    /// The learner's own times with this capo, in the last drills.
    pub(super) fn own_change_times(&self, capo: u8) -> OwnTimes {
        own_times(self.keeper.recent_changes(REMEMBERED), capo)
    }

    /// One shape of the pair, and the next time the other.
    fn hear_pair(&mut self, now: Moment) {
        let Some(pair) = self.changes.pairs.get(self.changes.now) else { return };
        let Some(stage) = self.session.stage() else { return };
        let index = if self.changes.hears_second { pair.shapes.1 } else { pair.shapes.0 };
        let (score, rate) = (&stage.whole, self.session.sound().rate);
        let Some(shape) = score.shapes.get(index).filter(|_| rate > 0) else { return };
        let Some(timeline) = alone(shape, &stage.lesson.tuning, score.capo, Alone::Strummed, (ID, rate)) else {
            return;
        };
        #[expect(clippy::cast_possible_truncation, clippy::cast_sign_loss, reason = "a few seconds")]
        let frames = ((timeline.grid.seconds(timeline.cycle) + FALLS_SILENT_S) * f64::from(rate)) as u64;
        self.changes.hears_second = !self.changes.hears_second;
        self.changes.ours_until = Some(self.now(now).frame + frames);
        self.tell(Told::HearChanges(None));
        self.play(timeline, Command::Play);
    }

    /// What the page shows now.
    pub(crate) fn changes_page(&self) -> ChangesPage {
        let changes = &self.changes;
        let mut page =
            ChangesPage { hearing: self.session.hearing(), offer: changes.offer.clone(), ..ChangesPage::default() };
        let Some(stage) = self.session.stage() else { return page };
        let score = &*stage.whole;
        page.capo = score.capo;
        page.pairs = changes.pairs.iter().enumerate().map(|(place, pair)| self.pair_item(stage, place, pair)).collect();
        let Some(pair) = changes.pairs.get(changes.now) else { return page };
        let two = [pair.shapes.0, pair.shapes.1];
        let grip = |index: usize| changes.grips.get(index).and_then(Option::as_ref);
        let (Some(first), Some(second)) = (grip(two[0]), grip(two[1])) else { return page };
        let moves = ChangeMoves::between(first, second, score.capo);
        let slow = changes.taken_s.len() < SLOW;
        let is_last = changes.seen.iter().filter(|seen| !**seen).count() <= 1;
        // What was steady once in this visit stays so.
        let is_steady = changes.steady.get(changes.now) == Some(&true);
        let sentence = match (slow, is_steady, is_last) {
            (true, ..) => text::SLOWLY,
            (false, false, _) => text::ON,
            (false, true, false) => text::STEADY,
            (false, true, true) => text::STEADY_LAST,
        };
        page.drill = Some(DrillView {
            chords: two.map(|index| chord_view(stage, Some(index))),
            heard: changes.heard,
            fingers: marks(&moves),
            sentence: sentence.to_owned(),
            moves: text::moves(&moves, |string| stage.lesson.tuning.number(string)),
            count: changes.taken_s.len(),
            botched: changes.botched,
            slow: SLOW,
            times_s: changes.taken_s.iter().rev().take(SHOWN).rev().copied().collect(),
            median_s: changes.times.median().zip(changes.times.spread()),
            fits: changes.times.median().and_then(|median_s| self.fits(pair, median_s)),
            is_steady,
            is_last,
        });
        page
    }

    fn pair_item(&self, stage: &Stage, place: usize, pair: &DrillPair) -> PairItem {
        let name = |index| chord_view(stage, Some(index)).name;
        let times = pair.ways.iter().map(|way| way.change.times).sum();
        let shapes = &stage.whole.shapes;
        let own = pair
            .ways
            .iter()
            .filter_map(|way| self.changes.own.own_time_of(shapes.get(way.change.from)?, shapes.get(way.change.to)?));
        let slowest = own.map(|own| own.seconds).reduce(f64::max);
        let fits = slowest.and_then(|median_s| self.fits(pair, median_s));
        let is_now = place == self.changes.now;
        PairItem {
            name: format!("{} – {}", name(pair.shapes.0), name(pair.shapes.1)),
            // The time of the one being played stands above.
            detail: match is_now && !self.changes.taken_s.is_empty() {
                true => text::often(times),
                false => text::pair(slowest, fits.as_deref(), times),
            },
            is_now,
        }
    }

    /// The tempo a change of so many seconds fits: the shortest time the section leaves for it is long enough there.
    fn fits(&self, pair: &DrillPair, median_s: f64) -> Option<String> {
        let stage = self.session.stage()?;
        let ways = [pair.shapes, (pair.shapes.1, pair.shapes.0)];
        let beats = ways.iter().filter_map(|(from, to)| beats_between(&stage.whole, stage.lesson.beat, *from, *to));
        let fewest = beats.reduce(f64::min)?;
        std::iter::once(median_s).collect::<ChangeTimes>().fits(fewest).map(bpm)
    }
}

/// The learner's own times, by pair of frets, newest last.
#[derive(Default)]
pub(super) struct OwnTimes(BTreeMap<(String, String), Vec<f64>>);

/// What the journal knows of changes with this capo.
fn own_times(newest_first: Vec<PlayedChange>, capo: u8) -> OwnTimes {
    let mut own = OwnTimes::default();
    for change in newest_first.into_iter().rev().filter(|change| change.pair.capo == capo) {
        own.0.entry((change.pair.from, change.pair.to)).or_default().push(f64::from(change.took_ms) / 1000.0);
    }
    own
}

impl OwnTimes {
    /// The median of the last ones.
    pub(super) fn own_time_of(&self, from: &Shape, to: &Shape) -> Option<OwnTime> {
        let times = self.0.get(&(frets_text(&from.strings), frets_text(&to.strings)))?;
        let last: ChangeTimes = times.iter().rev().take(LAST).copied().collect();
        let changes = u32::try_from(last.count()).ok()?;
        Some(OwnTime { seconds: last.median()?, changes })
    }
}

/// Fingers that need not let go, on either diagram.
fn marks(moves: &ChangeMoves) -> [FingerMarks; 2] {
    let mut marks = [FingerMarks::default(), FingerMarks::default()];
    for (_, moved) in &moves.fingers {
        let (Some(from), Some(to)) = (moved.before(), moved.after()) else { continue };
        match moved {
            FingerMove::Stays { .. } => {
                marks[0].stay.extend(from.from..=from.to);
                marks[1].stay.extend(to.from..=to.to);
            }
            FingerMove::Slides { .. } => {
                marks[0].slide.extend(from.from..=from.to);
                marks[1].slide.extend(to.from..=to.to);
            }
            _ => {}
        }
    }
    marks
}
