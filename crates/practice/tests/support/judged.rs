//! Judged passes for the tests: four bars of four down-strokes. A row names what is wrong: `2.1 late` is a late stroke in
//! bar 2, slot 1, both from 0.

use sixrung_lesson::{Action, Bar, Change, Direction, Meter, Score, Shape, Tick};
use sixrung_practice::{ChordFinding, Finding, PassVerdict, StrokeFinding, Verdict};

pub(crate) const D: usize = 0;
pub(crate) const A: usize = 1;
pub(crate) const G: usize = 2;

pub(crate) fn score() -> Score {
    let shape = |name: &str| Shape {
        name: name.into(),
        strings: Vec::new(),
        fingers: Vec::new(),
        barres: Vec::new(),
        stand_in: None,
        mute_notes: Vec::new(),
    };
    Score {
        shapes: ["D", "A", "G"].map(shape).to_vec(),
        capo: 0,
        bars: (0..4)
            .map(|number| Bar { start: Tick(number * 3840), meter: Meter::COMMON, section: "Verse".into(), number })
            .collect(),
        changes: vec![Change { at: Tick::ZERO, shape: Some(D) }],
        slots: Vec::new(),
        lines: Vec::new(),
        length: Tick(4 * 3840),
    }
}

/// The chords of the four bars, and the faults.
pub(crate) fn pass(chords: [usize; 4], faults: &[&str]) -> PassVerdict {
    let mut strokes: Vec<StrokeFinding> = (0..16).map(|index| stroke(index, chords[index / 4])).collect();
    for fault in faults {
        let (place, what) = fault.split_once(' ').expect("a place and a fault");
        let (bar, slot) = place.split_once('.').expect("bar and slot");
        let number = |text: &str| text.parse::<usize>().expect("a number");
        let stroke = &mut strokes[number(bar) * 4 + number(slot)];
        match what {
            "early" => stroke.finding = Finding::Early,
            "late" => stroke.finding = Finding::Late,
            "missed" => stroke.finding = Finding::Missed,
            "wrong" => stroke.chord = ChordFinding::Wrong,
            _ => panic!("no such fault: {what}"),
        }
    }
    PassVerdict {
        verdict: Verdict::NotClean,
        strokes,
        extras_s: Vec::new(),
        median_offset_ms: Some(-12.0),
        spread_ms: Some(30.0),
        allowed_faults: 1,
        tuning_cents: None,
    }
}

fn stroke(index: usize, shape: usize) -> StrokeFinding {
    #[expect(clippy::cast_precision_loss, reason = "sixteen strokes")]
    let expected_s = index as f64 * 0.5;
    StrokeFinding {
        bar: index / 4,
        slot: u32::try_from(index % 4).expect("small"),
        action: Action::Strum,
        direction: Direction::Down,
        shape: Some(shape),
        expected_s,
        heard_s: Some(expected_s),
        offset_ms: Some(0.0),
        finding: Finding::InTime,
        chord: ChordFinding::Unsure,
        sounded_like: None,
        heard_direction: None,
        strings: Vec::new(),
        window_ms: 80.0,
    }
}
