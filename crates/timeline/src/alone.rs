//! One shape by itself, to be listened to: strummed, or string by string.

use sixrung_lesson::{Direction, Shape, TICKS_PER_QUARTER, Tempo, Tick, Tuning};

use crate::event::{Event, EventKind};
use crate::frames::TempoGrid;
use crate::timeline::Timeline;

/// How a shape is heard.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum Alone {
    /// All its strings in one slow down-stroke.
    Strummed,
    /// One string after the other, the heaviest first.
    StringByString,
}

/// Strings of the slow stroke follow each other by so much: each can be told, and it is still one stroke. A design choice
/// of ours, the slowest sweep of a beginner.
const SWEEP_NS: u32 = 28_000_000;
/// One string a beat, slow enough to move the eye from string to string. A design choice of ours.
const STRING_BPM: f64 = 66.0;
/// Beats it rings on after the last string.
const RING_BEATS: u32 = 3;
const VELOCITY: f32 = 0.7;

/// A timeline that plays `shape` once and ends by itself. `None` for a shape without a sounding string.
#[must_use]
pub fn alone(shape: &Shape, tuning: &Tuning, capo: u8, how: Alone, (id, rate): (u64, u32)) -> Option<Timeline> {
    let sounding: Vec<_> =
        (0_u8..).zip(shape.pitches(tuning, capo)).filter_map(|(string, pitch)| Some((string, pitch?))).collect();
    let last = u32::try_from(sounding.len().checked_sub(1)?).unwrap_or(0);
    let pluck = |(place, (string, pitch)): (u32, (u8, _))| {
        let (at, delay_ns) = match how {
            Alone::Strummed => (Tick::ZERO, SWEEP_NS * place),
            Alone::StringByString => (Tick(TICKS_PER_QUARTER * place), 0),
        };
        let kind = EventKind::Pluck { string, pitch, velocity: VELOCITY, direction: Direction::Down };
        Event { at, delay_ns, kind }
    };
    let beats = RING_BEATS + if how == Alone::StringByString { last + 1 } else { 1 };
    let length = Tick(TICKS_PER_QUARTER * beats);
    Some(Timeline {
        id,
        grid: TempoGrid::new(rate, Tempo::from_bpm(STRING_BPM)?, Tick(TICKS_PER_QUARTER)),
        intro: Tick::ZERO,
        intro_events: Box::default(),
        cycle: length,
        cycle_events: (0..).zip(sounding).map(pluck).collect(),
        pass_at: Tick::ZERO,
        pass: length,
        passes: Some(1),
    })
}

#[cfg(test)]
mod tests {
    use sixrung_lesson::{Pitch, StringUse};

    use super::*;

    fn d() -> Shape {
        use StringUse::{Fret, Muted, Open};
        Shape {
            name: "D".into(),
            strings: vec![Muted, Muted, Open, Fret(2), Fret(3), Fret(2)],
            fingers: vec![None; 6],
            barres: Vec::new(),
            stand_in: None,
            mute_notes: Vec::new(),
        }
    }

    #[test]
    fn each_sounding_string_sounds_once_in_order_with_the_capo() {
        for (how, apart_s) in [(Alone::Strummed, 0.028), (Alone::StringByString, 60.0 / 66.0)] {
            let timeline = alone(&d(), &Tuning::standard_guitar(), 2, how, (7, 48_000)).expect("it sounds");
            let heard: Vec<_> = timeline
                .cycle_events
                .iter()
                .map(|event| match event.kind {
                    EventKind::Pluck { string, pitch: Pitch(key), .. } => {
                        (string, key, timeline.grid.seconds(event.at) + f64::from(event.delay_ns) / 1e9)
                    }
                    _ => panic!("only strings"),
                })
                .collect();
            // D3 A3 D4 F♯4 of the shape, two frets up.
            assert_eq!(
                heard.iter().map(|(string, key, _)| (*string, *key)).collect::<Vec<_>>(),
                [(2, 52), (3, 59), (4, 64), (5, 68)]
            );
            for (place, (_, _, at_s)) in (0..).zip(&heard) {
                assert!((at_s - f64::from(place) * apart_s).abs() < 1e-3, "{how:?} {at_s}");
            }
            assert_eq!(timeline.passes, Some(1));
        }
    }

    #[test]
    fn a_shape_without_a_sounding_string_is_not_heard() {
        let silent = Shape { strings: vec![StringUse::Muted; 6], ..d() };
        assert_eq!(alone(&silent, &Tuning::standard_guitar(), 0, Alone::Strummed, (1, 48_000)), None);
    }
}
