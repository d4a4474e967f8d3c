//! "Let me hear your chords" on simulated devices, through the real session, ear and journal: a player who looks at what
//! is asked plays it, and from then on the ear knows; another day it still does.
//!
//! The player's strings are our own synthesiser's: this shows the plumbing. The ear is held by strings of other makers.

use std::collections::VecDeque;
use std::path::Path;
use std::sync::{Arc, Mutex};

use sixrung::library::Source;
use sixrung::pages::{ChordState, PageView};
use sixrung::stand::{ChordsWish, Intent, Page};
use sixrung::studio::Studio;
use sixrung_audio::{Render, RenderOptions};
use sixrung_devices::{SimulatedConfig, Simulation, Sound};
use sixrung_lesson::{Direction, Stretch, layout, read};
use sixrung_listen::{LearnTask, LearnWait, PlannedShape, Way};
use sixrung_practice::{Moment, UtcOffset};
use sixrung_timeline::{Event, EventKind, Tempo, TempoGrid, Tick, Timeline};

const RATE: u32 = 48_000;
const ZONE: UtcOffset = UtcOffset(0);
const BEGIN: Moment = Moment(1_795_543_200);
const A_DAY_S: i64 = 86_400;

/// The verse's shapes, by what they sound.
fn shapes() -> Arc<[PlannedShape]> {
    let text = Source::from_argument("lantern-on-the-quay").text().expect("a demo");
    let lesson = read(&text).expect("a lesson without a fault").lesson;
    let section = Stretch::Section(lesson.sections[0].name.clone());
    let arrangement = lesson.arrangements.first().cloned().unwrap_or_default();
    let score = layout(&lesson, &section, &arrangement).expect("a section of it");
    PlannedShape::all(&score, &lesson.tuning)
}

/// The strokes of a task, as a player would play them.
fn played(shape: &PlannedShape, task: LearnTask) -> Vec<f32> {
    let apart = if task.way == Way::Slow { 1_200 } else { 430 };
    let mut events = Vec::new();
    for stroke in 0..task.strokes {
        let direction = task.direction(stroke as usize);
        let sounding: Vec<(usize, _)> =
            shape.strings.iter().enumerate().filter_map(|(i, p)| Some((i, (*p)?))).collect();
        let order: Vec<_> = match direction {
            Direction::Down => sounding,
            Direction::Up => sounding.into_iter().rev().take(4).collect(),
        };
        for (place, (string, pitch)) in (0_u32..).zip(order) {
            let string = u8::try_from(string).expect("few");
            let kind = EventKind::Pluck { string, pitch, velocity: 0.7, direction };
            events.push(Event { at: Tick(stroke * apart), delay_ns: place * 9_000_000, kind });
        }
    }
    let length = Tick(task.strokes * apart + 200);
    let timeline = Timeline {
        id: 1,
        // A tick is a millisecond.
        grid: TempoGrid::new(RATE, Tempo::from_bpm(60.0).expect("in range"), Tick(1000)),
        intro: Tick::ZERO,
        intro_events: Box::default(),
        cycle: length,
        cycle_events: events.into(),
        pass_at: Tick::ZERO,
        pass: length,
        passes: Some(1),
    };
    let options = RenderOptions { tail_s: 0.1, ..RenderOptions::default() };
    let sound = Render::new(timeline, &options).expect("it ends").samples();
    sound.chunks_exact(2).map(|pair| 0.5 * (pair[0] + pair[1])).collect()
}

struct Room {
    studio: Studio,
    simulation: Simulation,
    microphone: Arc<Mutex<VecDeque<f32>>>,
    now: Moment,
    tenths: i64,
}

impl Room {
    fn open(folder: &Path, day: i64) -> Self {
        let (sound, mut simulation) = Sound::simulated(SimulatedConfig::default());
        let microphone = Arc::new(Mutex::new(VecDeque::new()));
        let played = Arc::clone(&microphone);
        let mut dice = 1_u32;
        simulation.enter(move |_: u64, _: &[f32], heard: &mut [f32]| {
            let mut played = played.lock().expect("nobody panics with it");
            for heard in heard {
                dice = dice.wrapping_mul(1_664_525).wrapping_add(1_013_904_223);
                let noise = f32::from(u16::try_from(dice >> 16).expect("16 bits")) / 65_536.0 - 0.5;
                *heard = played.pop_front().unwrap_or(0.0) + 0.001 * noise;
            }
        });
        let now = Moment(BEGIN.0 + day * A_DAY_S);
        let mut studio = Studio::simulated(sound, Some(folder), now, ZONE);
        studio.open_lesson(Source::from_argument("lantern-on-the-quay"), now);
        let mut room = Self { studio, simulation, microphone, now, tenths: 0 };
        room.run(10);
        room
    }

    fn run(&mut self, tenths: u32) {
        for _ in 0..tenths {
            self.simulation.advance(u64::from(RATE) / 10);
            self.tenths += 1;
            self.studio.step(Moment(self.now.0 + self.tenths / 10));
        }
    }

    fn states(&self) -> Vec<ChordState> {
        match self.studio.page_view(self.now) {
            Some(PageView::Chords(page)) => page.shapes.into_iter().map(|item| item.state).collect(),
            other => panic!("the page of chords is open: {other:?}"),
        }
    }

    /// Plays what is asked for until `done`, or all was heard; says how many tasks were played.
    fn play_along(&mut self, shapes: &[PlannedShape], done: impl Fn(usize) -> bool) -> usize {
        let mut tasks = 0;
        for _ in 0..3_000 {
            self.run(1);
            let Some(progress) = self.studio.session().learning() else { continue };
            let silent = self.microphone.lock().expect("nobody panics with it").is_empty();
            match (progress.wait, progress.task) {
                (LearnWait::Done, _) => return tasks,
                (LearnWait::Strokes, Some(task)) if silent && progress.heard == 0 => {
                    if done(tasks) {
                        return tasks;
                    }
                    tasks += 1;
                    let sound = played(&shapes[task.shape], task);
                    self.microphone.lock().expect("nobody panics with it").extend(sound);
                }
                _ => assert_eq!(progress.trouble, None, "{progress:?}"),
            }
        }
        panic!("it does not end: {:?}", self.studio.session().learning());
    }
}

#[test]
fn chords_are_learned_without_a_key_pressed_and_known_another_day() {
    let folder = tempfile::tempdir().expect("a folder for the journal");
    let shapes = shapes();
    let mut room = Room::open(folder.path(), 0);
    room.studio.wish(Intent::OpenPage(Page::Chords), room.now);
    let tasks = room.play_along(&shapes, |_| false);
    assert_eq!(tasks, 2 * shapes.len(), "slow strokes and strokes in turn, each once");
    assert_eq!(room.states(), vec![ChordState::Known("today".to_owned()); shapes.len()]);
    drop(room);

    let mut room = Room::open(folder.path(), 2);
    room.studio.wish(Intent::OpenPage(Page::Chords), room.now);
    room.run(5);
    assert_eq!(room.states(), vec![ChordState::Known("2 days ago".to_owned()); shapes.len()]);
    assert_eq!(room.studio.session().learning().map(|progress| progress.wait), Some(LearnWait::Done));

    room.studio.wish(Intent::Chords(ChordsWish::Guitar("the other one".to_owned())), room.now);
    room.run(5);
    assert!(room.states().iter().all(|state| !matches!(state, ChordState::Known(_))), "another guitar is unknown");
    room.studio.wish(Intent::Chords(ChordsWish::Guitar("my guitar".to_owned())), room.now);
    room.studio.wish(Intent::Chords(ChordsWish::Forget), room.now);
    room.run(5);
    assert!(room.states().iter().all(|state| !matches!(state, ChordState::Known(_))), "forgotten");
    drop(room);
    let room = Room::open(folder.path(), 3);
    assert!(room.studio.session().known().shapes.is_empty(), "and forgotten for good");
}

#[test]
fn who_leaves_half_way_keeps_what_was_heard_and_a_chord_can_be_left_out() {
    let folder = tempfile::tempdir().expect("a folder for the journal");
    let shapes = shapes();
    let mut room = Room::open(folder.path(), 0);
    room.studio.wish(Intent::OpenPage(Page::Chords), room.now);
    room.studio.wish(Intent::Chords(ChordsWish::Next), room.now);
    room.play_along(&shapes, |tasks| tasks == 2);
    room.studio.wish(Intent::ClosePage, room.now);
    room.run(2);
    let known: Vec<bool> = shapes.iter().map(|shape| room.studio.session().known().shape(shape).is_some()).collect();
    let expected: Vec<bool> = (0..shapes.len()).map(|index| index == 1).collect();
    assert_eq!(known, expected, "the first was left out, the second heard, the others not reached");
}
