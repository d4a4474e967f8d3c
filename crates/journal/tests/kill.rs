//! Killed while writing, at any moment: every pass, step and change of chord that was acknowledged is there, whole.
//!
//! Runs itself as a child that writes them in turn and says after each that it is kept, kills it, and looks.

#[path = "support/change.rs"]
mod change;
mod support;

use std::env;
use std::io::{BufRead as _, BufReader, Write as _};
use std::path::Path;
use std::process::{Command, Stdio};
use std::thread::sleep;
use std::time::Duration;

use sixrung_journal::{Journal, JournalWorker, PlayedChange, StretchKey};
use sixrung_lesson::Stretch;
use sixrung_practice::{Day, Done, Moment, Step};

use change::change;
use support::{key, record};

const TODAY: Day = Day(20_664);
/// Each journal is killed so often, then looked through once more and left: what is looked through stays short.
const KILLS_A_JOURNAL: u32 = 8;
const JOURNALS: u32 = 13;
const CHILD: &str = "write-until-killed";

/// How many of each are kept: said so by the child, or found.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
struct Kept {
    passes: u32,
    steps: u32,
    changes: u32,
}

fn main() {
    let mut arguments = env::args().skip(1);
    if arguments.next().as_deref() == Some(CHILD) {
        let path = arguments.next().expect("the parent names the journal");
        return write_until_killed(Path::new(&path));
    }
    let mut all = Kept::default();
    for journal in 0..JOURNALS {
        let folder = tempfile::tempdir().expect("a folder");
        let path = folder.path().join("journal.sqlite");
        let mut kept = Kept::default();
        for kill in 0..KILLS_A_JOURNAL {
            let said = kill_while_writing(&path, journal * KILLS_A_JOURNAL + kill);
            let opened = Journal::open(&path, TODAY).expect("opens");
            assert_eq!(opened.notices, [], "nothing was damaged");
            let there = look_through(&opened.journal, kept.passes);
            for (there, before, said) in [
                (there.passes, kept.passes, said.passes),
                (there.steps, kept.steps, said.steps),
                (there.changes, kept.changes, said.changes),
            ] {
                assert!(there >= before + said, "{there} of {before} + {said} that were acknowledged are there");
                assert!(there <= before + said + 1, "one at most was being written");
            }
            kept = there;
        }
        all.passes += kept.passes;
        all.steps += kept.steps;
        all.changes += kept.changes;
    }
    println!("killed {} times: {all:?}, none that was acknowledged lost", JOURNALS * KILLS_A_JOURNAL);
}

/// Gives back how many of each the child said were kept.
fn kill_while_writing(path: &Path, kill: u32) -> Kept {
    let mut child = Command::new(env::current_exe().expect("this program"))
        .arg(CHILD)
        .arg(path)
        .stdout(Stdio::piped())
        .spawn()
        .expect("starts");
    let mut lines = BufReader::new(child.stdout.take().expect("piped")).lines();
    let first = lines.next().expect("the child writes one pass").expect("read");
    // Spread over the length of some commits by the golden ratio, so that all parts of a commit are met.
    sleep(Duration::from_micros(u64::from(kill.wrapping_mul(2_654_435_769) >> 18)));
    child.kill().expect("killed");
    child.wait().expect("ended");
    let mut said = Kept::default();
    for line in std::iter::once(first).chain(lines.map_while(Result::ok)) {
        match line.as_str() {
            "pass." => said.passes += 1,
            "step." => said.steps += 1,
            "change." => said.changes += 1,
            // The line it was killed in.
            _ => {}
        }
    }
    said
}

fn write_until_killed(path: &Path) {
    let journal = Journal::open(path, TODAY).expect("opens").journal;
    let start = found(&journal);
    let worker = JournalWorker::start(journal, TODAY).expect("starts");
    let said = |what: &str| {
        let mut out = std::io::stdout().lock();
        writeln!(out, "{what}.").and_then(|()| out.flush()).expect("the parent listens");
    };
    for count in 0.. {
        worker.record(record(start.passes + count)).expect("there is room");
        while worker.status().saved < u64::from(count) + 1 {
            sleep(Duration::from_micros(50));
        }
        said("pass");
        let bars = bars(start.steps + count);
        worker.set_step(bars.clone(), Step::Shapes, Done::Heard, Moment(7)).expect("there is room");
        // A question is answered after what was handed over before it.
        worker.steps(bars).expect("read");
        said("step");
        worker.record_change(numbered(start.changes + count)).expect("there is room");
        worker.last_felt().expect("read");
        said("change");
    }
}

/// A stretch for each step.
fn bars(number: u32) -> StretchKey {
    StretchKey { stretch: Stretch::Bars { section: "Verse".into(), first: number, end: number + 1 }, ..key() }
}

fn numbered(number: u32) -> PlayedChange {
    PlayedChange { took_ms: 500 + number, at: Moment(i64::from(number)), ..change() }
}

/// How many of each there are.
fn found(journal: &Journal) -> Kept {
    let is_done = |number: &u32| journal.steps(&bars(*number)).expect("read").of(Step::Shapes) == Some(Done::Heard);
    Kept {
        passes: u32::try_from(journal.count_passes().expect("read")).expect("small"),
        steps: (0..).find(|number| !is_done(number)).expect("some step was not taken yet"),
        changes: u32::try_from(journal.recent_changes(None, u32::MAX).expect("read").len()).expect("small"),
    }
}

/// Counts, and sees that each pass from `from` on has its strokes, that the climb is the one of the last, and that the changes
/// are those that were played.
fn look_through(journal: &Journal, from: u32) -> Kept {
    let found = found(journal);
    let passes = journal.recent_passes(Some(&key()), found.passes - from).expect("read");
    for ((id, pass), number) in passes.iter().rev().zip(from..) {
        let expected = record(number);
        assert_eq!(*pass, expected.pass);
        assert_eq!(journal.strokes(*id).expect("read"), Some(expected.strokes));
    }
    let last = found.passes - 1;
    assert_eq!(journal.climb(&key()).expect("read"), record(last).climb, "the climb is that of the last pass");
    let changes = journal.recent_changes(None, u32::MAX).expect("read");
    assert!(changes.iter().rev().zip(0..).all(|(change, number)| *change == numbered(number)), "{changes:?}");
    found
}
