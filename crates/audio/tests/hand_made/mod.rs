//! Timelines made by hand.

use sixrung_timeline::{Brush, ClickKind, Direction, Event, EventKind, Pitch, Tempo, TempoGrid, Tick, Timeline};

/// E2 A2 D3 G3 B3 E4.
pub(crate) const OPEN: [u8; 6] = [40, 45, 50, 55, 59, 64];

/// A timeline without an intro, four quarters a cycle, for ever.
pub(crate) fn timeline(id: u64, rate: u32, milli_bpm: u32, events: Vec<Event>) -> Timeline {
    Timeline {
        id,
        grid: TempoGrid::new(rate, Tempo::from_milli_bpm(milli_bpm).expect("in range"), Tick(960)),
        intro: Tick::ZERO,
        intro_events: Box::new([]),
        cycle: Tick(3840),
        cycle_events: events.into(),
        pass_at: Tick::ZERO,
        pass: Tick(3840),
        passes: None,
    }
}

/// Four clicks, the first of them the bar's.
pub(crate) fn clicks() -> Vec<Event> {
    let click = |beat: u32| {
        let kind = EventKind::Click(if beat == 0 { ClickKind::Bar } else { ClickKind::Beat });
        Event { at: Tick(beat * 960), delay_ns: 0, kind }
    };
    (0..4).map(click).collect()
}

/// A pluck at tick `at`.
pub(crate) fn pluck(at: u32, string: u8, key: u8, velocity: f32) -> Event {
    let kind = EventKind::Pluck { string, pitch: Pitch(key), velocity, direction: Direction::Down };
    Event { at: Tick(at), delay_ns: 0, kind }
}

/// A bar of everything: strums in eighths, a chuck, a hand that stops the strings, clicks.
pub(crate) fn busy_bar() -> Vec<Event> {
    let mut events = clicks();
    for slot in 0..8_u32 {
        for (string, key) in (0_u8..).zip(OPEN) {
            let kind = match slot {
                4 => EventKind::Chuck { string, velocity: 0.7, direction: Direction::Down },
                7 => EventKind::Damp { string },
                _ => pluck(0, string, key + u8::from(slot == 2), 0.8).kind,
            };
            events.push(Event { at: Tick(slot * 480), delay_ns: u32::from(string) * 3_300_000, kind });
        }
    }
    for (beat, number) in (0_u32..).zip(0_u8..4) {
        let bass = EventKind::Bass { pitch: Pitch(33 + number), velocity: 0.7 };
        let brush = EventKind::Brush { brush: if beat % 2 == 0 { Brush::Sweep } else { Brush::Tap }, velocity: 0.8 };
        let kinds = [bass, brush, EventKind::Click(ClickKind::Count(number))];
        events.extend(kinds.map(|kind| Event { at: Tick(beat * 960), delay_ns: 0, kind }));
    }
    events.push(Event { at: Tick(3600), delay_ns: 0, kind: EventKind::BassStop });
    events
}
