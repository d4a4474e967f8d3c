use cpal::{BufferSize, SampleFormat, SupportedBufferSize, SupportedStreamConfigRange};

use super::{Ask, choose};

fn offer(channels: u16, rates: (u32, u32), buffers: (u32, u32), format: SampleFormat) -> SupportedStreamConfigRange {
    let (min, max) = buffers;
    SupportedStreamConfigRange::new(channels, rates.0, rates.1, SupportedBufferSize::Range { min, max }, format)
}

/// Channels, rate, frames a block and format chosen.
fn check(
    offers: &[SupportedStreamConfigRange],
    ask: (Option<u32>, u32),
    expected: Option<(u16, u32, u32, SampleFormat)>,
) {
    let found = choose(offers, Ask { rate: ask.0, buffer: ask.1 }).map(|(config, format)| {
        let BufferSize::Fixed(buffer) = config.buffer_size else { panic!("a default can mean seconds") };
        (config.channels, config.sample_rate, buffer, format)
    });
    assert_eq!(found, expected, "{offers:?} {ask:?}");
}

#[test]
fn the_rate_asked_for_comes_first_then_stereo_then_the_finest_samples() {
    use SampleFormat::{DsdU8, F32, I16, I24, U8};
    let wide = (64, 8192);
    check(&[offer(2, (8_000, 192_000), wide, F32)], (None, 1024), Some((2, 48_000, 1024, F32)));
    check(&[offer(2, (44_100, 44_100), wide, I16)], (Some(48_000), 1024), Some((2, 44_100, 1024, I16)));
    check(&[offer(8, (96_000, 96_000), wide, I24)], (None, 1024), Some((8, 96_000, 1024, I24)));
    check(&[offer(1, (11_025, 16_000), wide, U8)], (None, 1024), Some((1, 16_000, 1024, U8)));
    let two = [offer(2, (48_000, 48_000), wide, F32), offer(1, (44_100, 44_100), wide, I16)];
    check(&two, (None, 1024), Some((2, 48_000, 1024, F32)));
    check(&two, (Some(44_100), 1024), Some((1, 44_100, 1024, I16)));
    let formats = [offer(2, (48_000, 48_000), wide, U8), offer(2, (48_000, 48_000), wide, I24)];
    check(&formats, (None, 1024), Some((2, 48_000, 1024, I24)));
    check(&[offer(2, (2_822_400, 2_822_400), wide, DsdU8)], (None, 1024), None);
    check(&[offer(2, (384_000, 768_000), wide, F32)], (None, 1024), None);
    check(&[], (None, 1024), None);
}

#[test]
fn the_block_length_stays_within_what_is_offered() {
    let f32 = SampleFormat::F32;
    check(&[offer(2, (48_000, 48_000), (2048, 4096), f32)], (None, 1024), Some((2, 48_000, 2048, f32)));
    check(&[offer(2, (48_000, 48_000), (16, 256), f32)], (None, 1024), Some((2, 48_000, 256, f32)));
    check(&[offer(2, (48_000, 48_000), (0, 0), f32)], (None, 0), Some((2, 48_000, 1, f32)));
}
