//! Made-up passes, the same for the same number.

use sixrung_journal::{LessonRef, PassRecord, PlayedPass, StretchKey, StrokeMark, Strokes};
use sixrung_lesson::{Action, Direction, LadderRules, Level, Stretch, Tempo};
use sixrung_practice::{
    ChordFinding, Climb, Finding, Input, Ladder, Marked, Moment, Pass, Policy, Reason, Step, UtcOffset, Verdict,
};

/// The verse of a made-up lesson.
pub(crate) fn key() -> StretchKey {
    StretchKey {
        lesson: LessonRef { hash: 0xF00D_FACE_0123_4567, title: "Lantern on the Quay".into() },
        stretch: Stretch::Section("Verse".into()),
        arrangement: "plain".into(),
    }
}

/// The pass of this number, and the climb after all passes up to it.
pub(crate) fn record(number: u32) -> PassRecord {
    let original = Tempo::from_bpm(126.0).expect("in range");
    let ladder = Ladder::new(&LadderRules::default(), original);
    let mut climb = Climb::new(ladder, Policy::default(), UtcOffset::default());
    let mut rung = climb.at();
    for played in 0..=number {
        rung = climb.at();
        let input = Input::Pass(Pass { tempo: rung, verdict: verdict(played), marked: marked(played) });
        climb.update(input, ended(played));
    }
    let strokes = strokes(number);
    PassRecord {
        pass: PlayedPass {
            key: key(),
            step: Step::Climb,
            ended: ended(number),
            duration_ms: 25_000 + number,
            tempo: rung,
            rung: Some(rung),
            rung_after: Some(climb.at()),
            verdict: verdict(number),
            marked: marked(number),
            level: [Level::Beginner, Level::Improver, Level::Advanced][number as usize % 3],
            allowed_faults: 1,
            counts: strokes.counts(),
            median_offset_ms: (!number.is_multiple_of(5)).then_some(f64::from(number) - 10.5),
            spread_ms: (!number.is_multiple_of(5)).then_some(14.25),
            sound: "speaker and microphone, 21.5 ms from a pass".into(),
        },
        strokes,
        climb: Some(climb.state().clone()),
    }
}

pub(crate) fn ended(number: u32) -> Moment {
    Moment(1_900_000_000 + i64::from(number) * 9_000)
}

fn verdict(number: u32) -> Verdict {
    match number % 5 {
        0 => Verdict::NotJudged(Reason::TooFaint),
        4 => Verdict::NotClean,
        _ => Verdict::Clean,
    }
}

fn marked(number: u32) -> Marked {
    if number.is_multiple_of(7) { Marked::ByPlayer } else { Marked::Heard }
}

fn strokes(number: u32) -> Strokes {
    let findings = [Finding::InTime, Finding::Early, Finding::InTime, Finding::Late, Finding::Missed];
    let chords = [ChordFinding::Unsure, ChordFinding::Right, ChordFinding::Wrong];
    let actions = [Action::Strum, Action::Chuck, Action::Bass];
    let mark = |index: u16| {
        let turn = usize::from(index) + number as usize;
        StrokeMark {
            bar: index / 6,
            slot: u8::try_from(index % 6).expect("small"),
            action: actions[turn % 3],
            direction: if index.is_multiple_of(2) { Direction::Down } else { Direction::Up },
            shape: (!index.is_multiple_of(11)).then_some(u8::try_from(index % 4).expect("small")),
            finding: findings[turn % 5],
            chord: chords[turn % 3],
            expected_ms: u32::from(index) * 395,
            offset_tenth_ms: (turn % 5 != 4).then_some(i16::try_from(index).expect("small") * 17 - 300),
            window_ms: 80,
        }
    };
    Strokes { marks: (0..48).map(mark).collect(), extras_ms: vec![number, 4_000] }
}
