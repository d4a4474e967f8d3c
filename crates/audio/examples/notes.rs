//! Writes single notes and strums as raw 32-bit floats, mono, 48 kHz, to be measured by `tests/sound/realism.py`.
//!
//! `notes DIR [nylon]`: `string{1..6}-fret{0..5}.f32`, string 1 the lightest, and `strum.f32`, an open G.

use std::io::Write;
use std::path::Path;

use sixrung_audio::{Decibels, Instrument, Render, RenderOptions, Strings};
use sixrung_timeline::{Direction, Event, EventKind, Pitch, Tempo, TempoGrid, Tick, Timeline};

const RATE: u32 = 48_000;
/// E2 A2 D3 G3 B3 E4.
const OPEN: [u8; 6] = [40, 45, 50, 55, 59, 64];
/// 320003.
const OPEN_G: [u8; 6] = [3, 2, 0, 0, 0, 3];
const FRETS: u8 = 5;
const SECONDS: f64 = 5.0;
const VELOCITY: f32 = 0.8;

fn main() {
    let folder = std::env::args().nth(1).expect("usage: notes DIR [nylon]");
    let nylon = std::env::args().nth(2).is_some_and(|strings| strings == "nylon");
    let instrument = Instrument::guitar().strung(if nylon { Strings::Nylon } else { Strings::Steel });
    let folder = Path::new(&folder);
    std::fs::create_dir_all(folder).expect("the folder can be made");
    for (string, key) in (0_u8..).zip(OPEN) {
        for fret in 0..=FRETS {
            let name = format!("string{}-fret{fret}.f32", 6 - string);
            write(&folder.join(name), &instrument, vec![pluck(string, key + fret, 0)]);
        }
    }
    let strum = (0_u8..).zip(OPEN).zip(OPEN_G);
    let strum = strum.map(|((string, key), fret)| pluck(string, key + fret, 4_000_000 * u32::from(string)));
    write(&folder.join("strum.f32"), &instrument, strum.collect());
}

fn pluck(string: u8, key: u8, delay_ns: u32) -> Event {
    let kind = EventKind::Pluck { string, pitch: Pitch(key), velocity: VELOCITY, direction: Direction::Down };
    Event { at: Tick(0), delay_ns, kind }
}

fn write(path: &Path, instrument: &Instrument, events: Vec<Event>) {
    let timeline = Timeline {
        id: 1,
        grid: TempoGrid::new(RATE, Tempo::from_bpm(120.0).expect("in range"), Tick(960)),
        intro: Tick::ZERO,
        intro_events: Box::new([]),
        cycle: Tick(960),
        cycle_events: events.into(),
        pass_at: Tick::ZERO,
        pass: Tick(960),
        passes: Some(1),
    };
    let instrument = instrument.clone();
    let options =
        RenderOptions { kit: instrument.into(), click: Decibels::SILENCE, tail_s: SECONDS, ..RenderOptions::default() };
    let sound = Render::new(timeline, &options).expect("one pass").samples();
    let middle = sound.as_chunks::<2>().0.iter().map(|pair| 0.5_f32 * (pair[0] + pair[1]));
    let bytes: Vec<u8> = middle.flat_map(f32::to_le_bytes).collect();
    let mut file = std::fs::File::create(path).expect("the file can be made");
    file.write_all(&bytes).expect("the file can be written");
}
