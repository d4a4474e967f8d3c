//! Stereo WAV, written as it comes.

use std::fmt;
use std::io::{self, Seek, Write};

use hound::{SampleFormat, WavSpec, WavWriter};

/// How samples are stored.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Format {
    /// 32-bit floating point: exactly what was rendered.
    Float32,
    /// 24-bit integers, rounded, clipped at full scale.
    Int24,
    /// 16-bit integers, rounded, clipped at full scale. No dither: a click track is not to hiss.
    Int16,
}

impl Format {
    const fn bits(self) -> u16 {
        match self {
            Self::Float32 => 32,
            Self::Int24 => 24,
            Self::Int16 => 16,
        }
    }
}

/// Why a WAV could not be written.
#[derive(Debug)]
pub enum WavError {
    /// What it was written to failed.
    Io(io::Error),
    /// WAV counts its bytes in 32 bits: 3 hours of 32-bit stereo at 48 kHz.
    TooLong,
    /// An odd number of samples is not stereo.
    HalfFrame,
}

impl fmt::Display for WavError {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Self::Io(error) => error.fmt(f),
            Self::TooLong => f.write_str("this is longer than a WAV file can be (4 GiB)"),
            Self::HalfFrame => f.write_str("the sound ends in the middle of a frame"),
        }
    }
}

impl std::error::Error for WavError {}

impl From<io::Error> for WavError {
    fn from(error: io::Error) -> Self {
        Self::Io(error)
    }
}

impl From<hound::Error> for WavError {
    fn from(error: hound::Error) -> Self {
        match error {
            hound::Error::IoError(error) => Self::Io(error),
            hound::Error::UnfinishedSample => Self::HalfFrame,
            other => Self::Io(io::Error::other(other)),
        }
    }
}

/// Writes a stereo WAV. It is valid only once [`Writer::finish`] has returned.
pub struct Writer<W: Write + Seek> {
    inner: WavWriter<W>,
    format: Format,
    room: u64,
}

impl<W: Write + Seek> Writer<W> {
    /// Begins a file at `rate` frames a second. Wrap a file in a [`std::io::BufWriter`]: samples are written singly.
    ///
    /// # Errors
    /// [`WavError::Io`].
    pub fn new(inner: W, rate: u32, format: Format) -> Result<Self, WavError> {
        let sample_format = if format == Format::Float32 { SampleFormat::Float } else { SampleFormat::Int };
        let spec = WavSpec { channels: 2, sample_rate: rate, bits_per_sample: format.bits(), sample_format };
        // The longest header there is takes 68 bytes; the rest of the 32 bits is for samples.
        let room = (u64::from(u32::MAX) - 128) / u64::from(format.bits() / 8);
        Ok(Self { inner: WavWriter::new(inner, spec)?, format, room })
    }

    /// Adds samples, left and right by turns.
    ///
    /// # Errors
    /// [`WavError::Io`], or [`WavError::TooLong`]; then nothing of this call was written.
    pub fn write(&mut self, stereo: &[f32]) -> Result<(), WavError> {
        self.room = self.room.checked_sub(stereo.len() as u64).ok_or(WavError::TooLong)?;
        for &sample in stereo {
            match self.format {
                Format::Float32 => self.inner.write_sample(sample)?,
                Format::Int24 => self.inner.write_sample(quantised(sample, 24))?,
                Format::Int16 => self.inner.write_sample(quantised(sample, 16))?,
            }
        }
        Ok(())
    }

    /// Fills in the lengths and flushes.
    ///
    /// # Errors
    /// [`WavError::Io`], or [`WavError::HalfFrame`].
    pub fn finish(self) -> Result<(), WavError> {
        Ok(self.inner.finalize()?)
    }
}

/// The nearest integer of so many bits; no number is silence.
#[expect(clippy::cast_possible_truncation, reason = "clamped to the range")]
pub(crate) fn quantised(sample: f32, bits: u32) -> i32 {
    let full = f64::from(1_u32 << (bits - 1));
    (f64::from(sample) * full).round().clamp(-full, full - 1.0) as i32
}

#[cfg(test)]
mod tests {
    use std::io::Cursor;

    use super::{Format, WavError, Writer};

    fn written(rate: u32, format: Format, samples: &[f32]) -> Vec<u8> {
        let mut file = Cursor::new(Vec::new());
        let mut wav = Writer::new(&mut file, rate, format).expect("memory takes it");
        wav.write(samples).expect("memory takes it");
        wav.finish().expect("memory takes it");
        file.into_inner()
    }

    /// The bytes after the `data` chunk's head, found by hand: the layout is Microsoft's and IBM's of 1991.
    fn data(file: &[u8]) -> &[u8] {
        let at = file.windows(4).position(|it| it == b"data").expect("a data chunk");
        let length = u32::from_le_bytes(file[at + 4..at + 8].try_into().expect("four bytes"));
        assert_eq!(at + 8 + length as usize, file.len(), "the data chunk ends the file");
        let riff = u32::from_le_bytes(file[4..8].try_into().expect("four bytes"));
        assert_eq!(riff as usize + 8, file.len(), "RIFF counts all but its own head");
        &file[at + 8..]
    }

    fn check(format: Format, samples: &[f32], expected: &[u8]) {
        assert_eq!(data(&written(48_000, format, samples)), expected, "{format:?} {samples:?}");
    }

    #[test]
    fn samples_are_stored_little_endian_and_clipped() {
        check(Format::Int16, &[0.0, 0.5], &[0, 0, 0x00, 0x40]);
        check(Format::Int16, &[1.0, -1.0], &[0xFF, 0x7F, 0x00, 0x80]);
        check(Format::Int16, &[7.0, -7.0], &[0xFF, 0x7F, 0x00, 0x80]);
        check(Format::Int16, &[f32::NAN, f32::INFINITY], &[0, 0, 0xFF, 0x7F]);
        check(Format::Int24, &[1.0, -1.0], &[0xFF, 0xFF, 0x7F, 0x00, 0x00, 0x80]);
        check(Format::Int24, &[0.25, -0.25], &[0, 0, 0x20, 0, 0, 0xE0]);
        check(Format::Float32, &[1.5, -0.1], &[1.5_f32.to_le_bytes(), (-0.1_f32).to_le_bytes()].concat());
        check(Format::Float32, &[], &[]);
    }

    #[test]
    fn the_header_says_what_was_asked_for() {
        for (format, bits) in [(Format::Float32, 32), (Format::Int24, 24), (Format::Int16, 16)] {
            for rate in [8_000, 44_100, 192_000] {
                let reader = hound::WavReader::new(Cursor::new(written(rate, format, &[0.1; 8]))).expect("a WAV");
                let spec = reader.spec();
                assert_eq!((spec.sample_rate, spec.bits_per_sample, spec.channels), (rate, bits, 2));
                assert_eq!(reader.duration(), 4);
            }
        }
    }

    #[test]
    fn half_a_frame_is_refused() {
        let mut wav = Writer::new(Cursor::new(Vec::new()), 48_000, Format::Int16).expect("memory takes it");
        wav.write(&[0.0; 3]).expect("memory takes it");
        assert!(matches!(wav.finish(), Err(WavError::HalfFrame)));
    }

    #[test]
    fn what_32_bits_cannot_count_is_refused_whole() {
        let mut wav = Writer::new(Cursor::new(Vec::new()), 48_000, Format::Float32).expect("memory takes it");
        assert_eq!(wav.room * 4 / (48_000 * 8) / 60, 186, "minutes: the three hours the error tells of");
        wav.room = 3;
        assert!(matches!(wav.write(&[0.0; 4]), Err(WavError::TooLong)));
        assert_eq!(wav.inner.len(), 0);
    }

    #[test]
    fn a_full_disk_is_told() {
        let mut small = [0_u8; 100];
        let written =
            Writer::new(Cursor::new(&mut small[..]), 48_000, Format::Int16).and_then(|mut wav| wav.write(&[0.0; 64]));
        assert!(matches!(written, Err(WavError::Io(_))), "{written:?}");
    }
}
