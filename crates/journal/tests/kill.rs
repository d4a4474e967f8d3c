//! Killed while writing, at any moment: every pass that was acknowledged is there, whole.
//!
//! Runs itself as a child that writes passes and says after each that it is kept, kills it, and looks.

mod support;

use std::env;
use std::io::{BufRead as _, BufReader, Write as _};
use std::path::Path;
use std::process::{Command, Stdio};
use std::thread::sleep;
use std::time::Duration;

use sixrung_journal::{Journal, JournalWorker};
use sixrung_practice::Day;

use support::{key, record};

const TODAY: Day = Day(20_664);
const KILLS: u32 = 15;
const CHILD: &str = "write-passes-until-killed";

fn main() {
    let mut arguments = env::args().skip(1);
    if arguments.next().as_deref() == Some(CHILD) {
        let path = arguments.next().expect("the parent names the journal");
        return write_until_killed(Path::new(&path));
    }
    let folder = tempfile::tempdir().expect("a folder");
    let path = folder.path().join("journal.sqlite");
    let mut kept = 0;
    for kill in 0..KILLS {
        let acknowledged = kill_while_writing(&path, kill);
        let opened = Journal::open(&path, TODAY).expect("opens");
        assert_eq!(opened.notices, [], "nothing was damaged");
        let there = whole_passes(&opened.journal);
        assert!(there >= kept + acknowledged, "{there} of {} acknowledged passes are there", kept + acknowledged);
        assert!(there <= kept + acknowledged + 1, "one pass at most was being written");
        kept = there;
    }
    println!("killed {KILLS} times: {kept} passes kept, none that was acknowledged lost");
}

/// Gives back how many passes the child said were kept.
fn kill_while_writing(path: &Path, kill: u32) -> u64 {
    let mut child = Command::new(env::current_exe().expect("this program"))
        .arg(CHILD)
        .arg(path)
        .stdout(Stdio::piped())
        .spawn()
        .expect("starts");
    let mut lines = BufReader::new(child.stdout.take().expect("piped")).lines();
    let first = lines.next().expect("the child writes one pass").expect("read");
    // Spread over the length of some dozen commits by the golden ratio, so that all parts of a commit are met.
    sleep(Duration::from_micros(u64::from(kill.wrapping_mul(2_654_435_769) >> 17)));
    child.kill().expect("killed");
    child.wait().expect("ended");
    let said: Vec<String> = lines.map_while(Result::ok).collect();
    let last = said.iter().rev().find_map(|line| line.strip_suffix('.')).or(first.strip_suffix('.'));
    last.expect("a whole line").parse().expect("a number")
}

fn write_until_killed(path: &Path) {
    let journal = Journal::open(path, TODAY).expect("opens");
    let start = u32::try_from(journal.journal.count_passes().expect("read")).expect("small");
    let worker = JournalWorker::start(journal.journal, TODAY).expect("starts");
    for count in 1.. {
        worker.record(record(start + count - 1)).expect("there is room");
        while worker.status().saved < u64::from(count) {
            sleep(Duration::from_micros(50));
        }
        let mut out = std::io::stdout().lock();
        writeln!(out, "{count}.").and_then(|()| out.flush()).expect("the parent listens");
    }
}

/// Counts the passes, and sees that each has its strokes and that the climb is the one of the last.
fn whole_passes(journal: &Journal) -> u64 {
    let passes = journal.recent_passes(Some(&key()), u32::MAX).expect("read");
    for ((id, pass), number) in passes.iter().rev().zip(0..) {
        let expected = record(number);
        assert_eq!(*pass, expected.pass);
        assert_eq!(journal.strokes(*id).expect("read"), Some(expected.strokes));
    }
    let last = u32::try_from(passes.len()).expect("small") - 1;
    assert_eq!(journal.climb(&key()).expect("read"), record(last).climb, "the climb is that of the last pass");
    u64::from(last) + 1
}
