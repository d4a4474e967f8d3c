//! The null output keeps time by the machine's clock. Nothing here depends on how fast the machine is: only on what
//! comes in the end, and in which order.

use std::sync::Arc;
use std::sync::atomic::{AtomicU64, Ordering};
use std::time::{Duration, Instant};

use sixrung_devices::{Config, Event, OutputChoice, Port, Sound, Source, Which};

/// Long enough for any machine that can run the tests at all.
const PATIENCE: Duration = Duration::from_secs(60);

#[derive(Clone, Default)]
struct Counts {
    played: Arc<AtomicU64>,
    dropped: Arc<AtomicU64>,
}

struct Counter(Counts);

impl Source for Counter {
    fn process(&mut self, block: &mut [f32]) {
        self.0.played.fetch_add(block.len() as u64 / 2, Ordering::Relaxed);
    }
}

impl Drop for Counter {
    fn drop(&mut self) {
        self.0.dropped.fetch_add(1, Ordering::Relaxed);
    }
}

fn silent() -> Config {
    Config { output: OutputChoice::Null, input: None, rate: Some(44_100), buffer: 256 }
}

fn until(what: &str, mut holds: impl FnMut() -> bool) {
    let began = Instant::now();
    while !holds() {
        assert!(began.elapsed() < PATIENCE, "{what} never came");
        std::thread::sleep(Duration::from_millis(2));
    }
}

fn opened(sound: &Sound) -> (Which, u32, u32, String) {
    match sound.wait_event(PATIENCE) {
        Some(Event::Opened { which, opened }) => (which, opened.rate, opened.buffer, opened.name),
        other => panic!("{other:?}"),
    }
}

#[test]
fn a_source_plays_in_time_without_a_device() {
    let sound = Sound::open(silent());
    assert_eq!(opened(&sound), (Which::Output, 44_100, 256, "null output".to_owned()));
    let first = Counts::default();
    sound.play(Box::new(Counter(first.clone())));
    until("a second of sound", || first.played.load(Ordering::Relaxed) > 44_100);
    let before = sound.frame_now().expect("known");
    until("the cursor's moving", || sound.frame_now().is_some_and(|now| now > before));
    let second = Counts::default();
    sound.play(Box::new(Counter(second.clone())));
    until("the first one's end", || first.dropped.load(Ordering::Relaxed) == 1);
    until("the second", || second.played.load(Ordering::Relaxed) > 0);
    drop(sound);
    assert_eq!(second.dropped.load(Ordering::Relaxed), 1, "all is freed when the sound is closed");
}

#[test]
fn another_block_length_keeps_what_is_playing_another_rate_does_not() {
    let sound = Sound::open(silent());
    opened(&sound);
    let counts = Counts::default();
    sound.play(Box::new(Counter(counts.clone())));
    until("sound", || counts.played.load(Ordering::Relaxed) > 0);
    sound.configure(Config { buffer: 512, ..silent() });
    assert_eq!(opened(&sound), (Which::Output, 44_100, 512, "null output".to_owned()));
    let so_far = counts.played.load(Ordering::Relaxed);
    until("more", || counts.played.load(Ordering::Relaxed) > so_far);
    assert_eq!(counts.dropped.load(Ordering::Relaxed), 0);
    sound.configure(Config { rate: Some(48_000), ..silent() });
    assert_eq!(opened(&sound).1, 48_000);
    assert_eq!(counts.dropped.load(Ordering::Relaxed), 1);
    assert!(matches!(sound.status().output, Port::Open(opened) if opened.rate == 48_000 && opened.note.is_none()));
}
