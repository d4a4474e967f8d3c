//! Writes down what is true of a performance.

use sixrung_lesson::{Action, Direction};

use crate::criterion::{Outcome, Sounded, default_allowance, judge};
use crate::mistakes::Mistake;
use crate::part::Part;
use crate::player::{Performance, Struck, Style};
use crate::synth::{Onsets, Synth};
use crate::take::{Order, level_name};
use crate::truth::{ExtraTruth, HandTruth, PassTruth, SpanTruth, StrokeTruth, TRUTH_VERSION, Truth};

pub(crate) fn count(number: usize) -> f64 {
    f64::from(u32::try_from(number).unwrap_or(u32::MAX))
}

/// A performance and all that is known of it.
pub(crate) struct Writer<'a> {
    pub(crate) order: &'a Order<'a>,
    pub(crate) part: &'a Part,
    pub(crate) done: &'a Performance,
    pub(crate) onsets: &'a Onsets,
    pub(crate) style: Style,
    pub(crate) starts_at_s: f64,
}

impl Writer<'_> {
    pub(crate) fn write(&self, synth: &Synth) -> Truth {
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
            engine: order.engine.name(),
            tuning_cents: self.done.tuning_cents.clone(),
            condition: order.condition.name(),
            player_seed: order.player.map(|player| player.seed),
            learn: None,
            played: None,
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
            spans: (0..order.passes).flat_map(|pass| self.spans(pass)).collect(),
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
        self.onsets.first_heard_s(&struck.notes)
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
        let wrong = self.spans(pass).iter().filter(|span| span.wrong).count();
        judge(&strokes, self.played(pass, true).count(), wrong, self.order.level, allowed)
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
            wrong_chords: self.spans(index).iter().filter(|span| span.wrong).count(),
            allowed_faults: outcome.allowed,
            median_offset_ms: outcome.median_ms,
            spread_ms: outcome.spread_ms,
        }
    }

    fn spans(&self, pass: usize) -> Vec<SpanTruth> {
        let played: Vec<&Struck> = self.played(pass, false).collect();
        let mut spans = Vec::new();
        let mut from = 0;
        while from < played.len() {
            let span = self.part.span(from);
            spans.extend(self.span(pass, &played[span.clone()]));
            from = span.end;
        }
        spans
    }

    /// `None` where no chord is asked for.
    fn span(&self, pass: usize, struck: &[&Struck]) -> Option<SpanTruth> {
        let first = &self.part.asked[struck.first()?.stroke];
        let asked = &self.part.chords[first.chord?];
        let sounds =
            |struck: &&&Struck| !struck.notes.is_empty() && self.part.asked[struck.stroke].action != Action::Chuck;
        let differs = |struck: &&Struck| struck.notes.iter().any(|note| asked.keys[note.string] != Some(note.key));
        let is_of_chord = |struck: &&&Struck| struck.mistakes.contains(&Mistake::WrongChord);
        let of_string = |mistake: &Mistake| mistake.is_on_string();
        let held = struck.iter().find(is_of_chord).and_then(|struck| struck.chord).or(first.chord)?;
        Some(SpanTruth {
            pass,
            bar: first.bar,
            slot: first.slot,
            strokes: struck.len(),
            pitched: struck.iter().filter(sounds).count(),
            chord: asked.name.clone(),
            played: self.done.chords[held].name.clone(),
            wrong: struck.iter().filter(sounds).filter(is_of_chord).any(differs),
            string_fault: struck.iter().any(|struck| struck.mistakes.iter().any(of_string)),
        })
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
            let string = struck.string.filter(|_| mistake.is_on_string());
            let instead = struck.chord.filter(|_| *mistake == Mistake::WrongChord);
            HandTruth {
                pass: struck.pass,
                bar: asked.bar,
                slot: asked.slot,
                fault: mistake.name(),
                chord: instead.map(|chord| self.done.chords[chord].name.clone()),
                string: string.map(|string| self.part.open.len() - string),
                struck: string.is_none_or(|string| struck.notes.iter().any(|note| note.string == string)),
            }
        })
    }
}

const fn verdict(clean: bool) -> &'static str {
    if clean { "clean" } else { "not_clean" }
}
