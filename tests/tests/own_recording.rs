//! The learner's own recording, on simulated devices: opened, marked, slowed, and in every pass where the click has the
//! beats; remembered the next time; stretched on the command line.
//!
//! The recording of this test sounds on the left side only, so that what comes out on the right is the program's click
//! and the difference of the two is the recording.

use std::ffi::OsString;
use std::fs::File;
use std::io::BufWriter;
use std::path::{Path, PathBuf};
use std::sync::{Arc, Mutex};

use sixrung::cli::{Outcome, run};
use sixrung::library::Source;
use sixrung::pages::{PageView, SongPage, SongState};
use sixrung::stand::{Intent, Page, Part, Phase, SongWish, Volumes};
use sixrung::studio::Studio;
use sixrung_devices::{SimulatedConfig, Simulation, Sound, decode_stereo};
use sixrung_exchange::wav::{Format, Writer};
use sixrung_practice::{Moment, UtcOffset};

const RATE: u32 = 48_000;
const BEGIN: Moment = Moment(1_795_543_200);
/// Where bar 1 of the recording lies, in seconds.
const BAR_1_S: f64 = 1.7;

/// Beats of a recording whose players begin at 124 and end at 128.
fn beats_s() -> Vec<f64> {
    let mut at = BAR_1_S;
    let mut beats = Vec::new();
    while at < 40.0 {
        beats.push(at);
        at += 60.0 / (124.0 + 4.0 * at / 40.0);
    }
    beats
}

/// Writes a WAV of clicks on the left side.
fn write_clicks(path: &Path, beats_s: &[f64], seconds: u32) {
    let mut samples = vec![0.0_f32; 2 * (seconds * RATE) as usize];
    for beat in beats_s {
        #[expect(clippy::cast_possible_truncation, clippy::cast_sign_loss, reason = "seconds of frames")]
        let from = (beat * f64::from(RATE)).round() as usize;
        for n in 0_u16..480 {
            let t = f32::from(n) / 48_000.0;
            let sample = 0.3 * (std::f32::consts::TAU * 2_000.0 * t).cos() * (-t / 0.0015).exp();
            if let Some(out) = samples.get_mut(2 * (from + usize::from(n))) {
                *out += sample;
            }
        }
    }
    let file = BufWriter::new(File::create(path).expect("the folder can be written"));
    let mut wav = Writer::new(file, RATE, Format::Float32).expect("a file");
    wav.write(&samples).expect("room on the disk");
    wav.finish().expect("room on the disk");
}

struct Room {
    studio: Studio,
    simulation: Simulation,
    speakers: Arc<Mutex<Vec<[f32; 2]>>>,
    tenths: i64,
}

impl Room {
    fn open(folder: &Path) -> Self {
        let (sound, mut simulation) = Sound::simulated(SimulatedConfig::default());
        let speakers = Arc::new(Mutex::new(Vec::new()));
        let shared = Arc::clone(&speakers);
        simulation.enter(move |_: u64, played: &[f32], microphone: &mut [f32]| {
            microphone.fill(0.0);
            let mut tape = shared.lock().expect("nobody panics with it");
            tape.extend(played.chunks_exact(2).map(|pair| [pair[0], pair[1]]));
        });
        let mut studio = Studio::simulated(sound, Some(folder), BEGIN, UtcOffset(0));
        studio.open_lesson(Source::from_argument("lantern-on-the-quay"), BEGIN);
        let mut room = Self { studio, simulation, speakers, tenths: 0 };
        room.run(10);
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

    fn song(&mut self, wish: SongWish) {
        self.wish(Intent::Song(wish));
    }

    fn page(&mut self) -> SongPage {
        self.wish(Intent::OpenPage(Page::Song));
        let now = self.now();
        match self.studio.page_view(now) {
            Some(PageView::Song(page)) => *page,
            other => panic!("another page: {other:?}"),
        }
    }
}

/// Where clicks begin: the first frame louder than a tenth of the loudest, after 100 ms that were not.
fn begins(samples: impl Iterator<Item = f32>) -> Vec<usize> {
    let samples: Vec<f32> = samples.collect();
    let loudest = samples.iter().fold(0.0_f32, |loudest, sample| loudest.max(sample.abs()));
    let mut found = Vec::new();
    let mut last = None;
    for (frame, _) in samples.iter().enumerate().filter(|(_, sample)| sample.abs() > 0.1 * loudest) {
        if last.is_none_or(|last| frame - last > 4_800) {
            found.push(frame);
        }
        last = Some(frame);
    }
    found
}

#[test]
fn it_is_opened_marked_slowed_played_in_every_pass_on_the_beat_and_remembered() {
    let folder = tempfile::tempdir().expect("a folder");
    let path = folder.path().join("the song.wav");
    let beats = beats_s();
    write_clicks(&path, &beats, 42);
    let mut room = Room::open(folder.path());
    room.song(SongWish::Open(path.clone()));
    room.run(5);
    let page = room.page();
    assert_eq!((page.state, page.file.as_deref()), (SongState::Read, Some("the song.wav")));
    // The clicks drift, and were found all the same; bar 1 is where the first of them lies.
    assert!(page.found.is_some_and(|found| found.is_clear && (found.bpm - 126.0).abs() < 1.5), "{:?}", page.found);
    room.song(SongWish::To(BAR_1_S + 0.03));
    room.song(SongWish::Bar1);
    room.song(SongWish::TakeFound);
    let page = room.page();
    assert!(page.start_s.is_some_and(|start_s| (start_s - BAR_1_S).abs() < 0.006), "{:?}", page.start_s);
    assert!(page.anchors > 0 && page.beats.iter().any(|beat| beat.bar == Some(1)), "{} anchors", page.anchors);
    // Marks are changed: a second later it is slowed.
    room.run(30);
    let page = room.page();
    assert!(page.rungs.len() >= 2 && page.rungs.iter().all(|rung| rung.is_ready), "{:?}", page.rungs);

    room.wish(Intent::ClosePage);
    room.wish(Intent::SetVolume(Part::Guitar, Volumes::SILENT_DB));
    room.wish(Intent::SetVolume(Part::Click, -12.0));
    room.wish(Intent::SetVolume(Part::Song, -12.0));
    room.run(5);
    let before = room.speakers.lock().expect("nobody panics with it").len();
    room.wish(Intent::Back);
    let mut played = false;
    for _ in 0..900 {
        room.run(1);
        let phase = room.studio.view(room.now()).phase;
        played |= phase == Phase::ListenFirst;
        if played && phase != Phase::ListenFirst && !matches!(phase, Phase::CountIn { .. }) {
            break;
        }
    }
    let tape = room.speakers.lock().expect("nobody panics with it")[before..].to_vec();
    let clicks = begins(tape.iter().map(|frame| frame[1]));
    let recorded = begins(tape.iter().map(|frame| frame[0] - frame[1]));
    assert!(recorded.len() >= 24, "{} beats of the recording", recorded.len());
    // No recording while it is counted in, and from then on one of its beats on every click's frame. The anchors tell
    // where beats lie to within 5 ms of the recording's own time, which at this rung, 60 % of the tempo, is 8 ms; the
    // rest covers how differently the two clicks rise.
    let counted = clicks.iter().position(|click| click.abs_diff(recorded[0]) < 240).expect("bar 1 beat 1");
    assert!(counted >= 4, "{counted} clicks counted in");
    let off = clicks[counted..].iter().zip(&recorded).map(|(click, beat)| beat.abs_diff(*click));
    let worst = off.clone().max().unwrap_or(0);
    println!("{} beats, the worst {worst} frames off the click", recorded.len());
    assert!(worst <= 10 * 48, "{:?}", off.collect::<Vec<_>>());

    drop(room);
    let mut again = Room::open(folder.path());
    again.run(20);
    let page = again.page();
    assert_eq!((page.state, page.anchors > 0), (SongState::Read, true));
    assert!(page.start_s.is_some_and(|start_s| (start_s - BAR_1_S).abs() < 0.006));
    again.song(SongWish::Forget);
    assert_eq!(again.page().state, SongState::Nothing);
}

#[test]
fn a_recording_that_is_ready_while_practice_runs_comes_in_with_the_next_pass() {
    let folder = tempfile::tempdir().expect("a folder");
    let path = folder.path().join("a.wav");
    write_clicks(&path, &beats_s(), 42);
    let mut room = Room::open(folder.path());
    room.song(SongWish::Open(path));
    room.run(30);
    room.wish(Intent::SetVolume(Part::Guitar, Volumes::SILENT_DB));
    room.wish(Intent::ClosePage);
    // Marked anew, it has to be slowed anew, and that waits for the next second: practice begins before.
    while room.tenths % 10 != 0 {
        room.run(1);
    }
    room.song(SongWish::Nudge(5.0));
    let from = room.speakers.lock().expect("nobody panics with it").len();
    room.wish(Intent::Forward);
    room.run(800);
    let tape = room.speakers.lock().expect("nobody panics with it")[from..].to_vec();
    let recorded = begins(tape.iter().map(|frame| frame[0] - frame[1]));
    let clicks = begins(tape.iter().map(|frame| frame[1]));
    // A bar is counted in, eight are played, and the recording is heard from the second time on.
    let first = recorded.first().copied().expect("it came in");
    let before = clicks.iter().filter(|click| **click + 2_400 < first).count();
    assert!((4 * 8..4 * 12).contains(&before), "{before} clicks before it");
}

#[test]
fn what_cannot_be_read_is_said_once_and_nothing_else_changes() {
    let folder = tempfile::tempdir().expect("a folder");
    let path = folder.path().join("notes.mp3");
    std::fs::write(&path, "no music").expect("a file");
    let mut room = Room::open(folder.path());
    room.song(SongWish::Open(path));
    room.run(10);
    let page = room.page();
    assert_eq!(page.state, SongState::Unread);
    let trouble = page.trouble.expect("it says why");
    assert!(trouble.text.ends_with("notes.mp3: this is not a recording that can be read"), "{}", trouble.text);
    assert_eq!(trouble.hint, "WAV, FLAC, Ogg Vorbis and MP3 can be read");
}

#[test]
fn the_page_plays_it_with_clicks_and_taps_are_taken_on_its_own_time() {
    let folder = tempfile::tempdir().expect("a folder");
    let path = folder.path().join("a.wav");
    write_clicks(&path, &(0..60).map(|beat| 1.0 + 0.5 * f64::from(beat)).collect::<Vec<_>>(), 32);
    let mut room = Room::open(folder.path());
    room.song(SongWish::Open(path));
    room.run(5);
    room.song(SongWish::Clicks);
    room.song(SongWish::To(3.0));
    room.song(SongWish::Play);
    room.run(10);
    let page = room.page();
    assert!(page.is_playing && (3.8..4.1).contains(&page.at_s), "{} s after a second", page.at_s);
    for _ in 0..6 {
        room.song(SongWish::Tap);
        room.run(6);
    }
    let tapped = room.page().tapped.expect("six taps");
    assert!((tapped.bpm - 100.0).abs() < 0.5, "{tapped:?}");
    room.song(SongWish::TakeTapped);
    assert!(room.page().bpm.is_some_and(|bpm| (bpm - 100.0).abs() < 0.5));
    room.song(SongWish::Tempo(f64::NAN));
    assert!(room.page().trouble.is_some_and(|trouble| trouble.text == "that is no tempo"));
    // Left, it falls silent.
    room.wish(Intent::ClosePage);
    room.run(5);
    let from = room.speakers.lock().expect("nobody panics with it").len();
    room.run(5);
    let tape = room.speakers.lock().expect("nobody panics with it")[from..].to_vec();
    assert!(tape.iter().flatten().all(|sample| sample.abs() < 1e-6));
}

fn sixrung(args: &[&str]) -> (Outcome, String, String) {
    let (mut out, mut err) = (Vec::new(), Vec::new());
    let args = std::iter::once("sixrung").chain(args.iter().copied()).map(OsString::from);
    let outcome = run(args, &mut out, &mut err);
    (outcome, String::from_utf8_lossy(&out).into_owned(), String::from_utf8_lossy(&err).into_owned())
}

#[test]
fn the_command_line_stretches_to_the_frame() {
    let folder = tempfile::tempdir().expect("a folder");
    let path = |name: &str| -> PathBuf { folder.path().join(name) };
    write_clicks(&path("in.wav"), &[0.5, 1.0, 1.5, 2.0], 3);
    let (input, output) = (path("in.wav"), path("out.wav"));
    let (input, output) = (input.to_str().expect("text"), output.to_str().expect("text"));
    let (outcome, out, err) = sixrung(&["stretch", input, "--speed", "0.6", "--out", output, "--json"]);
    assert_eq!((outcome, err.as_str()), (Outcome::Done(0), ""), "{out}");
    let said: serde_json::Value = serde_json::from_str(&out).expect("JSON");
    let slowed = decode_stereo(&path("out.wav"), &mut |_| true).expect("a WAV");
    assert_eq!((said["frames"].as_u64(), slowed.frames.len()), (Some(240_000), 240_000));
    let found = begins(slowed.frames.iter().map(|frame| frame[0]));
    let wanted = [40_000_usize, 80_000, 120_000, 160_000];
    assert_eq!(found.len(), 4, "{found:?}");
    assert!(found.iter().zip(wanted).all(|(found, wanted)| found.abs_diff(wanted) < 24), "{found:?}");

    let (outcome, _, err) = sixrung(&["stretch", input, "--speed", "7", "--out", output]);
    assert_eq!(outcome, Outcome::Done(2));
    assert!(err.contains("hint: --speed takes"), "{err}");
    let (outcome, _, err) = sixrung(&["stretch", "no such.mp3", "--out", output]);
    assert_eq!(outcome, Outcome::Done(1));
    assert!(err.contains("there is no such file") && err.contains("hint: "), "{err}");
}
