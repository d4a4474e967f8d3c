//! FLAC, Ogg Vorbis and MP3, by the general decoder.

use std::io::{Read, Seek};
use std::panic::{AssertUnwindSafe, catch_unwind};

use rodio::{Decoder, Source as _};

use crate::decode::error::Trouble;
use crate::decode::{Frames, Recording};

/// Shorter than the file's own word by more than this, in seconds, is cut off. (Encoders pad by up to a few blocks.)
const PADDING_S: f64 = 0.2;

/// Decodes to the end, or as far as it goes.
pub(super) fn read<R>(reader: R, length: u64) -> Result<Recording, Trouble>
where
    R: Read + Seek + Send + Sync + 'static,
{
    // The decoder is well tried, but it is fed whatever is in the file: its panic is the file's fault, not ours.
    catch_unwind(AssertUnwindSafe(|| decode(reader, length))).unwrap_or(Err(Trouble::NotAudio))
}

fn decode<R>(reader: R, length: u64) -> Result<Recording, Trouble>
where
    R: Read + Seek + Send + Sync + 'static,
{
    let decoder = Decoder::builder().with_data(reader).with_byte_len(length).with_seekable(true).build();
    let mut decoder = decoder.map_err(|_| Trouble::NotAudio)?;
    let (rate, channels) = (decoder.sample_rate(), decoder.channels());
    let said = decoder.total_duration();
    let mut frames = Frames::new(rate.get());
    let mut changed = false;
    'frames: loop {
        let mut sum = 0.0;
        for channel in 0..channels.get() {
            let Some(sample) = decoder.next() else { break 'frames };
            if channel == 0 && (decoder.sample_rate(), decoder.channels()) != (rate, channels) {
                // Another stream chained on, at another rate: it can't be put on the same line.
                changed = true;
                break 'frames;
            }
            sum += sample;
        }
        frames.push(sum, channels.get())?;
    }
    let mut recording = Recording { mono: frames.mono, rate: rate.get(), channels: channels.get(), truncated: changed };
    recording.truncated |= said.is_some_and(|said| recording.seconds() + PADDING_S < said.as_secs_f64());
    Ok(recording)
}
