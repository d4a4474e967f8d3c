//! Choosing among what a device offers.

use cpal::{BufferSize, SampleFormat, StreamConfig, SupportedBufferSize, SupportedStreamConfigRange};

/// The slowest rate taken, frames a second.
pub(crate) const SLOWEST: u32 = 8_000;
/// The fastest rate taken, frames a second.
pub(crate) const FASTEST: u32 = 192_000;
/// Taken, in this order, where the rate asked for is not to be had.
const USUAL: [u32; 4] = [48_000, 44_100, 96_000, 88_200];

/// What would be best.
#[derive(Clone, Copy, Debug)]
pub(crate) struct Ask {
    /// Frames a second, if it matters.
    pub(crate) rate: Option<u32>,
    /// Frames a block.
    pub(crate) buffer: u32,
}

/// The offer that comes nearest: the rate asked for before all, then stereo, then the finest samples. The block length
/// is always named: a default can mean seconds.
pub(crate) fn choose(offers: &[SupportedStreamConfigRange], ask: Ask) -> Option<(StreamConfig, SampleFormat)> {
    let usable = offers.iter().filter(|it| !it.sample_format().is_dsd() && it.channels() > 0);
    let (offer, rate) =
        usable.filter_map(|offer| Some((offer, rate_of(offer, ask.rate)?))).max_by(|(a, rate_a), (b, rate_b)| {
            let asked = |rate: &u32| Some(*rate) == ask.rate;
            asked(rate_a).cmp(&asked(rate_b)).then(a.cmp_default_heuristics(b))
        })?;
    let buffer = match *offer.buffer_size() {
        SupportedBufferSize::Range { min, max } => ask.buffer.max(min).min(max.max(1)),
        SupportedBufferSize::Unknown => ask.buffer,
    };
    let config =
        StreamConfig { channels: offer.channels(), sample_rate: rate, buffer_size: BufferSize::Fixed(buffer.max(1)) };
    Some((config, offer.sample_format()))
}

fn rate_of(offer: &SupportedStreamConfigRange, asked: Option<u32>) -> Option<u32> {
    let (slowest, fastest) = (offer.min_sample_rate().max(SLOWEST), offer.max_sample_rate().min(FASTEST));
    let had = |rate: &u32| (slowest..=fastest).contains(rate);
    asked.into_iter().chain(USUAL).find(had).or_else(|| (slowest <= fastest).then_some(fastest))
}
