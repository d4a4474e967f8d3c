//! One take: plant, play, record, and write down the truth.

use std::path::Path;

use sixrung_lesson::{Direction, Level};

use crate::criterion::{Outcome, Sounded, default_allowance, judge, level_ms};
use crate::dice::Dice;
use crate::error::Error;
use crate::mistakes::{Mistake, Planted};
use crate::part::{Part, Piece};
use crate::player::{Performance, Struck, Style, perform};
use crate::room::{Condition, record};
use crate::strings::midi;
use crate::synth::{Onsets, Program, RATE, Synth};
use crate::truth::{ExtraTruth, HandTruth, PassTruth, StrokeTruth, TRUTH_VERSION, Truth};

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
    program: Program,
    condition: Condition,
    seed: u64,
    strings: usize,
    starts_at_s: f64,
    ends_at_s: f64,
    done: Performance,
    onsets: Onsets,
    /// What is true of it.
    pub truth: Truth,
}

/// Sound left after the last pass, in seconds.
const TAIL_S: f64 = 1.5;

/// Lets the player play.
///
/// # Errors
/// The piece can't be played.
pub fn draft(order: &Order<'_>, synth: &Synth, onsets: &Onsets) -> Result<Draft, Error> {
    let part = Part::of(&order.piece)?;
    let mut dice = Dice::branch(order.seed, "player");
    let drawn = Style::draw(level_ms(order.level).0, &mut dice);
    let style = Style { bias_ms: order.bias_ms.unwrap_or(drawn.bias_ms), ..drawn };
    let lead_s = dice.between(1.0, 4.0);
    let starts_at_s = order.lead_s.unwrap_or(lead_s);
    let done = perform(&part, order.passes, starts_at_s, style, &order.planted, onsets, &mut dice);
    let ends_at_s = starts_at_s + part.pass_s * count(order.passes) + TAIL_S;
    let truth = Writer { order, part: &part, done: &done, onsets, style, starts_at_s }.write(synth);
    Ok(Draft {
        program: order.program,
        condition: order.condition,
        seed: order.seed,
        strings: part.open.len(),
        starts_at_s,
        ends_at_s,
        done,
        onsets: onsets.clone(),
        truth,
    })
}

impl Draft {
    /// Sounds and records it: one channel at [`RATE`] frames a second.
    ///
    /// # Errors
    /// fluidsynth fails.
    pub fn record(&self, synth: &Synth) -> Result<Vec<f32>, Error> {
        #[expect(clippy::cast_possible_truncation, clippy::cast_sign_loss, reason = "takes last minutes, from 0 on")]
        let frame = |seconds: f64| (seconds * f64::from(RATE)).round() as usize;
        #[expect(clippy::cast_possible_truncation, clippy::cast_sign_loss, reason = "takes last minutes, from 0 on")]
        let end_ms = (self.ends_at_s * 1000.0) as u32;
        let mut guitar = synth.play(&midi(&self.done, self.program, self.strings, &self.onsets, end_ms))?;
        guitar.resize(frame(self.ends_at_s), 0.0);
        let playing = frame(self.starts_at_s)..frame(self.ends_at_s - TAIL_S);
        Ok(record(&guitar, playing, self.condition, &mut Dice::branch(self.seed, "room")))
    }
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

fn count(number: usize) -> f64 {
    f64::from(u32::try_from(number).unwrap_or(u32::MAX))
}

struct Writer<'a> {
    order: &'a Order<'a>,
    part: &'a Part,
    done: &'a Performance,
    onsets: &'a Onsets,
    style: Style,
    starts_at_s: f64,
}

impl Writer<'_> {
    fn write(&self, synth: &Synth) -> Truth {
        let Self { order, .. } = self;
        let outcomes: Vec<Outcome> = (0..order.passes).map(|pass| self.outcome(pass)).collect();
        let clean = outcomes.iter().all(|outcome| outcome.clean);
        let mut strokes = Vec::new();
        for (pass, outcome) in outcomes.iter().enumerate() {
            let played = self.played(pass, false);
            strokes.extend(played.zip(&outcome.faults).map(|(struck, fault)| self.stroke(struck, *fault)));
        }
        let extras = (0..order.passes).flat_map(|pass| self.played(pass, true));
        Truth {
            version: TRUTH_VERSION,
            generator: format!("sixrung-takes {}, fluidsynth {}", env!("CARGO_PKG_VERSION"), synth.version()),
            seed: order.seed,
            lesson: order.lesson_file.to_owned(),
            section: order.piece.section.to_owned(),
            arrangement: order.piece.arrangement.to_owned(),
            bpm: order.piece.tempo.bpm(),
            level: level_name(order.level),
            passes: order.passes,
            program: order.program.name(),
            condition: order.condition.name(),
            starts_at_s: self.starts_at_s,
            bias_ms: self.style.bias_ms,
            sweep_ms: self.style.sweep_ms,
            synthesiser_delay_ms: self.onsets.range_ms(),
            verdict: verdict(clean),
            pass_verdicts: outcomes.iter().enumerate().map(|(index, outcome)| self.pass(index, outcome)).collect(),
            strokes,
            extras: extras
                .filter_map(|struck| Some(ExtraTruth { pass: struck.pass, played_s: self.heard_s(struck)? }))
                .collect(),
            hands: (0..order.passes)
                .flat_map(|pass| self.played(pass, false))
                .flat_map(|struck| self.hands(struck))
                .collect(),
        }
    }

    fn played(&self, pass: usize, extra: bool) -> impl Iterator<Item = &Struck> {
        self.done.struck.iter().filter(move |struck| struck.pass == pass && struck.extra == extra)
    }

    /// When the first of its strings is heard.
    fn heard_s(&self, struck: &Struck) -> Option<f64> {
        struck.notes.iter().map(|note| self.onsets.heard_s(note.tell_ms, note.key)).min_by(f64::total_cmp)
    }

    fn expected_s(&self, pass: usize, stroke: usize) -> f64 {
        self.starts_at_s + count(pass) * self.part.pass_s + self.part.asked[stroke].at_s
    }

    fn outcome(&self, pass: usize) -> Outcome {
        let sounded = |struck: &Struck| Sounded {
            expected_s: self.expected_s(pass, struck.stroke),
            played_s: self.heard_s(struck),
            slot_s: self.part.asked[struck.stroke].slot_s,
        };
        let strokes: Vec<Sounded> = self.played(pass, false).map(sounded).collect();
        let set = self.order.piece.lesson.criterion.allowed_faults.map(usize::from);
        let allowed = set.unwrap_or_else(|| default_allowance(strokes.len()));
        judge(&strokes, self.played(pass, true).count(), self.order.level, allowed)
    }

    fn pass(&self, index: usize, outcome: &Outcome) -> PassTruth {
        let with = |fault| outcome.faults.iter().filter(|other| **other == fault).count();
        PassTruth {
            index,
            verdict: verdict(outcome.clean),
            expected: outcome.faults.len(),
            in_time: with(None),
            early: with(Some("early")),
            late: with(Some("late")),
            missed: with(Some("missed")),
            extra: self.played(index, true).count(),
            allowed_faults: outcome.allowed,
            median_offset_ms: outcome.median_ms,
            spread_ms: outcome.spread_ms,
        }
    }

    fn stroke(&self, struck: &Struck, fault: Option<&'static str>) -> StrokeTruth {
        let asked = &self.part.asked[struck.stroke];
        StrokeTruth {
            pass: struck.pass,
            bar: asked.bar,
            slot: asked.slot,
            stroke: match asked.direction {
                Direction::Down => "down",
                Direction::Up => "up",
            },
            chord: asked.chord.map(|chord| self.part.chords[chord].name.clone()),
            expected_s: self.expected_s(struck.pass, struck.stroke),
            played_s: self.heard_s(struck),
            fault,
            planted: struck.mistakes.iter().find(|mistake| mistake.is_of_time()).map(|mistake| mistake.name()),
        }
    }

    fn hands<'a>(&'a self, struck: &'a Struck) -> impl Iterator<Item = HandTruth> + 'a {
        let asked = &self.part.asked[struck.stroke];
        let of_hands = struck.mistakes.iter().filter(|mistake| !mistake.is_of_time());
        of_hands.map(|mistake| {
            let on_string = matches!(mistake, Mistake::WrongFret | Mistake::MutedString);
            let instead = struck.chord.filter(|_| *mistake == Mistake::WrongChord);
            HandTruth {
                pass: struck.pass,
                bar: asked.bar,
                slot: asked.slot,
                fault: mistake.name(),
                chord: instead.map(|chord| self.part.chords[chord].name.clone()),
                string: struck.string.filter(|_| on_string).map(|string| self.part.open.len() - string),
            }
        })
    }
}

const fn verdict(clean: bool) -> &'static str {
    if clean { "clean" } else { "not_clean" }
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
