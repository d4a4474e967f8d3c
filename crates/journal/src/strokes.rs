//! The strokes of a pass, twelve bytes each.

use sixrung_lesson::{Action, Direction};
use sixrung_practice::{ChordFinding, Finding, PassVerdict, StrokeFinding};

use crate::error::JournalError;

/// What was found of one expected stroke, as it is kept.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct StrokeMark {
    /// Index of its bar in the score of the pass.
    pub bar: u16,
    /// Slot within the bar.
    pub slot: u8,
    /// What was asked.
    pub action: Action,
    /// Which way was asked.
    pub direction: Direction,
    /// Index of the shape in the score of the pass; `None` for no chord.
    pub shape: Option<u8>,
    /// What became of it.
    pub finding: Finding,
    /// Whether its chord was right.
    pub chord: ChordFinding,
    /// When it was expected, in milliseconds from the start of the pass.
    pub expected_ms: u32,
    /// Heard − expected in tenths of a millisecond, the player's bias not removed; `None` when missed.
    pub offset_tenth_ms: Option<i16>,
    /// Half the width of its window, in milliseconds.
    pub window_ms: u8,
}

/// The strokes of a pass.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Strokes {
    /// One entry an expected stroke, by time.
    pub marks: Vec<StrokeMark>,
    /// Strums that were not asked for, in milliseconds from the start of the pass.
    pub extras_ms: Vec<u32>,
}

/// How many strokes were found how.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub struct Counts {
    /// Strokes asked for.
    pub expected: u32,
    /// In time.
    pub in_time: u32,
    /// Early.
    pub early: u32,
    /// Late.
    pub late: u32,
    /// Missed.
    pub missed: u32,
    /// Not asked for.
    pub extra: u32,
    /// With another chord than asked for, whenever they came.
    pub wrong_chord: u32,
}

/// The strokes of one bar, counted.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct BarCount {
    /// Index of the bar in the score of the pass.
    pub bar: u16,
    /// What was found in it; extras belong to no bar.
    pub counts: Counts,
}

impl Strokes {
    /// What is kept of a verdict. `starts_s` is where the pass begins on the verdict's clock, in seconds.
    #[must_use]
    pub fn of(verdict: &PassVerdict, starts_s: f64) -> Self {
        Self {
            marks: verdict.strokes.iter().map(|stroke| StrokeMark::of(stroke, starts_s)).collect(),
            extras_ms: verdict.extras_s.iter().map(|at| ms_since(*at, starts_s)).collect(),
        }
    }

    /// All of them counted.
    #[must_use]
    pub fn counts(&self) -> Counts {
        let mut counts = Counts { extra: u32::try_from(self.extras_ms.len()).unwrap_or(u32::MAX), ..Counts::default() };
        self.marks.iter().for_each(|mark| counts.add(mark));
        counts
    }

    /// Each bar counted, in the order played.
    #[must_use]
    pub fn bars(&self) -> Vec<BarCount> {
        let mut bars = Vec::<BarCount>::new();
        for mark in &self.marks {
            if bars.last().is_none_or(|last| last.bar != mark.bar) {
                bars.push(BarCount { bar: mark.bar, counts: Counts::default() });
            }
            let last = bars.last_mut().expect("one was pushed if there was none");
            last.counts.add(mark);
        }
        bars
    }

    pub(crate) fn to_bytes(&self) -> (Vec<u8>, Vec<u8>) {
        let marks = self.marks.iter().flat_map(|mark| mark.to_bytes()).collect();
        let extras = self.extras_ms.iter().flat_map(|ms| ms.to_le_bytes()).collect();
        (marks, extras)
    }

    pub(crate) fn from_bytes(marks: &[u8], extras: &[u8]) -> Result<Self, JournalError> {
        let (marks, broken_mark) = marks.as_chunks();
        let (extras, broken_extra) = extras.as_chunks();
        if !broken_mark.is_empty() || !broken_extra.is_empty() {
            return Err(JournalError::damaged("the strokes of a pass are cut off"));
        }
        let marks = marks.iter().map(StrokeMark::from_bytes).collect::<Option<_>>();
        Ok(Self {
            marks: marks.ok_or_else(|| JournalError::damaged("the strokes of a pass are no strokes"))?,
            extras_ms: extras.iter().map(|ms| u32::from_le_bytes(*ms)).collect(),
        })
    }
}

impl Counts {
    fn add(&mut self, mark: &StrokeMark) {
        self.expected += 1;
        self.wrong_chord += u32::from(mark.chord == ChordFinding::Wrong);
        match mark.finding {
            Finding::InTime => self.in_time += 1,
            Finding::Early => self.early += 1,
            Finding::Late => self.late += 1,
            Finding::Missed => self.missed += 1,
        }
    }
}

const NO_SHAPE: u8 = u8::MAX;
const NO_OFFSET: i16 = i16::MIN;

impl StrokeMark {
    fn of(stroke: &StrokeFinding, starts_s: f64) -> Self {
        #[expect(clippy::cast_possible_truncation, reason = "clamped to the range, NaN becomes 0")]
        let tenths = |ms: f64| (ms * 10.0).round().clamp(-32_767.0, 32_767.0) as i16;
        #[expect(clippy::cast_possible_truncation, clippy::cast_sign_loss, reason = "saturates, as wide as it gets")]
        let window_ms = stroke.window_ms.round() as u8;
        Self {
            bar: u16::try_from(stroke.bar).unwrap_or(u16::MAX),
            slot: u8::try_from(stroke.slot).unwrap_or(u8::MAX),
            action: stroke.action,
            direction: stroke.direction,
            shape: stroke.shape.and_then(|shape| u8::try_from(shape).ok()).filter(|shape| *shape != NO_SHAPE),
            finding: stroke.finding,
            chord: stroke.chord,
            expected_ms: ms_since(stroke.expected_s, starts_s),
            offset_tenth_ms: stroke.offset_ms.map(tenths),
            window_ms,
        }
    }

    /// Bar, slot, shape, expected, offset and window, little-endian; between them one byte of choices: action in bits
    /// 0–2, direction in 3, finding in 4–5, chord in 6–7.
    fn to_bytes(self) -> [u8; 12] {
        let action = match self.action {
            Action::Strum => 0,
            Action::Chuck => 1,
            Action::Bass => 2,
            Action::Air => 3,
            Action::Ring => 4,
            Action::Stop => 5,
        };
        let direction = match self.direction {
            Direction::Down => 0,
            Direction::Up => 1,
        };
        let finding = match self.finding {
            Finding::InTime => 0,
            Finding::Early => 1,
            Finding::Late => 2,
            Finding::Missed => 3,
        };
        let chord = match self.chord {
            ChordFinding::Unsure => 0,
            ChordFinding::Right => 1,
            ChordFinding::Wrong => 2,
        };
        let [bar_0, bar_1] = self.bar.to_le_bytes();
        let [at_0, at_1, at_2, at_3] = self.expected_ms.to_le_bytes();
        let [offset_0, offset_1] = self.offset_tenth_ms.unwrap_or(NO_OFFSET).to_le_bytes();
        let choices = action | direction << 3 | finding << 4 | chord << 6;
        let shape = self.shape.unwrap_or(NO_SHAPE);
        [bar_0, bar_1, self.slot, choices, shape, at_0, at_1, at_2, at_3, offset_0, offset_1, self.window_ms]
    }

    fn from_bytes(bytes: &[u8; 12]) -> Option<Self> {
        let [bar_0, bar_1, slot, choices, shape, at_0, at_1, at_2, at_3, offset_0, offset_1, window_ms] = *bytes;
        let offset = i16::from_le_bytes([offset_0, offset_1]);
        Some(Self {
            bar: u16::from_le_bytes([bar_0, bar_1]),
            slot,
            action: match choices & 7 {
                0 => Action::Strum,
                1 => Action::Chuck,
                2 => Action::Bass,
                3 => Action::Air,
                4 => Action::Ring,
                5 => Action::Stop,
                _ => return None,
            },
            direction: if choices >> 3 & 1 == 0 { Direction::Down } else { Direction::Up },
            shape: Some(shape).filter(|shape| *shape != NO_SHAPE),
            finding: match choices >> 4 & 3 {
                0 => Finding::InTime,
                1 => Finding::Early,
                2 => Finding::Late,
                _ => Finding::Missed,
            },
            chord: match choices >> 6 {
                0 => ChordFinding::Unsure,
                1 => ChordFinding::Right,
                2 => ChordFinding::Wrong,
                _ => return None,
            },
            expected_ms: u32::from_le_bytes([at_0, at_1, at_2, at_3]),
            offset_tenth_ms: Some(offset).filter(|offset| *offset != NO_OFFSET),
            window_ms,
        })
    }
}

/// Milliseconds from the start of the pass; what lies before it counts as at its start.
fn ms_since(at_s: f64, starts_s: f64) -> u32 {
    #[expect(
        clippy::cast_possible_truncation,
        clippy::cast_sign_loss,
        reason = "saturates, as early or late as it gets"
    )]
    let ms = ((at_s - starts_s) * 1000.0).round() as u32;
    ms
}
