//! Drives fluidsynth: MIDI in, samples out, and exactly when each note is heard.

use std::path::{Path, PathBuf};
use std::process::{Command, Stdio};
use std::sync::OnceLock;

use crate::error::Error;
use crate::mixer::mix;
use crate::player::{Damp, Note, Performance, Struck};
use crate::sound_font::{Zone, zones};
use crate::speech::{Word, words};
use crate::strings::midi;

/// Frames a second of every take.
pub const RATE: u32 = 48_000;

/// Where Debian's fluid-soundfont-gm puts the sound font.
pub const SOUND_FONT: &str = "/usr/share/sounds/sf2/FluidR3_GM.sf2";

/// fluidsynth starts notes only at the start of a block of this many frames.
const BLOCK_FRAMES: u32 = 64;
/// Keys whose onsets are measured.
const KEYS: std::ops::RangeInclusive<u8> = 28..=96;
/// A note is heard from where it first passes this share of its own peak.
const ONSET_SHARE: f32 = 0.05;

/// Which of the sound font's guitars.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, clap::ValueEnum)]
pub enum Program {
    /// Acoustic guitar (steel), General MIDI program 26.
    Steel,
    /// Acoustic guitar (nylon), General MIDI program 25.
    Nylon,
}

impl Program {
    /// Its program number, counted from 0 as the MIDI byte is.
    #[must_use]
    pub const fn number(self) -> u8 {
        match self {
            Self::Steel => 25,
            Self::Nylon => 24,
        }
    }

    /// Its name in truths.
    #[must_use]
    pub const fn name(self) -> &'static str {
        match self {
            Self::Steel => "steel",
            Self::Nylon => "nylon",
        }
    }
}

/// What makes the notes.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, clap::ValueEnum)]
pub enum Engine {
    /// fluidsynth.
    Fluid,
    /// The sound font's recorded notes, mixed here.
    Samples,
}

impl Engine {
    /// Its name in truths.
    #[must_use]
    pub const fn name(self) -> &'static str {
        match self {
            Self::Fluid => "fluid",
            Self::Samples => "samples",
        }
    }
}

/// A fluidsynth that was found, and what it plays.
#[derive(Clone, Debug)]
pub struct Synth {
    sound_font: PathBuf,
    scratch: PathBuf,
    version: String,
    words: [OnceLock<Vec<Word>>; 2],
    zones: [OnceLock<Vec<Zone>>; 2],
}

impl Synth {
    /// Looks for fluidsynth and the sound font. `scratch` is a folder for short-lived files.
    ///
    /// # Errors
    /// Either is missing.
    pub fn find(sound_font: &Path, scratch: &Path) -> Result<Self, Error> {
        let missing = |error| Error::Synthesiser(format!("fluidsynth does not start: {error}"));
        let output = Command::new("fluidsynth").arg("--version").output().map_err(missing)?;
        if !sound_font.is_file() {
            return Err(Error::Synthesiser(format!("no sound font at {}", sound_font.display())));
        }
        let text = String::from_utf8_lossy(&output.stdout);
        let version =
            text.lines().next().and_then(|line| line.split_whitespace().last()).unwrap_or("unknown").to_owned();
        Ok(Self {
            sound_font: sound_font.to_owned(),
            scratch: scratch.to_owned(),
            version,
            words: Default::default(),
            zones: Default::default(),
        })
    }

    /// The version it says it is.
    #[must_use]
    pub fn version(&self) -> &str {
        &self.version
    }

    /// Words spoken by a high or a low voice, none where nothing can speak them.
    pub(crate) fn words(&self, high: bool) -> &[Word] {
        self.words[usize::from(high)].get_or_init(|| words(high, &self.scratch))
    }

    /// Plays a MIDI file, dry, mixed to one channel.
    ///
    /// # Errors
    /// fluidsynth fails, or its sound can't be read.
    pub fn play(&self, midi: &[u8]) -> Result<Vec<f32>, Error> {
        let (song, sound) = (self.scratch.join("song.mid"), self.scratch.join("song.wav"));
        std::fs::write(&song, midi).map_err(Error::file(&song))?;
        let rate = RATE.to_string();
        let output = Command::new("fluidsynth")
            .args(["-ni", "-q", "-r", &rate, "-g", "0.6", "-R", "0", "-C", "0", "-T", "wav", "-O", "float", "-F"])
            .args([&sound, &self.sound_font, &song])
            .stdin(Stdio::null())
            .output()
            .map_err(|error| Error::Synthesiser(format!("fluidsynth does not start: {error}")))?;
        if !output.status.success() {
            let said = String::from_utf8_lossy(&output.stderr).trim().to_owned();
            return Err(Error::Synthesiser(format!("fluidsynth failed: {said}")));
        }
        let mut reader = hound::WavReader::open(&sound).map_err(Error::sound(&sound))?;
        let samples: Vec<f32> = reader.samples::<f32>().collect::<Result<_, _>>().map_err(Error::sound(&sound))?;
        Ok(samples.chunks_exact(2).map(|frame| f32::midpoint(frame[0], frame[1])).collect())
    }

    fn zones(&self, program: Program) -> Result<&[Zone], Error> {
        let kept = &self.zones[usize::from(program == Program::Nylon)];
        match kept.get() {
            Some(zones) => Ok(zones),
            None => {
                let zones = zones(&self.sound_font, program.number())?;
                Ok(kept.get_or_init(|| zones))
            }
        }
    }

    /// Sounds a performance on a guitar of so many strings, dry, `frames` frames long.
    ///
    /// # Errors
    /// As [`Self::play`], or the sound font has no such guitar.
    pub fn sound(&self, done: &Performance, guitar: Guitar, onsets: &Onsets, frames: usize) -> Result<Vec<f32>, Error> {
        if guitar.engine == Engine::Samples {
            return Ok(mix(done, self.zones(guitar.program)?, guitar.strings, onsets, frames));
        }
        let end_ms = u32::try_from(frames / (RATE as usize / 1000)).unwrap_or(u32::MAX);
        let mut sound = self.play(&midi(done, guitar.program, guitar.strings, onsets, end_ms))?;
        sound.resize(frames, 0.0);
        Ok(sound)
    }

    /// Measures how long after it was told fluidsynth lets each key be heard: the samples of a sound font begin before
    /// their onset, by a different time from key to key.
    ///
    /// # Errors
    /// As [`Self::play`].
    pub fn calibrate(&self, program: Program) -> Result<Onsets, Error> {
        self.calibrate_on(Engine::Fluid, program)
    }

    /// Measures the same of either engine.
    ///
    /// # Errors
    /// As [`Self::sound`].
    pub fn calibrate_on(&self, engine: Engine, program: Program) -> Result<Onsets, Error> {
        const APART_MS: u32 = 400;
        let block = if engine == Engine::Fluid { BLOCK_FRAMES } else { 1 };
        let mut onsets = Onsets { delays_ms: vec![0.0; KEYS.len()], block };
        let mut done = Performance::default();
        for (key, index) in KEYS.zip(1_u32..) {
            let tell_ms = index * APART_MS;
            let note = Note { string: 0, key, velocity: 90, tell_ms, dead: false };
            done.struck.push(Struck::alone(note));
            done.damps.push(Damp { string: 0, at_s: f64::from(tell_ms + APART_MS / 2) / 1000.0 });
        }
        let frames = (KEYS.len() + 1) * (APART_MS * RATE / 1000) as usize;
        let sound = self.sound(&done, Guitar { engine, program, strings: 1 }, &onsets, frames)?;
        for (index, struck) in done.struck.iter().enumerate() {
            let from = onsets.block_start(struck.notes[0].tell_ms) as usize;
            let note = sound.get(from..from + RATE as usize / 20).unwrap_or(&[]);
            let peak = note.iter().fold(0.0_f32, |peak, sample| peak.max(sample.abs()));
            let onset = note.iter().position(|sample| peak > 0.0 && sample.abs() > ONSET_SHARE * peak);
            let silent = || Error::Synthesiser(format!("the sound font's {} guitar is silent", program.name()));
            onsets.delays_ms[index] = onset.ok_or_else(silent)? as f64 * 1000.0 / f64::from(RATE);
        }
        Ok(onsets)
    }
}

/// What is played on.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Guitar {
    /// What makes its notes.
    pub engine: Engine,
    /// Which guitar.
    pub program: Program,
    /// How many strings it has.
    pub strings: usize,
}

/// When notes are heard.
#[derive(Clone, Debug)]
pub struct Onsets {
    delays_ms: Vec<f64>,
    /// Notes start on blocks of so many frames.
    block: u32,
}

impl Onsets {
    /// From the block's start until this key is heard, in milliseconds.
    #[must_use]
    pub fn delay_ms(&self, key: u8) -> f64 {
        let index = usize::from(key.clamp(*KEYS.start(), *KEYS.end()) - KEYS.start());
        self.delays_ms[index]
    }

    /// When a note told at `at_ms` is heard, in seconds.
    #[must_use]
    pub fn heard_s(&self, at_ms: u32, key: u8) -> f64 {
        f64::from(self.block_start(at_ms)) / f64::from(RATE) + self.delay_ms(key) / 1000.0
    }

    /// When the first of these notes is heard, in seconds.
    #[must_use]
    pub fn first_heard_s(&self, notes: &[Note]) -> Option<f64> {
        notes.iter().map(|note| self.heard_s(note.tell_ms, note.key)).min_by(f64::total_cmp)
    }

    /// When to tell a note so that it is heard as near to `heard_s` as can be, in milliseconds.
    #[must_use]
    pub fn tell_ms(&self, heard_s: f64, key: u8) -> u32 {
        #[expect(clippy::cast_possible_truncation, clippy::cast_sign_loss, reason = "takes last minutes, from 0 on")]
        let near = (heard_s * 1000.0 - self.delay_ms(key)).round().max(1.0) as u32;
        let off = |at_ms: &u32| (self.heard_s(*at_ms, key) - heard_s).abs();
        [near - 1, near, near + 1].into_iter().min_by(|a, b| off(a).total_cmp(&off(b))).unwrap_or(near)
    }

    /// Smallest, median and largest delay, in milliseconds.
    #[must_use]
    pub fn range_ms(&self) -> [f64; 3] {
        let mut delays = self.delays_ms.clone();
        delays.sort_by(f64::total_cmp);
        [delays[0], delays[delays.len() / 2], delays[delays.len() - 1]]
    }

    /// The frame at which an event of this time sounds: the first block that starts at or after it, fluidsynth's clock
    /// counting whole milliseconds.
    fn block_start(&self, at_ms: u32) -> u32 {
        (at_ms * (RATE / 1000)).div_ceil(self.block) * self.block
    }
}
