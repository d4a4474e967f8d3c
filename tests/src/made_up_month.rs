//! A made-up month of practice in a journal: a learner by the numbers who gets better from day to day. Nobody played it, and
//! no claim rests on it: it is there to be looked at. The same seed gives the same month.

use std::path::Path;

use sixrung_journal::{
    ChangePair, Journal, JournalError, LessonRef, PassRecord, PlayedChange, PlayedPass, StretchKey, StrokeMark, Strokes,
};
use sixrung_lesson::{Lesson, Level, Score, Stretch, layout, read};
use sixrung_practice::{
    ChordFinding, Climb, Finding, Input, Ladder, Marked, Moment, Pass, Policy, Reason, Step, UtcOffset, Verdict,
};

use crate::evening::{BEGIN, ZONE};

const LESSON: &str = include_str!("../../assets/lessons/lantern-on-the-quay.lesson.ron");
const DAY_S: i64 = 86_400;
const DAYS: i64 = 28;
/// Faults a pass may have and still be clean, as the demo's criterion has it.
const ALLOWED: u32 = 2;

/// A section of the month: its name, the day it is begun, and the bars that are hard, as indices.
const SECTIONS: [(&str, i64, &[u16]); 3] =
    [("Verse", 0, &[2, 4]), ("Chorus", 5, &[0, 3, 4, 6]), ("Second verse", 15, &[2])];

/// Changes by their frets, and how long they take on the first day and on the last, in milliseconds.
const CHANGES: [(&str, &str, f64, f64); 4] = [
    ("xx0232", "x02220", 800.0, 400.0),
    ("x02220", "320033", 900.0, 520.0),
    ("320033", "xx0232", 1_600.0, 900.0),
    ("x24432", "320033", 1_300.0, 620.0),
];

/// Fills the journal in `folder`; how many passes there are in it.
///
/// # Errors
/// When it can't be written.
///
/// # Panics
/// When the demo lesson no longer has these sections.
pub fn fill(folder: &Path, seed: u64) -> Result<u64, JournalError> {
    let today = BEGIN.day(ZONE);
    let mut journal = Journal::open(&folder.join("journal.sqlite"), today)?.journal;
    let opened = read(LESSON.as_bytes()).expect("the demo reads");
    let mut dice = Dice(seed);
    let mut count = 0;
    for (name, begun, hard) in SECTIONS {
        let mut section = Section::new(&opened.lesson, opened.hash, (name, begun, hard));
        for day in begun..DAYS {
            if !is_practised(day) {
                continue;
            }
            let starts = BEGIN.0 - (DAYS - day) * DAY_S + begun * 60;
            count += journal.record_all(section.day(day, starts, &mut dice))?;
        }
    }
    journal
        .record_changes((0..DAYS).filter(|day| is_practised(*day)).flat_map(|day| drills(day, &mut Dice(seed ^ 7))))?;
    Ok(count)
}

/// Five days of seven.
const fn is_practised(day: i64) -> bool {
    !matches!(day % 7, 3 | 6)
}

fn drills(day: i64, dice: &mut Dice) -> Vec<PlayedChange> {
    #[expect(clippy::cast_precision_loss, reason = "28 days")]
    let share = day as f64 / DAYS as f64;
    let at = Moment(BEGIN.0 - (DAYS - day) * DAY_S - 600);
    let mut played = Vec::new();
    for (from, to, first_ms, last_ms) in CHANGES {
        for _ in 0..10 {
            let ms = (first_ms + (last_ms - first_ms) * share.sqrt()) * (1.0 + 0.15 * dice.bell());
            let pair = ChangePair { from: from.into(), to: to.into(), capo: 0 };
            #[expect(clippy::cast_possible_truncation, clippy::cast_sign_loss, reason = "some hundred ms")]
            played.push(PlayedChange { pair, took_ms: ms.max(200.0) as u32, botched: 0, at });
        }
    }
    played
}

/// One section, and the climb of it.
struct Section<'a> {
    key: StretchKey,
    score: Score,
    climb: Climb,
    begun: i64,
    hard: &'a [u16],
}

impl<'a> Section<'a> {
    fn new(lesson: &Lesson, hash: u64, (name, begun, hard): (&str, i64, &'a [u16])) -> Self {
        let stretch = Stretch::Section(name.to_owned());
        let arrangement = &lesson.arrangements[0];
        let score = layout(lesson, &stretch, arrangement).expect("the demo has it");
        let ladder = Ladder::new(&lesson.ladder, lesson.tempo);
        let lesson_ref = LessonRef { hash, title: lesson.title.clone() };
        Self {
            key: StretchKey { lesson: lesson_ref, stretch, arrangement: arrangement.name.clone() },
            score,
            climb: Climb::new(ladder, Policy::of(&lesson.ladder), UtcOffset(ZONE.0)),
            begun,
            hard,
        }
    }

    /// Six to nine passes, a minute apart.
    fn day(&mut self, day: i64, starts: i64, dice: &mut Dice) -> Vec<PassRecord> {
        self.climb.update(Input::Open, Moment(starts));
        let passes = 6 + i64::from(dice.below(4));
        (0..passes).map(|pass| self.pass(day, Moment(starts + pass * 60), dice)).collect()
    }

    fn pass(&mut self, day: i64, ended: Moment, dice: &mut Dice) -> PassRecord {
        let tempo = self.climb.at();
        #[expect(clippy::cast_precision_loss, reason = "28 days")]
        let practised = (day - self.begun) as f64;
        // What a learner can do grows by two beats a minute each day, and goes up and down within it.
        let ease = (72.0 + 2.3 * practised + 6.0 * dice.bell() - tempo.bpm()) / 10.0;
        let (bias, spread) = (18.0 - 0.5 * practised, (38.0 - 0.9 * practised).max(14.0));
        let strokes = self.strokes(tempo.bpm(), (ease, bias, spread), dice);
        let counts = strokes.counts();
        let faults = counts.early + counts.late + counts.missed + counts.wrong_chord;
        let verdict = match () {
            () if dice.below(40) == 0 => Verdict::NotJudged(Reason::TooFaint),
            () if faults <= ALLOWED => Verdict::Clean,
            () => Verdict::NotClean,
        };
        self.climb.update(Input::Pass(Pass { tempo, verdict, marked: Marked::Heard }), ended);
        let pass = PlayedPass {
            key: self.key.clone(),
            step: Step::Climb,
            ended,
            duration_ms: strokes.marks.last().map_or(0, |mark| mark.expected_ms) + 600,
            tempo,
            rung: Some(tempo),
            rung_after: Some(self.climb.at()),
            verdict,
            marked: Marked::Heard,
            level: Level::Beginner,
            allowed_faults: ALLOWED,
            counts,
            median_offset_ms: Some(bias),
            spread_ms: Some(spread),
            sound: "made up".to_owned(),
        };
        PassRecord { pass, strokes, climb: Some(self.climb.state().clone()) }
    }

    fn strokes(&self, bpm: f64, (ease, bias, spread): (f64, f64, f64), dice: &mut Dice) -> Strokes {
        const WINDOW_MS: f64 = 80.0;
        let sounding = self.score.slots.iter().filter(|slot| slot.stroke.action.sounds() && slot.shape.is_some());
        let first = sounding.clone().next().map_or(0, |slot| slot.at.0);
        let ms_a_tick = 60_000.0 / bpm / f64::from(sixrung_lesson::BeatUnit::Quarter.ticks().0);
        let mut mark = |slot: &sixrung_lesson::Slot| {
            let bar = u16::try_from(slot.bar).expect("some bars");
            let usual = if self.hard.contains(&bar) { 0.10 } else { 0.006 };
            let trouble = usual * (-0.5 * ease).exp();
            let is_bad = dice.share() < trouble;
            let offset = bias + 0.7 * spread * dice.bell() + if is_bad { 75.0 + 40.0 * dice.share() } else { 0.0 };
            let finding = match offset - bias {
                _ if is_bad && dice.below(4) == 0 => Finding::Missed,
                late if late > WINDOW_MS => Finding::Late,
                early if early < -WINDOW_MS => Finding::Early,
                _ => Finding::InTime,
            };
            let is_wrong = is_bad && finding != Finding::Missed && dice.below(5) == 0;
            #[expect(clippy::cast_possible_truncation, clippy::cast_sign_loss, reason = "some seconds")]
            StrokeMark {
                bar,
                slot: u8::try_from(slot.index).expect("some slots"),
                action: slot.stroke.action,
                direction: slot.stroke.direction,
                shape: slot.shape.and_then(|shape| u8::try_from(shape).ok()),
                finding,
                chord: if is_wrong { ChordFinding::Wrong } else { ChordFinding::Right },
                expected_ms: (f64::from(slot.at.0 - first) * ms_a_tick) as u32,
                offset_tenth_ms: (finding != Finding::Missed).then_some((offset * 10.0) as i16),
                window_ms: 80,
            }
        };
        Strokes { marks: sounding.map(&mut mark).collect(), extras_ms: Vec::new() }
    }
}

/// A linear congruential generator, with the constants of Knuth's MMIX.
struct Dice(u64);

impl Dice {
    fn roll(&mut self) -> u32 {
        self.0 = self.0.wrapping_mul(6_364_136_223_846_793_005).wrapping_add(1_442_695_040_888_963_407);
        u32::try_from(self.0 >> 32).expect("32 bits")
    }

    fn below(&mut self, end: u32) -> u32 {
        self.roll() % end
    }

    /// From 0 to 1.
    fn share(&mut self) -> f64 {
        f64::from(self.roll()) / f64::from(u32::MAX)
    }

    /// About 0 with a spread of 1: the sum of twelve shares less six.
    fn bell(&mut self) -> f64 {
        (0..12).map(|_| self.share()).sum::<f64>() - 6.0
    }
}
