//! The audio thread neither allocates nor frees nor locks: counted over a million frames with commands, swaps and
//! loop restarts.

#![expect(unsafe_code, reason = "a global allocator that counts is an unsafe trait by its nature")]

#[path = "../hand_made/mod.rs"]
mod hand_made;

use std::alloc::{GlobalAlloc, Layout, System};
use std::cell::Cell;
use std::fs;
use std::path::Path;
use std::sync::Arc;

use hand_made::{busy_bar, timeline};
use sixrung_audio::{
    Command, Decibels, Instrument, Part, Performer, Prepared, Report, Song, flush_denormals, handover,
};

thread_local! {
    /// Calls to the allocator on this thread while it watches; `None` while it doesn't.
    static WATCHED: Cell<Option<u64>> = const { Cell::new(None) };
}

struct Counting;

fn count() {
    WATCHED.with(|watched| watched.set(watched.get().map(|calls| calls + 1)));
}

// SAFETY: every call is passed on unchanged to the system's allocator; counting touches only a thread-local number.
unsafe impl GlobalAlloc for Counting {
    unsafe fn alloc(&self, layout: Layout) -> *mut u8 {
        count();
        // SAFETY: the caller's promise is passed on.
        unsafe { System.alloc(layout) }
    }

    unsafe fn dealloc(&self, pointer: *mut u8, layout: Layout) {
        count();
        // SAFETY: the caller's promise is passed on.
        unsafe { System.dealloc(pointer, layout) }
    }

    unsafe fn realloc(&self, pointer: *mut u8, layout: Layout, size: usize) -> *mut u8 {
        count();
        // SAFETY: the caller's promise is passed on.
        unsafe { System.realloc(pointer, layout, size) }
    }
}

#[global_allocator]
static ALLOCATOR: Counting = Counting;

/// Calls to the allocator during `work`.
fn calls_during(work: impl FnOnce()) -> u64 {
    WATCHED.set(Some(0));
    work();
    WATCHED.replace(None).expect("was watching")
}

#[test]
fn the_counter_counts() {
    assert_eq!(calls_during(|| drop(std::hint::black_box(Box::new(1)))), 2);
}

fn prepared(id: u64, milli_bpm: u32) -> Box<Prepared> {
    let mut bar = timeline(id, 48_000, milli_bpm, busy_bar());
    bar.passes = (id % 5 == 4).then_some(1);
    let plain = Prepared::new(bar, &Instrument::guitar());
    // Every third one with a recording of the learner's in it.
    Box::new(if id.is_multiple_of(3) {
        plain.with_song(Arc::new(Song::new(40, vec![[0.1; 2]; 30_000].into())))
    } else {
        plain
    })
}

/// Something else to do at every turn.
fn command(turn: u64) -> Command {
    let tempo = 90_000 + 7_300 * u32::try_from(turn % 40).expect("small");
    match turn % 12 {
        0 | 5 => Command::Play(prepared(turn, tempo)),
        11 => Command::Play(Box::new(Prepared::recording(turn, 48_000, vec![0.1; 9_000]))),
        1 | 3 | 7 | 9 => Command::PlayNext(prepared(turn, tempo)),
        2 => Command::Gain(Part::Click, Decibels(-20.0)),
        4 => Command::Master(Decibels(12.0)),
        6 => Command::Stop,
        8 => Command::Mute,
        10 => Command::Unmute,
        _ => Command::Gain(Part::Guitar, Decibels(3.0)),
    }
}

#[test]
fn a_million_frames_without_one_call_to_the_allocator() {
    let (mut controls, end) = handover::pair(16);
    let mut performer = Performer::new(48_000, end);
    let mut out = vec![0.0; 2 * 4096];
    let (mut calls, mut made, mut started, mut cycles) = (0, 0, 0, 0);
    let blocks = [64_usize, 1, 480, 4096, 682, 33];
    for turn in 0_u64.. {
        if made >= 1_000_000 {
            break;
        }
        if turn % 8 == 0 {
            // Refused now and then, when eight timelines are out: that is the controls' business, not the performer's.
            let _ = controls.send(command(turn / 8));
        }
        let frames = blocks[usize::try_from(turn).expect("fits") % blocks.len()];
        calls += calls_during(|| {
            flush_denormals();
            performer.process(&mut out[..2 * frames]);
        });
        made += frames;
        // Now and then nobody reads for a while, so that the report queue fills up.
        if turn % 256 < 128 {
            for report in std::iter::from_fn(|| controls.poll()) {
                started += u32::from(matches!(report, Report::Started { .. }));
                cycles += u32::from(matches!(report, Report::CycleStarted { .. }));
            }
        }
    }
    assert_eq!(calls, 0);
    assert!(started > 20 && cycles > 30, "{started} timelines and {cycles} cycles went through");
}

/// `crossbeam-channel` locks only when somebody blocks on a channel; nothing here may, and nothing else here can lock,
/// wait, print or tell the time.
#[test]
fn no_source_file_can_lock_wait_print_or_tell_the_time() {
    const BARRED: [&str; 16] = [
        "Mutex",
        "RwLock",
        "Condvar",
        "Once",
        "Lazy",
        "thread::",
        "println!",
        "print!(",
        "dbg!",
        "Instant",
        "SystemTime",
        ".recv()",
        "recv_timeout",
        "select!",
        "std::fs",
        "std::io",
    ];
    let mut files = vec![Path::new(env!("CARGO_MANIFEST_DIR")).join("src")];
    let mut read = 0;
    while let Some(path) = files.pop() {
        if path.is_dir() {
            files.extend(fs::read_dir(&path).expect("readable").map(|entry| entry.expect("readable").path()));
            continue;
        }
        let text = fs::read_to_string(&path).expect("readable");
        let code = text.split("#[cfg(test)]\nmod tests").next().unwrap_or(&text);
        for (number, line) in code.lines().enumerate().filter(|(_, line)| !line.trim_start().starts_with("//")) {
            let found = BARRED.iter().find(|barred| line.contains(**barred));
            assert!(found.is_none(), "{}:{}: {found:?}", path.display(), number + 1);
        }
        read += 1;
    }
    assert!(read > 20, "the sources were found");
}
