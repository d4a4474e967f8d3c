//! The worst bar of a pass heard again, on simulated devices: what the speakers then play is what the microphone heard,
//! in its place beside the lesson's part; and it is gone with the next pass, and never on the disk.
//!
//! The player of this test plays what the speakers play, later by a known time, his strokes starting up or down as
//! chance has it, so that what he plays is no echo of ours.

use std::path::Path;
use std::sync::{Arc, Mutex};

use sixrung::library::Source;
use sixrung::stand::{HearAgain, Intent, Part, Phase, StandView, Voice, Volumes};
use sixrung::studio::Studio;
use sixrung_devices::{SimulatedConfig, Simulation, Sound};
use sixrung_practice::{Moment, UtcOffset};

const RATE: u32 = 48_000;
const BEGIN: Moment = Moment(1_795_543_200);
/// The player is late by this, in frames: 50 ms.
const LATE: usize = 2_400;

/// What the speakers played, and the player, who may rest.
#[derive(Default)]
struct Tape {
    speakers: Vec<f32>,
    plays: bool,
    level: [f32; 2],
    since: u64,
    turned: f32,
    dice: u32,
}

impl Tape {
    /// What the player plays while the speakers play `sounds`.
    fn play(&mut self, sounds: f32) -> f32 {
        self.speakers.push(sounds);
        let late = self.speakers.len().checked_sub(1 + LATE).map_or(0.0, |late| self.speakers[late]);
        // A stroke is where the last 2 ms are far louder than the last 60.
        for (level, seconds) in self.level.iter_mut().zip([0.002, 0.060]) {
            *level += (late * late - *level) / (48_000.0 * seconds);
        }
        self.since += 1;
        if self.level[0] > 3.0 * self.level[1] && self.since > u64::from(RATE) / 10 {
            self.since = 0;
            self.dice = self.dice.wrapping_mul(1_664_525).wrapping_add(1_013_904_223);
            self.turned = if self.dice >> 31 == 0 { 1.0 } else { -1.0 };
        }
        if self.plays { self.turned * late } else { 0.0 }
    }
}

struct Room {
    studio: Studio,
    simulation: Simulation,
    tape: Arc<Mutex<Tape>>,
    tenths: i64,
}

impl Room {
    fn open(folder: &Path) -> Self {
        let (sound, mut simulation) = Sound::simulated(SimulatedConfig::default());
        let tape = Arc::new(Mutex::new(Tape { plays: true, turned: 1.0, dice: 1, ..Tape::default() }));
        let shared = Arc::clone(&tape);
        simulation.enter(move |_: u64, speakers: &[f32], microphone: &mut [f32]| {
            let mut tape = shared.lock().expect("nobody panics with it");
            for (heard, pair) in microphone.iter_mut().zip(speakers.chunks(2)) {
                *heard = tape.play(f32::midpoint(pair[0], pair[1]));
            }
        });
        let mut studio = Studio::simulated(sound, Some(folder), BEGIN, UtcOffset(0));
        studio.open_lesson(Source::from_argument("lantern-on-the-quay"), BEGIN);
        let mut room = Self { studio, simulation, tape, tenths: 0 };
        room.run(10);
        room.wish(Intent::SetVolume(Part::Click, Volumes::SILENT_DB));
        room
    }

    fn now(&self) -> Moment {
        Moment(BEGIN.0 + self.tenths / 10)
    }

    fn run(&mut self, tenths: u32) {
        for _ in 0..tenths {
            self.simulation.advance(u64::from(RATE) / 10);
            self.tenths += 1;
            self.studio.step(self.now());
        }
    }

    fn wish(&mut self, intent: Intent) {
        let now = self.now();
        self.studio.wish(intent, now);
    }

    fn view(&self) -> StandView {
        self.studio.view(self.now())
    }

    /// Runs until a result lies on the sheet whose worst bar can be heard again.
    fn heard_pass(&mut self) -> StandView {
        for _ in 0..2_000 {
            self.run(1);
            let view = self.view();
            if view.result.as_ref().is_some_and(|result| result.hear.is_some()) {
                return view;
            }
        }
        panic!("no pass to hear again: {:?}", self.view().result);
    }

    /// What the speakers play of this wish, until it is over.
    fn played(&mut self, wish: HearAgain) -> Vec<f32> {
        let before = self.tape.lock().expect("nobody panics with it").speakers.len();
        self.tape.lock().expect("nobody panics with it").plays = false;
        self.wish(Intent::HearAgain(wish));
        self.run(2);
        assert!(self.studio.session().is_playing());
        for _ in 0..200 {
            self.run(1);
            if !self.studio.session().is_playing() {
                return self.tape.lock().expect("nobody panics with it").speakers[before..].to_vec();
            }
        }
        panic!("it does not end");
    }
}

/// By how many frames `one` lies behind `other` (ahead: negative), where they are most alike. Strokes may be turned over.
fn lag(one: &[f32], other: &[f32], most: i32) -> i32 {
    let at = |sound: &[f32], index: i32| {
        usize::try_from(index).ok().and_then(|index| sound.get(index)).map_or(0.0, |sample| sample.abs())
    };
    let length = i32::try_from(other.len().min(100_000)).expect("seconds");
    let likeness = |lag: i32| (0..length).map(|index| at(one, index + lag) * at(other, index)).sum::<f32>();
    (-most..=most).max_by(|a, b| likeness(*a).total_cmp(&likeness(*b))).expect("some")
}

fn bytes_in(folder: &Path) -> u64 {
    let entries = std::fs::read_dir(folder).expect("the folder");
    entries
        .flatten()
        .map(|entry| {
            if entry.path().is_dir() { bytes_in(&entry.path()) } else { entry.metadata().map_or(0, |data| data.len()) }
        })
        .sum()
}

#[test]
fn the_worst_bar_is_heard_as_played_beside_the_lesson_and_gone_with_the_next_pass() {
    let folder = tempfile::tempdir().expect("a folder for the journal");
    let mut room = Room::open(folder.path());
    room.wish(Intent::Forward);
    let view = room.heard_pass();
    assert_eq!(view.phase, Phase::Between);

    // The first time what sounded before still closes.
    room.played(HearAgain::Voice(Voice::You));
    assert!(matches!(room.view().phase, Phase::Paused(_)), "practice waits meanwhile");
    let you = room.played(HearAgain::Voice(Voice::You));
    let lesson = room.played(HearAgain::Voice(Voice::Lesson));
    let both = room.played(HearAgain::Voice(Voice::Both));
    // The pass before found the round trip, and this player's lateness went into it: he is on the beat, as nearly as
    // that was found (it is found to the median of strokes heard, 2 ms at most).
    let off = lag(&you, &lesson, 120);
    assert!(off.abs() <= 96, "{off} frames off the lesson");
    let energy = |sound: &[f32]| sound.iter().map(|sample| f64::from(sample * sample)).sum::<f64>();
    assert!(energy(&both) > 0.0 && (energy(&you) / energy(&lesson)).log10().abs() < 0.3, "about as loud as the lesson");

    room.wish(Intent::HearAgain(HearAgain::Slowly));
    let slow = room.played(HearAgain::Voice(Voice::You));
    let ratio = begun_length(&slow) / begun_length(&you);
    assert!((1.9..2.1).contains(&ratio), "at half the tempo it lasts twice as long: {ratio}");

    // Three minutes of a pass's sound would be megabytes.
    room.tape.lock().expect("nobody panics with it").plays = true;
    room.wish(Intent::Forward);
    room.run(30);
    assert_eq!(room.view().result, None, "the next pass is on its way");
    room.wish(Intent::Stop);
    room.run(5);
    assert!(room.view().result.is_none_or(|result| result.hear.is_none()), "and the last one is gone");
    let before = room.tape.lock().expect("nobody panics with it").speakers.len();
    room.wish(Intent::HearAgain(HearAgain::Voice(Voice::You)));
    room.run(10);
    let tape = room.tape.lock().expect("nobody panics with it").speakers[before..].to_vec();
    assert!(tape[24_000..].iter().all(|sample| sample.abs() < 1e-6), "nothing is left to play");
    drop(room);
    let kept = bytes_in(folder.path());
    assert!(kept < 400_000, "{kept} bytes on the disk: numbers, never sound");
}

/// How long something sounds, in frames.
fn begun_length(sound: &[f32]) -> f64 {
    let last = sound.iter().rposition(|sample| sample.abs() > 1e-6).expect("something sounds");
    let first = sound.iter().position(|sample| sample.abs() > 1e-6).expect("something sounds");
    f64::from(u32::try_from(last - first).expect("seconds"))
}
