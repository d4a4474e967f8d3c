//! Many takes from one seed: lesson, tempo, player, guitar, room and mistakes are drawn.

use sixrung_lesson::{Lesson, Tempo};

use crate::criterion::{default_allowance, level_ms};
use crate::dice::Dice;
use crate::error::Error;
use crate::learn::{LearnTruth, Player, learn};
use crate::mistakes::{Mistake, Planted, draw_of_chords, draw_of_hands, draw_of_time};
use crate::part::{Part, Piece};
use crate::room::Condition;
use crate::synth::{Engine, Onsets, Program, Synth};
use crate::take::{Draft, Order, draft};

/// How often mistakes are drawn anew until the take is as clean, or not, as it was to be.
const TRIES: u64 = 100;

/// A lesson to draw from.
#[derive(Clone, Debug)]
pub struct Piecework {
    /// Its file name.
    pub file: String,
    /// The lesson.
    pub lesson: Lesson,
}

/// What the takes are drawn from.
#[derive(Clone, Debug)]
pub struct Batch {
    /// The lessons; every section of each may come.
    pub lessons: Vec<Piecework>,
    /// The rooms, taken in turn.
    pub conditions: Vec<Condition>,
    /// The share of takes that are to be clean.
    pub clean_share: f64,
    /// The share of takes in which the hands make a mistake too.
    pub hands_share: f64,
    /// The kinds of mistakes of time, drawn from.
    pub mistakes: Vec<Mistake>,
    /// The engines, drawn from.
    pub engines: Vec<Engine>,
    /// How many takes in a row are by one player, on one guitar, of one lesson and in one condition; 0 when each has
    /// its own.
    pub takes_a_player: usize,
    /// The seed of the whole batch.
    pub seed: u64,
}

/// Who plays what on what.
struct Cast<'a> {
    work: &'a Piecework,
    program: Program,
    engine: Engine,
    condition: Condition,
    player: Option<Player>,
}

impl Batch {
    /// Take `index` of the batch; the others need not be made for it.
    ///
    /// # Errors
    /// A section can't be played, or no mistakes could be drawn that make the take what it was to be.
    pub fn draw(
        &self,
        index: usize,
        synth: &Synth,
        onsets: impl Fn(Engine, Program) -> Onsets,
    ) -> Result<Draft, Error> {
        let mut dice = Dice::branch(self.seed, &format!("take {index}"));
        let nothing = || Error::Lesson("no lesson to draw from".to_owned());
        let cast = self.cast(index, &mut dice).ok_or_else(nothing)?;
        let Piecework { file, lesson } = cast.work;
        let section = &dice.pick(&lesson.sections).ok_or_else(nothing)?.name;
        let arrangement = &lesson.arrangements.first().ok_or_else(nothing)?.name;
        let tempo = rung(lesson.tempo, dice.between(0.6, 1.2).min(1.0));
        let passes = if dice.chance(0.25) { 2 } else { 1 };
        let wanted = if self.is_to_be_clean(index) { "clean" } else { "not_clean" };
        let with_hands = dice.chance(self.hands_share);
        let piece = Piece { lesson, section, arrangement, tempo };
        let part = Part::of(&piece)?;
        let mut order = Order {
            piece,
            lesson_file: file,
            level: lesson.criterion.level,
            passes,
            program: cast.program,
            engine: cast.engine,
            player: cast.player,
            condition: cast.condition,
            planted: Vec::new(),
            bias_ms: None,
            lead_s: None,
            seed: dice.bits(),
        };
        for again in 0..TRIES {
            order.planted = plant(&order, &part, &self.mistakes, wanted == "clean", with_hands, &mut dice);
            let draft = draft(&order, synth, &onsets(cast.engine, cast.program))?;
            if draft.truth.verdict == wanted {
                return Ok(draft);
            }
            order.seed = order.seed.wrapping_add(again + 1);
        }
        Err(Error::Mistakes(format!("{file}, {section}, {} bpm: no {wanted} take in {TRIES} tries", tempo.bpm())))
    }

    /// The learning take of the player of take `index`, with the lesson's file name; `None` where each take has a
    /// player of its own.
    ///
    /// # Errors
    /// As [`learn`].
    pub fn learning(
        &self,
        index: usize,
        synth: &Synth,
        onsets: impl Fn(Engine, Program) -> Onsets,
    ) -> Option<Result<(Vec<f32>, LearnTruth), Error>> {
        let cast = self.cast(index, &mut Dice::new(0))?;
        let player = cast.player?;
        let Piecework { file, lesson } = cast.work;
        Some(learn(lesson, file, &player, cast.condition, synth, &onsets(cast.engine, cast.program)))
    }

    fn cast(&self, index: usize, dice: &mut Dice) -> Option<Cast<'_>> {
        let number = index.checked_div(self.takes_a_player);
        let mut of_player = number.map(|number| Dice::branch(self.seed, &format!("player {number}")));
        let dice = of_player.as_mut().unwrap_or(dice);
        let work = dice.pick(&self.lessons)?;
        let program = if dice.chance(0.5) { Program::Steel } else { Program::Nylon };
        let engine = *dice.pick(&self.engines)?;
        let player = number.is_some().then(|| Player { seed: dice.bits(), program, engine });
        let condition = self.conditions[number.unwrap_or(index) % self.conditions.len()];
        Some(Cast { work, program, engine, condition, player })
    }

    /// The share is kept exactly, in each room.
    #[expect(clippy::cast_precision_loss, reason = "counts of takes")]
    fn is_to_be_clean(&self, index: usize) -> bool {
        let turn = if self.takes_a_player == 0 { self.conditions.len() } else { 1 };
        let before = (index / turn) as f64;
        ((before + 1.0) * self.clean_share).floor() > (before * self.clean_share).floor()
    }
}

/// As many mistakes as a clean pass may have, or in one pass up to four more than that. Where the hands err too, half of
/// the passes that are not to be clean have one to three wrong chords instead of too many other mistakes.
fn plant(
    order: &Order<'_>,
    part: &Part,
    kinds: &[Mistake],
    clean: bool,
    with_hands: bool,
    dice: &mut Dice,
) -> Vec<Planted> {
    let set = order.piece.lesson.criterion.allowed_faults.map(usize::from);
    let allowed = set.unwrap_or_else(|| default_allowance(part.asked.len()));
    let worst = if clean { order.passes } else { dice.below(order.passes) };
    let by_chord = with_hands && dice.chance(0.5);
    let mut planted = Vec::new();
    for pass in 0..order.passes {
        let too_many = pass == worst && !by_chord;
        let count = if too_many { allowed + 1 + dice.below(4) } else { dice.below(allowed + 1) };
        planted.extend(draw_of_time(count, kinds, pass, part, level_ms(order.level).0, dice));
        if pass == worst && by_chord {
            planted.extend(draw_of_chords(1 + dice.below(3), pass, part, dice));
        } else if with_hands {
            planted.extend(draw_of_hands(pass, part, dice));
        }
    }
    planted
}

/// A share of the tempo in whole beats a minute, as rungs are: the whole of it for one take in three.
fn rung(tempo: Tempo, share: f64) -> Tempo {
    Tempo::from_bpm((tempo.bpm() * share).round()).unwrap_or(tempo)
}
