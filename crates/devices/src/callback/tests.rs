use std::alloc::{GlobalAlloc, Layout, System};
use std::cell::Cell;
use std::sync::Arc;
use std::sync::atomic::{AtomicU64, Ordering};

use cpal::{I24, Sample as _, U24};

use super::input::mono;
use super::output::spread;
use super::{OutputSide, Returning, home, input_side, output_side};
use crate::clock::{Clock, Times};
use crate::config::Pick;
use crate::source::Source;

/// Counts what the calling thread allocates and frees while it asks for it.
struct Counting;

thread_local! {
    static COUNTED: Cell<Option<u64>> = const { Cell::new(None) };
}

fn count() {
    COUNTED.with(|it| it.set(it.get().map(|count| count + 1)));
}

#[expect(unsafe_code, reason = "an allocator can be written no other way; it hands everything on to the system's")]
// SAFETY: every call goes to the system's allocator unchanged.
unsafe impl GlobalAlloc for Counting {
    unsafe fn alloc(&self, layout: Layout) -> *mut u8 {
        count();
        // SAFETY: as the caller promised.
        unsafe { System.alloc(layout) }
    }

    unsafe fn dealloc(&self, at: *mut u8, layout: Layout) {
        count();
        // SAFETY: as the caller promised.
        unsafe { System.dealloc(at, layout) }
    }
}

#[global_allocator]
static ALLOCATOR: Counting = Counting;

/// How often `work` allocated or freed.
fn allocations(work: impl FnOnce()) -> u64 {
    COUNTED.with(|it| it.set(Some(0)));
    work();
    COUNTED.with(Cell::take).unwrap_or(u64::MAX)
}

/// Plays the numbers 1, 2, 3 … over 2²⁰, left positive, right negative, and counts its drop.
struct Ramp {
    next: u64,
    dropped: Arc<AtomicU64>,
}

impl Source for Ramp {
    #[expect(clippy::cast_precision_loss, reason = "small numbers")]
    fn process(&mut self, block: &mut [f32]) {
        for pair in block.chunks_mut(2) {
            self.next += 1;
            pair[0] = self.next as f32 / f32::from(2_u16).powi(20);
            pair[1] = -pair[0];
        }
    }
}

impl Drop for Ramp {
    fn drop(&mut self) {
        self.dropped.fetch_add(1, Ordering::Relaxed);
    }
}

fn ramp(dropped: &Arc<AtomicU64>) -> Box<Ramp> {
    Box::new(Ramp { next: 0, dropped: Arc::clone(dropped) })
}

fn render(side: &mut OutputSide, frames: usize) -> Vec<f32> {
    let mut out = vec![f32::NAN; 2 * frames];
    side.render(&mut out, 2, Times::default());
    out
}

#[test]
fn the_counter_counts() {
    assert_eq!(allocations(|| drop(std::hint::black_box(Box::new(1)))), 2);
}

#[test]
fn stereo_goes_to_any_channels_and_formats() {
    fn check<T: cpal::Sample + cpal::FromSample<f32> + PartialEq + std::fmt::Debug>(
        stereo: &[f32],
        channels: usize,
        expected: &[T],
    ) {
        let mut out = vec![T::EQUILIBRIUM; expected.len()];
        spread(stereo, &mut out, channels);
        assert_eq!(out, expected, "{stereo:?} to {channels}");
    }
    check::<f32>(&[0.5, -0.25, 1.0, 0.0], 1, &[0.125, 0.5]);
    check::<f32>(&[0.5, -0.25], 2, &[0.5, -0.25]);
    check::<f32>(&[0.5, -0.25], 4, &[0.5, -0.25, 0.0, 0.0]);
    check::<f64>(&[0.5, -2.0], 2, &[0.5, -1.0]);
    check::<i16>(&[1.0, -1.0, 0.5, 0.0], 2, &[32_767, -32_768, 16_384, 0]);
    check::<i8>(&[9.0, -9.0], 2, &[127, -128]);
    check::<i32>(&[-1.0, 0.25], 2, &[i32::MIN, 1 << 29]);
    check::<u8>(&[1.0, -1.0, 0.0, 0.5], 2, &[255, 0, 128, 192]);
    check::<u16>(&[0.0, -1.0], 4, &[32_768, 0, 32_768, 32_768]);
    let i24 = |value| I24::new(value).expect("24 bits");
    check::<I24>(&[1.0, -1.0], 2, &[i24(8_388_607), i24(-8_388_608)]);
    check::<U24>(&[0.0, -1.0], 2, &[U24::EQUILIBRIUM, U24::new(0).expect("24 bits")]);
    check::<i16>(&[f32::NAN, f32::INFINITY], 2, &[0, 32_767]);
}

#[test]
fn any_format_and_channels_become_mono() {
    assert_eq!(mono(&[0.5_f32, -0.25, 0.5, 0.25], Pick::Mean), 0.25);
    assert_eq!(mono(&[16_384_i16, 0], Pick::Mean), 0.25);
    assert_eq!(mono(&[16_384_i16, 0], Pick::Channel(0)), 0.5);
    assert_eq!(mono(&[16_384_i16, -32_768], Pick::Channel(1)), -1.0);
    assert_eq!(mono(&[64_u8, 64], Pick::Channel(7)), -0.5, "no such channel: the mean");
    assert_eq!(mono(&[I24::new(-4_194_304).expect("24 bits")], Pick::Mean), -0.5);
}

#[test]
fn blocks_of_any_length_hold_the_same_samples() {
    let dropped = Arc::default();
    let expected = {
        let mut all = vec![0.0; 20_000];
        ramp(&dropped).process(&mut all);
        all
    };
    for length in [1, 64, 480, 682, 1024, 1025, 4096, 10_000] {
        let (mut side, inbox, _desk, _played) = output_side(Clock::start());
        side.opened(48_000);
        inbox.put(ramp(&dropped));
        let mut heard = Vec::new();
        while heard.len() < expected.len() {
            heard.extend(render(&mut side, length.min((expected.len() - heard.len()) / 2)));
        }
        assert!(heard == expected, "blocks of {length}");
    }
}

#[test]
fn a_source_is_swapped_and_comes_out_to_be_freed_elsewhere() {
    let dropped: Arc<AtomicU64> = Arc::default();
    let count = || dropped.load(Ordering::Relaxed);
    let (mut side, inbox, desk, _played) = output_side(Clock::start());
    side.opened(48_000);
    assert!(render(&mut side, 10).iter().all(|it| *it == 0.0), "silence before the first");
    inbox.put(ramp(&dropped));
    inbox.put(ramp(&dropped));
    assert_eq!(count(), 1, "the one never fetched is freed by whoever puts the next");
    assert!(render(&mut side, 10)[0] > 0.0);
    for _ in 0..3 {
        inbox.put(ramp(&dropped));
        render(&mut side, 10);
    }
    assert_eq!(count(), 2, "one is playing, one waits at the exit, one at the entrance");
    drop(desk.outbox.try_recv());
    assert_eq!(count(), 3);
}

#[test]
fn a_source_survives_reopening_at_its_rate_and_no_other() {
    let dropped: Arc<AtomicU64> = Arc::default();
    let (mut side, inbox, _desk, _played) = output_side(Clock::start());
    side.opened(48_000);
    inbox.put(ramp(&dropped));
    let before = render(&mut side, 100);
    let (way_home, at_home) = home();
    drop(Returning::new(side, way_home));
    let mut side = at_home.try_recv().expect("it came home with its stream's callback");
    side.opened(48_000);
    assert!(render(&mut side, 1)[0] > before[198], "it goes on where it was");
    side.opened(44_100);
    assert_eq!(dropped.load(Ordering::Relaxed), 1);
    assert_eq!(render(&mut side, 1)[0], 0.0);
}

#[test]
fn callbacks_neither_allocate_nor_free() {
    let dropped = Arc::default();
    let (mut output, inbox, mut desk, _played) = output_side(Clock::start());
    let (mut input, mut ends) = input_side(Clock::start());
    output.opened(48_000);
    input.opened(48_000, Pick::Mean);
    let (mut speakers, mut ints, microphone) = (vec![0.0_f32; 2 * 4096], vec![0_i16; 3 * 682], vec![0.5_f32; 2 * 480]);
    let mut found = 0;
    // A million frames and more, with a new source every thirty blocks; every tenth time nobody fetches what comes out.
    for block in 0..300_u64 {
        if block % 30 == 0 {
            inbox.put(ramp(&dropped));
        }
        found += allocations(|| {
            output.render(&mut speakers, 2, Times::default());
            output.render(&mut ints, 3, Times::default());
            output.render(&mut speakers[..64], 1, Times::default());
            input.take(&microphone, 2, Times::default());
        });
        if block % 10 != 0 {
            while desk.stamps.pop().is_ok() {}
            drop(desk.outbox.try_recv());
        }
        if block == 150 {
            while ends.stamps.pop().is_ok() {}
        }
    }
    assert_eq!(found, 0);
}

#[test]
fn a_listener_that_sleeps_loses_whole_blocks_and_learns_how_many() {
    let (mut input, mut ends) = input_side(Clock::start());
    input.opened(48_000, Pick::Mean);
    let block = vec![0.25_f32; 100_000];
    (0..8).for_each(|_| input.take(&block, 1, Times::default()));
    let stamps: Vec<_> = std::iter::from_fn(|| ends.stamps.pop().ok()).collect();
    assert_eq!(stamps.len(), 5, "half a million fit");
    assert!(stamps.iter().all(|it| it.lost == 0));
    ends.samples.read_chunk(500_000).expect("all there").commit_all();
    input.take(&block, 1, Times::default());
    let next = ends.stamps.pop().expect("room again");
    assert_eq!((next.first, next.lost, next.frames), (500_000, 300_000, 100_000));
}
