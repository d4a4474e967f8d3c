//! What everyone plays, as strokes, as a timeline and as a MIDI file.

use sixrung_timeline::{Direction, Event, EventKind, Pitch, Tempo, TempoGrid, Tick, Timeline};

/// Frames a second.
pub(crate) const RATE: u32 = 48_000;
/// E major, the heaviest string first.
pub(crate) const CHORD: [u8; 6] = [40, 47, 52, 56, 59, 64];
/// Between two strings of a strum.
const SPREAD_NS: u32 = 3_500_000;
/// Ticks a quarter, in the timeline and in the MIDI file.
const QUARTER: u32 = 960;
const VELOCITY: u8 = 102;

/// A string struck.
pub(crate) struct Stroke {
    /// Frames from the start.
    pub frame: usize,
    /// Which string, 0 to 5.
    pub string: u8,
    /// Its key.
    pub key: u8,
    /// 1 to 127.
    pub velocity: u8,
}

/// Eighths at 120: four strums a second.
pub(crate) fn strokes(seconds: u32) -> Vec<Stroke> {
    let strum = |strum: u32| {
        (0_u8..).zip(CHORD).map(move |(string, key)| {
            let ns = u64::from(strum) * 250_000_000 + u64::from(string) * u64::from(SPREAD_NS);
            let frame = (ns * u64::from(RATE) / 1_000_000_000) as usize;
            Stroke { frame, string, key, velocity: VELOCITY }
        })
    };
    (0..seconds * 4).flat_map(strum).collect()
}

/// The same as a timeline that goes round every bar, `passes` times or for ever. `strummed` may be left out.
pub(crate) fn timeline(passes: Option<u32>) -> Timeline {
    let strum = |slot: u32| {
        (0_u8..).zip(CHORD).map(move |(string, key)| Event {
            at: Tick(slot * QUARTER / 2),
            delay_ns: u32::from(string) * SPREAD_NS,
            kind: EventKind::Pluck {
                string,
                pitch: Pitch(key),
                velocity: f32::from(VELOCITY) / 127.0,
                direction: Direction::Down,
            },
        })
    };
    Timeline {
        id: 1,
        grid: TempoGrid::new(RATE, Tempo::from_bpm(120.0).expect("in range"), Tick(QUARTER)),
        intro: Tick::ZERO,
        intro_events: Box::new([]),
        cycle: Tick(4 * QUARTER),
        cycle_events: (0..8).flat_map(strum).collect(),
        pass_at: Tick::ZERO,
        pass: Tick(4 * QUARTER),
        passes,
    }
}

/// The same as a Standard MIDI File of one track; each string has its own channel, set to the steel guitar (program
/// byte 25 of General MIDI).
pub(crate) fn midi(seconds: u32) -> Vec<u8> {
    let mut track = vec![0, 0xFF, 0x51, 3, 0x07, 0xA1, 0x20];
    for channel in 0..6 {
        track.extend([0, 0xC0 | channel, 25]);
    }
    let mut last = 0;
    for (index, stroke) in strokes(seconds).iter().enumerate() {
        // Two quarters a second.
        let tick = (stroke.frame as u64 * 2 * u64::from(QUARTER) / u64::from(RATE)) as u32;
        variable(tick - last, &mut track);
        if index >= 6 {
            track.extend([0x80 | stroke.string, stroke.key, 0, 0]);
        }
        track.extend([0x90 | stroke.string, stroke.key, stroke.velocity]);
        last = tick;
    }
    variable(seconds * 2 * QUARTER - last, &mut track);
    track.extend([0xFF, 0x2F, 0]);
    let mut file = b"MThd\0\0\0\x06\0\0\0\x01".to_vec();
    file.extend((QUARTER as u16).to_be_bytes());
    file.extend(b"MTrk");
    file.extend((track.len() as u32).to_be_bytes());
    file.extend(track);
    file
}

/// A variable-length quantity: seven bits a byte, the last without its top bit.
fn variable(number: u32, out: &mut Vec<u8>) {
    for shift in [21, 14, 7] {
        if number >> shift > 0 {
            out.push((number >> shift) as u8 | 0x80);
        }
    }
    out.push(number as u8 & 0x7F);
}
