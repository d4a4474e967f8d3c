//! The words around now.

use sixrung_lesson::{Line, SungSyllable};

use super::super::stage::Stage;
use crate::say;
use crate::stand::{SyllableView, WordLineView, WordsView};

/// Lines shown at once: the one being sung and the one after it.
const SHOWN: usize = 2;

/// The words at `tick` of the pass; `None` before it, when pickup words are the ones to sing.
pub(crate) fn words(stage: &Stage, tick: Option<f64>) -> WordsView {
    let lines = &stage.score.lines;
    let now = tick.unwrap_or(0.0);
    let line = lines.iter().rposition(|line| f64::from(line.start.0) <= now).unwrap_or(0);
    WordsView {
        lines: lines.iter().skip(line).take(SHOWN).map(|line| line_view(stage, line)).collect(),
        current: tick
            .and_then(|tick| lines.get(line).and_then(|line| current(line, tick)))
            .map(|syllable| (0, syllable)),
    }
}

fn current(line: &Line, tick: f64) -> Option<usize> {
    line.syllables
        .iter()
        .rposition(|syllable| !syllable.pickup && f64::from(syllable.at.0) <= tick)
        .filter(|_| tick < f64::from(line.end.0))
}

fn line_view(stage: &Stage, line: &Line) -> WordLineView {
    WordLineView { syllables: line.syllables.iter().map(|syllable| syllable_view(stage, syllable)).collect() }
}

fn syllable_view(stage: &Stage, syllable: &SungSyllable) -> SyllableView {
    let change = syllable.change.and_then(|change| stage.score.changes.get(change));
    SyllableView {
        text: syllable.text.clone(),
        ends_word: syllable.ends_word,
        chord: change.map(|change| match change.shape.and_then(|shape| stage.shapes.get(shape)) {
            Some(shape) => say::chord_name(&shape.name),
            None => say::NO_CHORD.to_owned(),
        }),
    }
}
