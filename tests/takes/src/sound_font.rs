//! Reads single notes out of a sound font: as much of SoundFont 2.04 (Creative Technology, 2006) as guitars need.

use std::fs::File;
use std::io::{Read, Seek, SeekFrom};
use std::path::Path;

use crate::error::Error;

/// Generators by their numbers in the standard, section 8.1.2.
const COARSE_TUNE: u16 = 51;
const FINE_TUNE: u16 = 52;
const INSTRUMENT: u16 = 41;
const KEY_RANGE: u16 = 43;
const VELOCITY_RANGE: u16 = 44;
const SAMPLE: u16 = 53;
const SAMPLE_MODES: u16 = 54;
const ROOT_KEY: u16 = 58;

/// A recorded note and where it is used.
#[derive(Clone, Debug)]
pub(crate) struct Zone {
    /// MIDI keys, lowest and highest.
    pub(crate) keys: (u8, u8),
    /// MIDI velocities, lowest and highest.
    pub(crate) velocities: (u8, u8),
    /// The key at which it sounds as recorded, tuning included.
    pub(crate) root: f64,
    /// Frames a second it was recorded at.
    pub(crate) rate: f64,
    /// Where it may go round, in frames; `None` when it is played to its end.
    pub(crate) round: Option<(usize, usize)>,
    /// The recording.
    pub(crate) samples: Vec<i16>,
}

/// All notes of one instrument of bank 0, both sides of stereo recordings.
///
/// # Errors
/// The file can't be read, or has no such instrument.
pub(crate) fn zones(path: &Path, program: u8) -> Result<Vec<Zone>, Error> {
    let mut file = File::open(path).map_err(Error::file(path))?;
    let (samples_at, hydra) = chunks(&mut file).map_err(Error::file(path))?;
    let wrong = || Error::Synthesiser(format!("{}: no instrument {program} in bank 0", path.display()));
    let mut zones = Vec::new();
    for found in hydra.find(program).ok_or_else(wrong)? {
        zones.push(found.load(&mut file, samples_at).map_err(Error::file(path))?);
    }
    if zones.is_empty() { Err(wrong()) } else { Ok(zones) }
}

/// The tables of the `pdta` list.
#[derive(Default)]
struct Hydra {
    presets: Vec<u8>,
    preset_bags: Vec<u8>,
    preset_generators: Vec<u8>,
    instruments: Vec<u8>,
    instrument_bags: Vec<u8>,
    instrument_generators: Vec<u8>,
    samples: Vec<u8>,
}

/// Where the samples begin in the file, and the tables.
fn chunks(file: &mut File) -> std::io::Result<(u64, Hydra)> {
    let (mut hydra, mut samples_at) = (Hydra::default(), 0);
    let mut at = 12;
    let mut head = [0; 8];
    while file.seek(SeekFrom::Start(at)).is_ok() && file.read_exact(&mut head).is_ok() {
        let length = u64::from(u32::from_le_bytes([head[4], head[5], head[6], head[7]]));
        let into = match &head[..4] {
            // A list is gone into, not past: its name is four bytes long.
            b"LIST" => {
                at += 12;
                continue;
            }
            b"smpl" => {
                samples_at = at + 8;
                None
            }
            b"phdr" => Some(&mut hydra.presets),
            b"pbag" => Some(&mut hydra.preset_bags),
            b"pgen" => Some(&mut hydra.preset_generators),
            b"inst" => Some(&mut hydra.instruments),
            b"ibag" => Some(&mut hydra.instrument_bags),
            b"igen" => Some(&mut hydra.instrument_generators),
            b"shdr" => Some(&mut hydra.samples),
            _ => None,
        };
        if let Some(into) = into {
            file.by_ref().take(length).read_to_end(into)?;
        }
        at += 8 + length + length % 2;
    }
    Ok((samples_at, hydra))
}

fn u16_at(table: &[u8], at: usize) -> Option<u16> {
    Some(u16::from_le_bytes([*table.get(at)?, *table.get(at + 1)?]))
}

fn u32_at(table: &[u8], at: usize) -> Option<usize> {
    let bytes = table.get(at..at + 4)?;
    usize::try_from(u32::from_le_bytes([bytes[0], bytes[1], bytes[2], bytes[3]])).ok()
}

/// The generators of the zones that entry `index` of a table of heads owns. `head` is the length of one head and where
/// in it the first bag's number stands.
fn bags(
    heads: &[u8],
    head: (usize, usize),
    index: usize,
    bags: &[u8],
    generators: &[u8],
) -> Option<Vec<Vec<(u16, u16)>>> {
    let bag = |index: usize| Some(usize::from(u16_at(heads, index * head.0 + head.1)?));
    let generator = |bag: usize| Some(usize::from(u16_at(bags, bag * 4)?));
    let zone = |bag: usize| {
        let pairs = (generator(bag)?..generator(bag + 1)?)
            .map(|at| Some((u16_at(generators, at * 4)?, u16_at(generators, at * 4 + 2)?)));
        pairs.collect::<Option<Vec<_>>>()
    };
    (bag(index)?..bag(index + 1)?).map(zone).collect()
}

struct Found {
    keys: (u8, u8),
    velocities: (u8, u8),
    root: f64,
    rate: f64,
    round: Option<(usize, usize)>,
    from: usize,
    to: usize,
}

impl Hydra {
    fn find(&self, program: u8) -> Option<Vec<Found>> {
        let presets = self.presets.len() / 38;
        let is_it = |index: &usize| {
            u16_at(&self.presets, index * 38 + 20) == Some(program.into())
                && u16_at(&self.presets, index * 38 + 22) == Some(0)
        };
        let index = (0..presets).find(is_it)?;
        let mut found = Vec::new();
        for zone in bags(&self.presets, (38, 24), index, &self.preset_bags, &self.preset_generators)? {
            let Some(instrument) = value(&zone, INSTRUMENT) else { continue };
            let head = (22, 20);
            let zones =
                bags(&self.instruments, head, instrument.into(), &self.instrument_bags, &self.instrument_generators)?;
            let common = zones.first().filter(|zone| value(zone, SAMPLE).is_none()).cloned().unwrap_or_default();
            found.extend(zones.iter().filter_map(|own| self.sample(&zone, &common, own)));
        }
        Some(found)
    }

    /// What one zone of an instrument plays: its own generators before those common to the instrument.
    fn sample(&self, preset: &[(u16, u16)], common: &[(u16, u16)], own: &[(u16, u16)]) -> Option<Found> {
        let of = |generator| value(own, generator).or_else(|| value(common, generator));
        let range = |generator| {
            let within = value(preset, generator).map_or((0, 127), bytes);
            let (low, high) = of(generator).map_or((0, 127), bytes);
            (low.max(within.0), high.min(within.1))
        };
        let at = usize::from(value(own, SAMPLE)?) * 46;
        let place = |offset| u32_at(&self.samples, at + offset);
        let (from, to) = (place(20)?, place(24)?);
        let (pitch, correction) = (*self.samples.get(at + 40)?, self.samples.get(at + 41)?.cast_signed());
        #[expect(clippy::cast_possible_wrap, reason = "the standard's signed amounts")]
        let cents =
            f64::from(of(COARSE_TUNE).unwrap_or(0) as i16) * 100.0 + f64::from(of(FINE_TUNE).unwrap_or(0) as i16);
        let root = of(ROOT_KEY).map_or(f64::from(pitch), f64::from);
        let round = (place(28)? - from, place(32)? - from);
        #[expect(clippy::cast_precision_loss, reason = "frames a second")]
        let rate = place(36)? as f64;
        Some(Found {
            keys: range(KEY_RANGE),
            velocities: range(VELOCITY_RANGE),
            root: root - (f64::from(correction) + cents) / 100.0,
            rate,
            round: (of(SAMPLE_MODES).unwrap_or(0) & 1 == 1 && round.1 > round.0 + 8).then_some(round),
            from,
            to,
        })
    }
}

impl Found {
    fn load(self, file: &mut File, samples_at: u64) -> std::io::Result<Zone> {
        let mut bytes = vec![0; (self.to - self.from) * 2];
        file.seek(SeekFrom::Start(samples_at + self.from as u64 * 2))?;
        file.read_exact(&mut bytes)?;
        let samples = bytes.chunks_exact(2).map(|pair| i16::from_le_bytes([pair[0], pair[1]])).collect();
        let Self { keys, velocities, root, rate, round, .. } = self;
        Ok(Zone { keys, velocities, root, rate, round, samples })
    }
}

fn value(zone: &[(u16, u16)], generator: u16) -> Option<u16> {
    zone.iter().find(|pair| pair.0 == generator).map(|pair| pair.1)
}

const fn bytes(range: u16) -> (u8, u8) {
    let [low, high] = range.to_le_bytes();
    (low, high)
}
