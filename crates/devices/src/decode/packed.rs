//! FLAC, Ogg Vorbis and MP3, by the general decoder.

use std::io::{Read, Seek};
use std::panic::{AssertUnwindSafe, catch_unwind};

use rodio::{Decoder, Source as _};

use crate::decode::error::Trouble;
use crate::decode::keep::{Decoded, Frames, Keep};

/// Shorter than the file's own word by more than this, in seconds, is cut off. (Encoders pad by up to a few blocks.)
const PADDING_S: f64 = 0.2;

/// Decodes to the end, or as far as it goes.
pub(super) fn read<R, K>(reader: R, length: u64, frames: Frames<'_, K>) -> Result<Decoded<K>, Trouble>
where
    K: Keep,
    R: Read + Seek + Send + Sync + 'static,
{
    // The decoder is well tried, but it is fed whatever is in the file: its panic is the file's fault, not ours.
    catch_unwind(AssertUnwindSafe(|| decode(reader, length, frames))).unwrap_or(Err(Trouble::NotAudio))
}

fn decode<R, K>(reader: R, length: u64, mut frames: Frames<'_, K>) -> Result<Decoded<K>, Trouble>
where
    K: Keep,
    R: Read + Seek + Send + Sync + 'static,
{
    let decoder = Decoder::builder().with_data(reader).with_byte_len(length).with_seekable(true).build();
    let mut decoder = decoder.map_err(|_| Trouble::NotAudio)?;
    let (rate, channels) = (decoder.sample_rate(), decoder.channels());
    let said = decoder.total_duration();
    let mut samples = vec![0.0; usize::from(channels.get())];
    let mut changed = false;
    'frames: loop {
        for (channel, kept) in samples.iter_mut().enumerate() {
            let Some(sample) = decoder.next() else { break 'frames };
            if channel == 0 && (decoder.sample_rate(), decoder.channels()) != (rate, channels) {
                // Another stream chained on, at another rate: it can't be put on the same line.
                changed = true;
                break 'frames;
            }
            *kept = sample;
        }
        frames.push(&samples, rate.get())?;
    }
    let mut decoded = frames.decoded(rate.get(), channels.get(), changed);
    decoded.truncated |= said.is_some_and(|said| decoded.seconds() + PADDING_S < said.as_secs_f64());
    Ok(decoded)
}
