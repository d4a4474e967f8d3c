//! WAV: RIFF, and RF64 beyond 4 GiB (EBU Tech 3306), finished or not.

use std::io::{self, Read};

use crate::decode::error::Trouble;
use crate::decode::keep::{Decoded, Frames, Keep};

/// Frames read at a time.
const PIECE: usize = 4096;
/// A length nobody filled in: what is written to a pipe.
const OPEN_END: u32 = u32::MAX;

/// Format tags (RFC 2361, and `WAVEFORMATEXTENSIBLE`, whose own tag is in its sub-format).
const PCM: u16 = 1;
const FLOAT: u16 = 3;
const EXTENSIBLE: u16 = 0xFFFE;

/// Whether the first twelve bytes are a WAV file's.
pub(super) fn is_wav(head: &[u8; 12]) -> bool {
    (head.starts_with(b"RIFF") || head.starts_with(b"RF64")) && head.ends_with(b"WAVE")
}

/// What the `fmt ` chunk says.
struct Format {
    rate: u32,
    channels: u16,
    /// Bytes of one sample, which fill from the top: a 20-bit sample in 24 bits is read as 24.
    width: usize,
    float: bool,
}

/// Reads what follows the first twelve bytes.
pub(super) fn read<K: Keep>(mut reader: impl Read, frames: Frames<'_, K>) -> Result<Decoded<K>, Trouble> {
    let mut format = None;
    let mut long_data = None;
    while let Some((id, length)) = chunk(&mut reader)? {
        match &id {
            b"fmt " => format = Some(parse_format(&bytes(&mut reader, length)?)?),
            b"ds64" => long_data = bytes(&mut reader, length)?.get(8..16).and_then(|it| it.try_into().ok()),
            b"data" => {
                let format = format.ok_or(Trouble::NotAudio)?;
                // An unfinished file says 0 or all ones: then everything to the end is sound.
                let said = match length {
                    OPEN_END => long_data.map(u64::from_le_bytes),
                    0 => None,
                    _ => Some(u64::from(length)),
                };
                return samples(reader, &format, said, frames);
            }
            _ => drop(bytes(&mut reader, length)?),
        }
    }
    Err(if format.is_some() { Trouble::Empty } else { Trouble::NotAudio })
}

/// The next chunk's name and length; `None` at the end of the file.
fn chunk(reader: &mut impl Read) -> Result<Option<([u8; 4], u32)>, Trouble> {
    let mut head = Vec::with_capacity(8);
    reader.by_ref().take(8).read_to_end(&mut head)?;
    let [a, b, c, d, ref length @ ..] = head[..] else { return Ok(None) };
    let length: Option<[u8; 4]> = length.try_into().ok();
    Ok(length.map(|length| ([a, b, c, d], u32::from_le_bytes(length))))
}

/// A chunk's bytes, without the one that pads it to an even length. Only the first 64 are kept: no more is ever needed.
fn bytes(reader: &mut impl Read, length: u32) -> Result<Vec<u8>, Trouble> {
    let mut kept = Vec::with_capacity(64);
    let padded = u64::from(length) + u64::from(length % 2);
    let mut rest = reader.by_ref().take(padded);
    rest.by_ref().take(64).read_to_end(&mut kept)?;
    io::copy(&mut rest, &mut io::sink())?;
    kept.truncate(length as usize);
    Ok(kept)
}

fn parse_format(bytes: &[u8]) -> Result<Format, Trouble> {
    let word = |at: usize| bytes.get(at..at + 2).map(|it| u16::from_le_bytes([it[0], it[1]])).ok_or(Trouble::NotAudio);
    let rate = u32::from(word(4)?) | u32::from(word(6)?) << 16;
    let (channels, frame, bits) = (word(2)?, usize::from(word(12)?), usize::from(word(14)?));
    let tag = if word(0)? == EXTENSIBLE { word(24)? } else { word(0)? };
    if rate == 0 || channels == 0 {
        return Err(Trouble::NotAudio);
    }
    let width = if frame == 0 { bits.div_ceil(8) } else { frame / usize::from(channels) };
    if frame % usize::from(channels) != 0 {
        return Err(Trouble::Kind("a WAV file whose frames do not divide into its channels"));
    }
    let float = match (tag, width) {
        (PCM, 1..=4) => false,
        (FLOAT, 4 | 8) => true,
        (PCM | FLOAT, _) => return Err(Trouble::Kind("a WAV file with samples of this size")),
        _ => return Err(Trouble::Kind("a compressed WAV file")),
    };
    Ok(Format { rate, channels, width, float })
}

/// Everything in the `data` chunk, or to the end of the file.
fn samples<K: Keep>(
    reader: impl Read,
    format: &Format,
    said: Option<u64>,
    mut frames: Frames<'_, K>,
) -> Result<Decoded<K>, Trouble> {
    let frame = format.width * usize::from(format.channels);
    let mut reader = reader.take(said.unwrap_or(u64::MAX));
    let mut piece = Vec::with_capacity(PIECE * frame);
    let mut samples = vec![0.0; usize::from(format.channels)];
    let mut bytes_read = 0;
    loop {
        piece.clear();
        reader.by_ref().take((PIECE * frame) as u64).read_to_end(&mut piece)?;
        bytes_read += piece.len() as u64;
        for one in piece.chunks_exact(frame) {
            for (sample, bytes) in samples.iter_mut().zip(one.chunks_exact(format.width)) {
                *sample = value(bytes, format.float);
            }
            frames.push(&samples, format.rate)?;
        }
        if piece.len() < PIECE * frame {
            break;
        }
    }
    let truncated = said.is_some_and(|said| bytes_read < said);
    Ok(frames.decoded(format.rate, format.channels, truncated))
}

/// One sample, full scale ± 1. Eight bits are unsigned, more are signed.
#[expect(clippy::cast_possible_truncation, clippy::cast_precision_loss, reason = "24 bits are kept, which is plenty")]
fn value(bytes: &[u8], float: bool) -> f32 {
    match *bytes {
        [a] => (f32::from(a) - 128.0) / 128.0,
        [a, b] => f32::from(i16::from_le_bytes([a, b])) / 32_768.0,
        [a, b, c] => (i32::from_le_bytes([0, a, b, c]) >> 8) as f32 / 8_388_608.0,
        [a, b, c, d] if float => f32::from_le_bytes([a, b, c, d]),
        [a, b, c, d] => i32::from_le_bytes([a, b, c, d]) as f32 / 2_147_483_648.0,
        [a, b, c, d, e, f, g, h] => f64::from_le_bytes([a, b, c, d, e, f, g, h]) as f32,
        _ => 0.0,
    }
}
