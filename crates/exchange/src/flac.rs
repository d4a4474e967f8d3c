//! Stereo FLAC (RFC 9639).

use std::fmt;
use std::io::{self, Write};

use flacenc::bitsink::ByteSink;
use flacenc::component::BitRepr;
use flacenc::config::Encoder;
use flacenc::error::{SourceError, Verify};
use flacenc::source::{Fill, Source};

use crate::wav::quantised;

/// Frames encoded at once.
const BLOCK: usize = 4096;

/// Bits a sample.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Bits {
    /// 16, rounded, clipped at full scale, without dither.
    Sixteen,
    /// 24, rounded, clipped at full scale.
    TwentyFour,
}

impl Bits {
    const fn count(self) -> usize {
        match self {
            Self::Sixteen => 16,
            Self::TwentyFour => 24,
        }
    }
}

/// Why a FLAC could not be written.
#[derive(Debug)]
pub enum FlacError {
    /// What it was written to failed.
    Io(io::Error),
    /// The encoder refused it: a rate or a length that FLAC does not have.
    Refused(String),
}

impl fmt::Display for FlacError {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Self::Io(error) => error.fmt(f),
            Self::Refused(why) => write!(f, "FLAC can't hold this: {why}"),
        }
    }
}

impl std::error::Error for FlacError {}

impl From<io::Error> for FlacError {
    fn from(error: io::Error) -> Self {
        Self::Io(error)
    }
}

/// Encodes what `next` gives, at `rate` frames a second, and writes it to `out`. `next` fills a block of interleaved left
/// and right samples and says how many frames it made: fewer than asked for only at the end. The encoded sound, about
/// half of its size, is held in memory until it is whole.
///
/// # Errors
/// [`FlacError`]; then what was written is not whole.
pub fn write(
    out: &mut impl Write,
    rate: u32,
    bits: Bits,
    next: impl FnMut(&mut [f32]) -> usize,
) -> Result<(), FlacError> {
    let refused = |error: &dyn fmt::Debug| FlacError::Refused(format!("{error:?}"));
    let config = Encoder::default().into_verified().map_err(|(_, error)| refused(&error))?;
    let sound = Sound { rate, bits, next, block: vec![0.0; 2 * BLOCK], samples: Vec::with_capacity(2 * BLOCK) };
    let mut stream = flacenc::encode_with_fixed_block_size(&config, sound, BLOCK).map_err(|error| refused(&error))?;
    // The last block, which is shorter, does not count (RFC 9639, 8.2): with it some readers take the block size for one
    // that varies, and refuse the frames.
    stream.stream_info_mut().set_block_sizes(BLOCK, BLOCK).map_err(|error| refused(&error))?;
    let mut sink = ByteSink::new();
    stream.write(&mut sink).map_err(|error| refused(&error))?;
    Ok(out.write_all(sink.as_slice())?)
}

struct Sound<N> {
    rate: u32,
    bits: Bits,
    next: N,
    block: Vec<f32>,
    samples: Vec<i32>,
}

impl<N: FnMut(&mut [f32]) -> usize> Source for Sound<N> {
    fn channels(&self) -> usize {
        2
    }

    fn bits_per_sample(&self) -> usize {
        self.bits.count()
    }

    fn sample_rate(&self) -> usize {
        self.rate as usize
    }

    fn read_samples<F: Fill>(&mut self, block_size: usize, dest: &mut F) -> Result<usize, SourceError> {
        self.block.resize(2 * block_size, 0.0);
        let made = (self.next)(&mut self.block);
        let bits = if self.bits == Bits::Sixteen { 16 } else { 24 };
        self.samples.clear();
        self.samples.extend(self.block[..2 * made].iter().map(|sample| quantised(*sample, bits)));
        dest.fill_interleaved(&self.samples)?;
        Ok(made)
    }
}

#[cfg(test)]
mod tests {
    use std::io::Cursor;

    use super::{Bits, FlacError, write};
    use crate::wav::quantised;

    /// A sine on the left, its quarter on the right, and a length that is no whole block.
    fn sound() -> Vec<f32> {
        let sine = |frame: u16| (f32::from(frame) * 0.05).sin() * 1.1;
        (0..10_000).flat_map(|frame| [sine(frame), 0.25 * sine(frame)]).collect()
    }

    fn written(rate: u32, bits: Bits, sound: &[f32]) -> Result<Vec<u8>, FlacError> {
        let (mut file, mut at) = (Vec::new(), 0);
        write(&mut file, rate, bits, |block| {
            let made = (block.len() / 2).min((sound.len() - at) / 2);
            block[..2 * made].copy_from_slice(&sound[at..at + 2 * made]);
            at += 2 * made;
            made
        })?;
        Ok(file)
    }

    /// Read back by claxon, another decoder, which also checks every frame's sum.
    #[test]
    fn another_decoder_reads_the_same_samples() {
        for (bits, count) in [(Bits::Sixteen, 16), (Bits::TwentyFour, 24)] {
            for rate in [8_000, 44_100, 48_000, 96_000] {
                let file = written(rate, bits, &sound()).expect("memory takes it");
                let mut reader = claxon::FlacReader::new(Cursor::new(file)).expect("a FLAC");
                let info = reader.streaminfo();
                assert_eq!((info.sample_rate, info.bits_per_sample, info.channels), (rate, count, 2));
                assert_eq!(info.samples, Some(10_000), "the length stands in the head");
                let read: Vec<i32> = reader.samples().map(|sample| sample.expect("whole frames")).collect();
                let meant: Vec<i32> = sound().into_iter().map(|sample| quantised(sample, count)).collect();
                assert!(read == meant, "{bits:?} at {rate}");
            }
        }
    }

    #[test]
    fn nothing_is_an_empty_file_and_a_full_disk_is_told() {
        let file = written(48_000, Bits::Sixteen, &[]).expect("memory takes it");
        assert_eq!(&file[..4], b"fLaC");
        let mut small = [0_u8; 100];
        let failed = write(&mut &mut small[..], 48_000, Bits::Sixteen, {
            let mut blocks = 0;
            move |block| {
                block.iter_mut().zip(1_u16..).for_each(|(sample, turn)| *sample = (f32::from(turn) * 1.7).sin());
                blocks += 1;
                if blocks < 4 { block.len() / 2 } else { 0 }
            }
        });
        assert!(matches!(failed, Err(FlacError::Io(_))), "{failed:?}");
    }
}
