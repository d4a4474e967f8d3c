//! Years of practice, made up: so many passes of a song's sections, evenly over the days, and the changes between.

use sixrung_journal::{ChangePair, Journal, JournalError, LessonRef, PassRecord, PlayedChange, StretchKey};
use sixrung_lesson::{Stretch, Tempo};
use sixrung_practice::Moment;

use crate::support::record;

/// A pass every five minutes, day and night: what matters is how many there are.
const EVERY_S: i64 = 300;
const BEGAN: i64 = 1_800_000_000;

/// The sections of the made-up song.
pub(crate) fn sections() -> Vec<StretchKey> {
    ["Verse", "Chorus", "Bridge"].map(section).into()
}

pub(crate) fn section(name: &str) -> StretchKey {
    StretchKey {
        lesson: LessonRef { hash: 77, title: "Many Days".into() },
        stretch: Stretch::Section(name.into()),
        arrangement: "plain".into(),
    }
}

pub(crate) fn pair() -> ChangePair {
    ChangePair { from: "320003".into(), to: "xx0232".into(), capo: 0 }
}

/// A journal of so many passes, `share` of ten of them of the first section, and as many changes of one pair.
pub(crate) fn fill(journal: &mut Journal, passes: u32, share: u32) -> Result<(), JournalError> {
    let sections = sections();
    let kinds: Vec<PassRecord> = (0..35).map(record).collect();
    let pass = |number: u32| {
        let mut pass = kinds[number as usize % kinds.len()].clone();
        let others = 1 + number as usize % (sections.len() - 1);
        pass.pass.key = sections[if number % 10 < share { 0 } else { others }].clone();
        pass.pass.ended = Moment(BEGAN + i64::from(number) * EVERY_S);
        pass.pass.tempo = Tempo::from_bpm(f64::from(76 + number % 50)).expect("in range");
        pass.climb = pass.climb.filter(|_| number + 10 > passes);
        pass
    };
    journal.record_all((0..passes).map(pass))?;
    let change = |number: u32| PlayedChange {
        pair: pair(),
        took_ms: 600 + number % 700,
        botched: number % 2,
        at: Moment(BEGAN + i64::from(number) * EVERY_S),
    };
    journal.record_changes((0..passes).map(change))
}
