//! Plays a click twice a second, listens for it, and says where on the output's count it was heard: the round trip and
//! its jitter. Tells every event, so that a sound server can be killed and started again meanwhile.
//!
//! `cargo run --example loopback -- SECONDS [BUFFER]`, or `-- list` for what devices there are.

use std::time::{Duration, Instant};

use sixrung_devices::{Config, DEFAULT_BUFFER, Event, Sound, Source, Which, list};

/// One full-scale sample every half second.
struct Clicks {
    frame: u64,
    every: u64,
}

impl Source for Clicks {
    fn process(&mut self, block: &mut [f32]) {
        for pair in block.chunks_mut(2) {
            if self.frame.is_multiple_of(self.every) {
                pair.fill(0.8);
            }
            self.frame += 1;
        }
    }
}

fn main() {
    if std::env::args().nth(1).is_some_and(|it| it == "list") {
        match list() {
            Ok(devices) => println!("{devices:#?}"),
            Err(error) => println!("{error}"),
        }
        return;
    }
    let mut args = std::env::args().skip(1).filter_map(|it| it.parse::<u32>().ok());
    let seconds = args.next().unwrap_or(10);
    let buffer = args.next().unwrap_or(DEFAULT_BUFFER);
    let mut sound = Sound::open(Config { buffer, ..Config::default() });
    let mut reader = sound.take_reader().expect("the first to ask");
    let (began, mut rate, mut round_trips) = (Instant::now(), 0, Vec::new());
    let mut block = [0.0; 1024];
    while began.elapsed() < Duration::from_secs(u64::from(seconds)) {
        let at = began.elapsed().as_secs_f64();
        while let Some(event) = sound.next_event() {
            println!("{at:7.3} {event:?}");
            if let Event::Opened { which: Which::Output, opened } = &event
                && opened.rate != rate
            {
                rate = opened.rate;
                sound.play(Box::new(Clicks { frame: 0, every: u64::from(rate / 2) }));
            }
        }
        while let Some(chunk) = reader.read(&mut block) {
            if let Some(gap) = chunk.gap {
                println!("{at:7.3} input {gap:?}");
            }
            let heard = block[..chunk.frames].iter().position(|it| it.abs() > 0.3);
            if let (Some(heard), Some(frame)) = (heard, chunk.output_frame) {
                #[expect(clippy::cast_precision_loss, reason = "a place in a block")]
                let (place, every) = (frame + heard as f64, f64::from(rate / 2));
                let late_ms = (place - (place / every).round() * every) * 1000.0 / f64::from(rate);
                let now = sound.frame_now().map_or(f64::NAN, |now| (now - place) * 1000.0 / f64::from(rate));
                println!("{at:7.3} heard {late_ms:8.3} ms after it sounded, read {now:6.1} ms after");
                round_trips.push(late_ms);
            }
        }
        std::thread::sleep(Duration::from_millis(5));
    }
    println!("{:?}", sound.status());
    #[expect(clippy::cast_precision_loss, reason = "a few clicks")]
    let count = round_trips.len() as f64;
    let mean = round_trips.iter().sum::<f64>() / count;
    let spread = (round_trips.iter().map(|it| (it - mean).powi(2)).sum::<f64>() / count).sqrt();
    println!("{count} clicks: mean {mean:.3} ms, spread {spread:.3} ms");
}
