//! One take: plant, play, record, and write down the truth.

use std::path::Path;

use sixrung_lesson::Level;

use crate::criterion::level_ms;
use crate::dice::Dice;
use crate::error::Error;
use crate::learn::Player;
use crate::mistakes::Planted;
use crate::own::Playback;
use crate::part::{Part, Piece};
use crate::player::{Performance, Style, perform};
use crate::room::{Beside, Condition, record_beside};
use crate::song::{Syllable, song};
use crate::synth::{Engine, Guitar, Onsets, Program, RATE, Synth};
use crate::truth::Truth;
use crate::voice::Singer;
use crate::writer::{Writer, count};

/// What a take is to be.
#[derive(Clone, Debug)]
pub struct Order<'a> {
    /// What is played.
    pub piece: Piece<'a>,
    /// The lesson's file name, for the truth.
    pub lesson_file: &'a str,
    /// The criterion's level.
    pub level: Level,
    /// How many passes.
    pub passes: usize,
    /// Which guitar.
    pub program: Program,
    /// What makes its notes.
    pub engine: Engine,
    /// Who plays; someone new when `None`.
    pub player: Option<Player>,
    /// Where.
    pub condition: Condition,
    /// The mistakes.
    pub planted: Vec<Planted>,
    /// The player's bias in milliseconds; drawn when `None`.
    pub bias_ms: Option<f64>,
    /// Silence before the first pass in seconds; 1 to 4, drawn, when `None`.
    pub lead_s: Option<f64>,
    /// Everything else is drawn from this.
    pub seed: u64,
}

/// A player's doings with their truth, not yet sounded.
#[derive(Clone, Debug)]
pub struct Draft {
    guitar: Guitar,
    condition: Condition,
    seed: u64,
    walls: Dice,
    starts_at_s: f64,
    ends_at_s: f64,
    done: Performance,
    onsets: Onsets,
    other: Other,
    /// What is true of it.
    pub truth: Truth,
}

/// What sounds beside the guitar.
#[derive(Clone, Debug)]
enum Other {
    Nothing,
    Playback(Box<Playback>),
    Voice(Singer, Vec<Syllable>),
}

/// A take as recorded, one channel at [`RATE`] frames a second.
#[derive(Clone, Debug)]
pub struct Recording {
    /// What the microphone heard.
    pub take: Vec<f32>,
    /// What the program played meanwhile, before it reached the microphone, frame by frame beside the take.
    pub played: Option<Vec<f32>>,
}

/// The player breathes in between the count-in's start and the first sample, in seconds.
const BEFORE_COUNT_IN_S: (f64, f64) = (0.3, 1.5);

/// Sound left after the last pass, in seconds.
pub(crate) const TAIL_S: f64 = 1.5;

/// Lets the player play.
///
/// # Errors
/// The piece can't be played.
pub fn draft(order: &Order<'_>, synth: &Synth, onsets: &Onsets) -> Result<Draft, Error> {
    let part = Part::of(&order.piece)?;
    let mut dice = Dice::branch(order.seed, "player");
    let someone = Style::draw(level_ms(order.level).0, &mut dice);
    let drawn = order.player.map_or(someone, |player| player.style(level_ms(order.level).0));
    let style = Style { bias_ms: order.bias_ms.unwrap_or(drawn.bias_ms), ..drawn };
    let lead_s = dice.between(1.0, 4.0);
    let mut beside = Dice::branch(order.seed, "beside");
    let mut starts_at_s = order.lead_s.unwrap_or(lead_s);
    let other = match order.condition.beside() {
        None => Other::Nothing,
        Some((Beside::Playback, _)) => {
            let playback = Playback::of(&order.piece, order.passes)?;
            let before_s = beside.between(BEFORE_COUNT_IN_S.0, BEFORE_COUNT_IN_S.1);
            starts_at_s = order.lead_s.unwrap_or(playback.count_in_s + before_s).max(playback.count_in_s);
            Other::Playback(Box::new(playback))
        }
        Some((Beside::Voice, _)) => {
            let singer = Singer::draw(&mut beside);
            let song = song(&part, order.passes, starts_at_s, singer.middle, &mut beside);
            Other::Voice(singer, song)
        }
    };
    let mut done = perform(&part, order.passes, starts_at_s, style, &order.planted, onsets, &mut dice);
    let mut tuning = order.player.map_or_else(|| Dice::branch(order.seed, "tuning"), |player| player.tuning());
    done.tuning_cents = tuning_cents(part.open.len(), &mut tuning);
    let ends_at_s = starts_at_s + part.pass_s * count(order.passes) + TAIL_S;
    let truth = Writer { order, part: &part, done: &done, onsets, style, starts_at_s }.write(synth);
    Ok(Draft {
        guitar: Guitar { engine: order.engine, program: order.program, strings: part.open.len() },
        condition: order.condition,
        seed: order.seed,
        walls: order.player.map_or_else(|| Dice::branch(order.seed, "walls"), |player| player.walls()),
        starts_at_s,
        ends_at_s,
        done,
        onsets: onsets.clone(),
        other,
        truth,
    })
}

impl Draft {
    /// Sounds and records it.
    ///
    /// # Errors
    /// fluidsynth fails.
    pub fn record(&self, synth: &Synth) -> Result<Recording, Error> {
        let frames = frame(self.ends_at_s, RATE);
        let guitar = synth.sound(&self.done, self.guitar, &self.onsets, frames)?;
        let other = match &self.other {
            Other::Nothing => Vec::new(),
            Other::Playback(playback) => playback.render(self.starts_at_s, frames)?,
            Other::Voice(singer, song) => {
                let words = synth.words(singer.is_high());
                singer.sing(song, words, frames, &mut Dice::branch(self.seed, "voice"))
            }
        };
        let playing = frame(self.starts_at_s, RATE)..frame(self.ends_at_s - TAIL_S, RATE);
        let mut noise = Dice::branch(self.seed, "room");
        let take = record_beside(&guitar, &other, playing, self.condition, &mut self.walls.clone(), &mut noise);
        Ok(Recording { take, played: matches!(self.other, Other::Playback(_)).then_some(other) })
    }
}

#[expect(clippy::cast_possible_truncation, clippy::cast_sign_loss, reason = "takes last minutes, from 0 on")]
pub(crate) fn frame(seconds: f64, rate: u32) -> usize {
    (seconds * f64::from(rate)).round() as usize
}

/// How far off each string is: the whole guitar by up to 5 cents, or up to 30 for three in ten, and each string by
/// N(0, 2) cents more. Choices of ours.
pub(crate) fn tuning_cents(strings: usize, dice: &mut Dice) -> Vec<f64> {
    let most = if dice.chance(0.3) { 30.0 } else { 5.0 };
    let whole = dice.between(-most, most);
    (0..strings).map(|_| whole + dice.normal(2.0, 5.0)).collect()
}

/// Writes a mono WAV of 16-bit samples.
///
/// # Errors
/// The file can't be written.
pub fn write_wav(path: &Path, samples: &[f32]) -> Result<(), Error> {
    let spec =
        hound::WavSpec { channels: 1, sample_rate: RATE, bits_per_sample: 16, sample_format: hound::SampleFormat::Int };
    let mut writer = hound::WavWriter::create(path, spec).map_err(Error::sound(path))?;
    for sample in samples {
        #[expect(clippy::cast_possible_truncation, reason = "clamped to 16 bits")]
        let value = (f64::from(*sample) * 32767.0).round().clamp(-32768.0, 32767.0) as i16;
        writer.write_sample(value).map_err(Error::sound(path))?;
    }
    writer.finalize().map_err(Error::sound(path))
}

/// A level's name in truths and on the command line.
#[must_use]
pub const fn level_name(level: Level) -> &'static str {
    match level {
        Level::Beginner => "beginner",
        Level::Improver => "improver",
        Level::Advanced => "advanced",
    }
}
