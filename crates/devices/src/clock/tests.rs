//! Clocks made up from what was measured: stamps with jitter, callbacks held up by the scheduler, origins of their own.

use super::{ClockMap, Gap, OutputTimes, Stamp, Times, Track, Turn};

const RATE: u32 = 48_000;
const BLOCK: u32 = 682;

/// A seeded generator (Marsaglia 2003, xorshift64).
struct Noise(u64);

impl Noise {
    /// Evenly spread over ± 1.
    fn next(&mut self) -> f64 {
        self.0 ^= self.0 << 13;
        self.0 ^= self.0 >> 7;
        self.0 ^= self.0 << 17;
        #[expect(clippy::cast_precision_loss, reason = "noise")]
        let unit = (self.0 >> 11) as f64 / (1_u64 << 53) as f64;
        2.0 * unit - 1.0
    }
}

/// A device: when its frames really sound, and how well it tells.
#[derive(Clone, Copy)]
struct Device {
    /// When frame 0 sounds, in seconds on our clock.
    began: f64,
    /// How fast its clock runs.
    ppm: f64,
    /// The stream's own clock shows this when ours shows zero.
    origin: f64,
    /// Stamps are off by up to this.
    jitter: f64,
    /// Callbacks come late by up to this.
    held_up: f64,
}

const FAIR: Device = Device { began: 0.25, ppm: 0.0, origin: 12.0, jitter: 0.0, held_up: 0.0 };

impl Device {
    fn seconds_of(&self, frame: f64) -> f64 {
        self.began + frame / (f64::from(RATE) * (1.0 + self.ppm * 1e-6))
    }

    fn stamp(&self, first: u64, noise: &mut Noise) -> Stamp {
        #[expect(clippy::cast_precision_loss, reason = "few frames")]
        let sounds = self.seconds_of(first as f64);
        let called = sounds - 0.02;
        #[expect(clippy::cast_possible_truncation, reason = "nanoseconds of minutes")]
        let ns = |seconds: f64| (seconds * 1e9) as i64;
        let times = Times {
            callback_ns: ns(called + self.origin),
            device_ns: ns(sounds + self.origin + self.jitter * noise.next()),
        };
        let arrived_ns = ns(called + self.held_up * noise.next().max(0.0));
        Stamp { stream: 1, rate: RATE, first, frames: BLOCK, zero: 0, lost: 0, times, arrived_ns }
    }
}

/// Feeds a track so many seconds of blocks; what it told.
fn feed(track: &mut Track, device: &Device, blocks: std::ops::Range<u64>, noise: &mut Noise) -> Vec<Gap> {
    blocks
        .filter_map(|block| match track.push(&device.stamp(block * u64::from(BLOCK), noise)) {
            Turn::Gap(gap) => Some(gap),
            Turn::Steady | Turn::Restarted => None,
        })
        .collect()
}

fn blocks(seconds: u64) -> u64 {
    seconds * u64::from(RATE) / u64::from(BLOCK)
}

/// The largest error of the map in milliseconds, over the half minute after the first five seconds, each input frame
/// asked for a block after it came.
fn worst_ms(input: &Device, output: &Device, seed: u64) -> f64 {
    let mut noise = Noise(seed);
    let mut map = ClockMap { input: Track::new(), output: OutputTimes::new() };
    let mut worst: f64 = 0.0;
    for block in 0..blocks(35) {
        let first = block * u64::from(BLOCK);
        assert_eq!(map.output.push(&output.stamp(first, &mut noise)), None);
        assert!(!matches!(map.input.push(&input.stamp(first, &mut noise)), Turn::Gap(_)));
        if block > blocks(5) {
            let asked = first - u64::from(BLOCK);
            let found = map.output_frame_of_input(asked).expect("known by then");
            #[expect(clippy::cast_precision_loss, reason = "few frames")]
            let sounding =
                (input.seconds_of(asked as f64) - output.began) * f64::from(RATE) * (1.0 + output.ppm * 1e-6);
            worst = worst.max((found - sounding).abs() * 1000.0 / f64::from(RATE));
        }
    }
    worst
}

#[test]
fn input_lies_on_the_output_to_a_fifth_of_a_millisecond() {
    let off = |ppm: f64, jitter: f64, held_up: f64| Device { ppm, jitter, held_up, ..FAIR };
    let late = |device: Device| Device { began: 1.5, origin: 9_000.0, ..device };
    // Nothing in the way: exact.
    assert!(worst_ms(&late(FAIR), &FAIR, 1) < 1e-3);
    // Two crystals ± 100 ppm apart; stamps off by ± 1 ms; callbacks held up by up to 30 ms.
    for (input, output, limit) in [
        (off(0.0, 1e-3, 0.0), FAIR, 0.2),
        (off(100.0, 0.0, 0.0), off(-100.0, 0.0, 0.0), 0.2),
        (off(-97.0, 0.1e-3, 30e-3), off(-97.0, 0.1e-3, 30e-3), 0.2),
        (off(50.0, 1e-3, 30e-3), off(-50.0, 1e-3, 30e-3), 0.2),
    ] {
        for seed in [3, 5, 7, 11, 13] {
            let worst = worst_ms(&late(input), &output, seed);
            assert!(worst < limit, "input {} ppm, jitter {}, seed {seed}: {worst} ms", input.ppm, input.jitter);
        }
    }
}

#[test]
fn nothing_is_claimed_before_it_is_known() {
    let mut noise = Noise(1);
    let mut track = Track::new();
    assert_eq!(track.ns_of(0.0), None);
    feed(&mut track, &FAIR, 0..7, &mut noise);
    assert_eq!(track.ns_of(0.0), None);
    feed(&mut track, &FAIR, 7..8, &mut noise);
    let ns = track.ns_of(0.0).expect("eight stamps");
    assert!((ns - 0.25e9).abs() < 1e3, "{ns}");
    let frame = track.frame_at(1.25e9).expect("eight stamps");
    assert!((frame - 48_000.0).abs() < 0.1, "{frame}");
}

/// Plays ten seconds, loses `missing_ms`, plays ten more.
fn gap_found(missing_ms: f64, jitter: f64, seed: u64) -> Vec<Gap> {
    let mut noise = Noise(seed);
    let mut track = Track::new();
    let before = Device { jitter, ..FAIR };
    let after = Device { began: before.began + missing_ms / 1000.0, ..before };
    let mut gaps = feed(&mut track, &before, 0..blocks(10), &mut noise);
    gaps.extend(feed(&mut track, &after, blocks(10)..blocks(20), &mut noise));
    #[expect(clippy::cast_precision_loss, reason = "few frames")]
    let asked = (blocks(20) * u64::from(BLOCK)) as f64;
    if !gaps.is_empty() {
        let off = track.ns_of(asked).expect("known") / 1e9 - after.seconds_of(asked);
        assert!(off.abs() < 0.5e-3, "after the gap the line is the new one: {off}");
        let old = track.ns_of(48_000.0).expect("known") / 1e9 - before.seconds_of(48_000.0);
        assert!(old.abs() < 0.5e-3, "before the gap it is the old one: {old}");
    }
    gaps
}

#[test]
fn missing_frames_are_found_where_they_are_missing() {
    for seed in [1, 2, 3] {
        for missing_ms in [7.0, 14.2, 85.0] {
            let gaps = gap_found(missing_ms, 0.3e-3, seed);
            assert_eq!(gaps.len(), 1, "{missing_ms} ms: {gaps:?}");
            assert_eq!(gaps[0].at, blocks(10) * u64::from(BLOCK), "the first frame after it");
            let found = gaps[0].missing_ms.expect("told");
            assert!((found - missing_ms).abs() < 1.0, "{missing_ms} ms: {found}");
        }
        assert_eq!(gap_found(0.0, 0.9e-3, seed), [], "jitter is no gap");
        assert_eq!(gap_found(-14.2, 0.3e-3, seed), [], "what comes early misses nothing");
        assert_eq!(gap_found(2.5, 0.1e-3, seed), [], "a busy sound server corrects itself so");
    }
}

#[test]
fn a_late_reading_now_and_then_is_no_gap() {
    let mut noise = Noise(9);
    let mut track = Track::new();
    for block in 0..blocks(20) {
        let mut stamp = FAIR.stamp(block * u64::from(BLOCK), &mut noise);
        if block % 40 < 3 {
            stamp.times.device_ns += 12_000_000;
        }
        assert!(!matches!(track.push(&stamp), Turn::Gap(_)), "block {block}");
    }
    let off = track.ns_of(48_000.0).expect("known") / 1e9 - FAIR.seconds_of(48_000.0);
    assert!(off.abs() < 0.05e-3, "{off}");
}

#[test]
fn slow_wandering_is_no_gap() {
    // As measured after a sound server's restart: 6 ms within 4 s, the frames themselves staying where they were.
    let mut noise = Noise(4);
    let mut track = Track::new();
    for block in 0..blocks(12) {
        let mut stamp = FAIR.stamp(block * u64::from(BLOCK), &mut noise);
        let wandered = block.saturating_sub(blocks(3)).min(blocks(4));
        stamp.times.device_ns += i64::try_from(wandered * 6_000_000 / blocks(4)).expect("small");
        assert!(!matches!(track.push(&stamp), Turn::Gap(_)), "block {block}");
    }
}

#[test]
fn a_stream_may_settle_in_its_first_half_second() {
    // As measured: an output's first blocks fill its buffer, and its stamps jump by 14 ms, twice.
    let mut noise = Noise(5);
    let mut track = Track::new();
    for block in 0..blocks(3) {
        let mut stamp = FAIR.stamp(block * u64::from(BLOCK), &mut noise);
        stamp.times.device_ns -=
            [28_000_000, 14_000_000, 14_000_000, 11_000_000].get(usize::try_from(block).expect("small")).unwrap_or(&0);
        assert!(!matches!(track.push(&stamp), Turn::Gap(_)), "block {block}");
    }
    let off = track.ns_of(96_000.0).expect("known") / 1e9 - FAIR.seconds_of(96_000.0);
    assert!(off.abs() < 0.1e-3, "{off}");
}

#[test]
fn frames_thrown_away_and_new_streams_are_told() {
    let mut noise = Noise(6);
    let mut track = Track::new();
    assert_eq!(track.push(&FAIR.stamp(0, &mut noise)), Turn::Restarted);
    feed(&mut track, &FAIR, 1..20, &mut noise);
    let at = 20 * u64::from(BLOCK);
    let lossy = Stamp { lost: 480, ..FAIR.stamp(at, &mut noise) };
    assert_eq!(track.push(&lossy), Turn::Gap(Gap { at, missing_ms: Some(10.0) }));
    let reopened = Stamp { stream: 2, ..FAIR.stamp(at + u64::from(BLOCK), &mut noise) };
    assert_eq!(track.push(&reopened), Turn::Restarted);
}

#[test]
fn a_new_source_counts_from_its_own_first_frame() {
    let mut noise = Noise(7);
    let mut output = OutputTimes::new();
    for block in 0..100 {
        output.push(&Stamp { zero: 50 * u64::from(BLOCK), ..FAIR.stamp(block * u64::from(BLOCK), &mut noise) });
    }
    let frame = output.frame_at(1e9 * FAIR.seconds_of(60.0 * f64::from(BLOCK))).expect("known");
    assert!((frame - 10.0 * f64::from(BLOCK)).abs() < 0.1, "{frame}");
}
