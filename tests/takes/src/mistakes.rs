//! Which mistakes the player is to make, and where.

use sixrung_lesson::Action;

use crate::dice::Dice;
use crate::error::Error;
use crate::part::Part;

/// Names of the mistakes, in the order of [`Mistake`].
pub const KINDS: [&str; 9] =
    ["missed", "early", "late", "extra", "wrong_chord", "wrong_fret", "muted_string", "wrong_direction", "open_string"];

/// Shortest time between two strokes into which an extra one is put at random, in seconds: less is hardly playable.
const EXTRA_ROOM_S: f64 = 0.2;

/// One mistake.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Mistake {
    /// The stroke is not played.
    Missed,
    /// The stroke comes before its window.
    Early,
    /// The stroke comes after its window.
    Late,
    /// A stroke nobody asked for follows this one, between the slots.
    Extra,
    /// Another chord, on every stroke of the span this stroke is in.
    WrongChord,
    /// One finger a fret too high, on every stroke of the span.
    WrongFret,
    /// One string touched so that it does not ring, on every stroke of the span.
    MutedString,
    /// The hand goes the other way.
    WrongDirection,
    /// A string that should be muted rings open, on every stroke of the span that reaches it.
    OpenString,
}

impl Mistake {
    const ALL: [Self; 9] = [
        Self::Missed,
        Self::Early,
        Self::Late,
        Self::Extra,
        Self::WrongChord,
        Self::WrongFret,
        Self::MutedString,
        Self::WrongDirection,
        Self::OpenString,
    ];

    /// Those that change when strokes are heard.
    pub const OF_TIME: [Self; 4] = [Self::Missed, Self::Early, Self::Late, Self::Extra];

    /// The mistake of that name.
    #[must_use]
    pub fn named(name: &str) -> Option<Self> {
        Self::ALL.into_iter().find(|mistake| mistake.name() == name)
    }

    /// Its name in truths and on the command line.
    #[must_use]
    pub const fn name(self) -> &'static str {
        KINDS[self as usize]
    }

    /// Whether it is one string's.
    #[must_use]
    pub const fn is_on_string(self) -> bool {
        matches!(self, Self::WrongFret | Self::MutedString | Self::OpenString)
    }

    /// Whether it changes when strokes are heard, rather than what is heard in them.
    #[must_use]
    pub fn is_of_time(self) -> bool {
        Self::OF_TIME.contains(&self)
    }
}

/// A mistake and the stroke it befalls.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub struct Planted {
    /// Pass, from 0.
    pub pass: usize,
    /// Stroke of the pass, from 0.
    pub stroke: usize,
    /// What.
    pub mistake: Mistake,
}

/// Half the window a stroke may be off by, in seconds: the level's own (80, 60 or 40 ms), but never more than 0.4 of
/// the shorter slot beside it, so that windows never overlap. Design choices of ours.
#[must_use]
pub fn window_s(level_ms: f64, slot_s: f64) -> f64 {
    (level_ms / 1000.0).min(0.4 * slot_s)
}

/// How far off a planted early or late stroke lies, in seconds: from 20 ms outside the window up to 0.45 of a slot.
/// `None` where the slots are too short for that.
#[must_use]
pub fn off_range_s(level_ms: f64, slot_s: f64) -> Option<(f64, f64)> {
    let range = (window_s(level_ms, slot_s) + 0.020, 0.45 * slot_s);
    (range.0 <= range.1).then_some(range)
}

/// Reads `none` or a list like `late:3,missed:10,extra:7@2`.
///
/// # Errors
/// An unknown kind, a number that is none, a stroke or pass the part does not have, or a late or early stroke where
/// the slots are too short for one.
pub fn parse(text: &str, part: &Part, passes: usize, level_ms: f64) -> Result<Vec<Planted>, Error> {
    let mut planted = Vec::new();
    for item in text.split(',').map(str::trim).filter(|item| !item.is_empty() && *item != "none") {
        let wrong = |what: &str| Error::Mistakes(format!("mistake `{item}`: {what}"));
        let (kind, place) = item.split_once(':').ok_or_else(|| wrong("no `:` in it"))?;
        let (stroke, pass) = place.split_once('@').unwrap_or((place, "1"));
        let index = |text: &str, end: usize, what: &str| {
            let number = text.parse::<usize>().ok().filter(|number| (1..=end).contains(number));
            number.map(|number| number - 1).ok_or_else(|| wrong(&format!("{what} 1 to {end}, not `{text}`")))
        };
        let mistake = Mistake::named(kind).ok_or_else(|| wrong("no such kind"))?;
        let stroke = index(stroke, part.asked.len(), "the strokes are")?;
        let pass = index(pass, passes, "the passes are")?;
        if !fits(mistake, part, stroke, level_ms) {
            return Err(wrong("it can't be planted on this stroke"));
        }
        planted.push(Planted { pass, stroke, mistake });
    }
    planted.sort_unstable();
    Ok(planted)
}

/// `count` mistakes of these kinds in one pass, on strokes of their own.
#[must_use]
pub fn draw_of_time(
    count: usize,
    kinds: &[Mistake],
    pass: usize,
    part: &Part,
    level_ms: f64,
    dice: &mut Dice,
) -> Vec<Planted> {
    let mut planted: Vec<Planted> = Vec::new();
    for _ in 0..count * 50 {
        if planted.len() == count {
            break;
        }
        let stroke = dice.below(part.asked.len());
        let mistake = kinds[dice.below(kinds.len())];
        let roomy = mistake != Mistake::Extra || part.gap_after_s(stroke) >= EXTRA_ROOM_S;
        if roomy && fits(mistake, part, stroke, level_ms) && planted.iter().all(|other| other.stroke != stroke) {
            planted.push(Planted { pass, stroke, mistake });
        }
    }
    planted.sort_unstable();
    planted
}

/// One mistake of the hands, drawn: on a string or of the direction, which no verdict rests on.
#[must_use]
pub fn draw_of_hands(pass: usize, part: &Part, dice: &mut Dice) -> Option<Planted> {
    use Mistake::{MutedString, OpenString, WrongDirection, WrongFret};
    draw_of(&[WrongFret, MutedString, WrongDirection, OpenString], pass, part, dice)
}

/// Up to `count` wrong chords, each in a span of its own: one makes the pass not clean.
#[must_use]
pub fn draw_of_chords(count: usize, pass: usize, part: &Part, dice: &mut Dice) -> Vec<Planted> {
    let mut planted: Vec<Planted> = Vec::new();
    for _ in 0..count {
        let drawn = draw_of(&[Mistake::WrongChord], pass, part, dice);
        planted.extend(drawn.filter(|one| planted.iter().all(|other| !part.span(other.stroke).contains(&one.stroke))));
    }
    planted.sort_unstable();
    planted
}

fn draw_of(mistakes: &[Mistake], pass: usize, part: &Part, dice: &mut Dice) -> Option<Planted> {
    (0..50).find_map(|_| {
        let (stroke, mistake) = (dice.below(part.asked.len()), *dice.pick(mistakes)?);
        fits(mistake, part, stroke, 0.0).then_some(Planted { pass, stroke, mistake })
    })
}

fn fits(mistake: Mistake, part: &Part, stroke: usize, level_ms: f64) -> bool {
    let asked = &part.asked[stroke];
    match mistake {
        Mistake::Missed | Mistake::Extra | Mistake::WrongDirection => true,
        Mistake::Early | Mistake::Late => off_range_s(level_ms, asked.slot_s).is_some(),
        Mistake::WrongChord => asked.chord.is_some() && asked.action == Action::Strum,
        Mistake::WrongFret | Mistake::MutedString => asked.chord.is_some(),
        Mistake::OpenString => asked.chord.is_some_and(|chord| part.chords[chord].keys.contains(&None)),
    }
}
