//! The sung words: a row of syllables with chord names over those a change falls on.

use egui::{Pos2, Rect, pos2};

use super::pen::{Pen, Side, Type};
use crate::stand::{SyllableView, WordLineView, WordsView};
use crate::theme::{Face, Step};

/// Where a syllable goes: its left end on its line's baseline, relative to the first.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Placed {
    /// From the row's left end, in points.
    pub x: f32,
    /// Which row, from 0.
    pub row: usize,
    /// Its line in the view, and its place in that line.
    pub index: (usize, usize),
}

/// Places the lines one after the other, a gap between them, from row to row of `width`. `measure` gives the width of a syllable's text and of its chord's name.
pub fn lay_out(words: &WordsView, width: f32, gap: f32, measure: &dyn Fn(&SyllableView) -> (f32, f32)) -> Vec<Placed> {
    let mut placed = Vec::new();
    let (mut x, mut row) = (0.0, 0);
    for (line, view) in words.lines.iter().enumerate() {
        let whole: f32 = view.syllables.iter().map(|syllable| advance(measure(syllable))).sum();
        if x > 0.0 && x + gap + whole > width {
            (x, row) = (0.0, row + 1);
        } else if x > 0.0 {
            x += gap;
        }
        for word in view.words() {
            let needed: f32 = word.clone().map(|at| advance(measure(&view.syllables[at]))).sum();
            if x > 0.0 && x + needed > width + gap * 0.2 {
                (x, row) = (0.0, row + 1);
            }
            for at in word {
                placed.push(Placed { x, row, index: (line, at) });
                x += advance(measure(&view.syllables[at]));
            }
        }
    }
    placed
}

/// A syllable is at least as wide as the chord's name over it, so that names never run into each other.
fn advance((text, chord): (f32, f32)) -> f32 {
    text.max(chord)
}

impl WordLineView {
    /// Its words as ranges of syllables.
    fn words(&self) -> impl Iterator<Item = std::ops::Range<usize>> + '_ {
        let ends = self.syllables.iter().enumerate().filter(|(_, syllable)| syllable.ends_word).map(|(at, _)| at + 1);
        let mut start = 0;
        // A word that the line breaks off is a word too.
        ends.chain([self.syllables.len()]).map(move |end| std::mem::replace(&mut start, end)..end)
    }
}

/// A syllable as printed: a hyphen where its word goes on, a space where it ends.
fn printed(syllable: &SyllableView) -> String {
    let end = if syllable.ends_word || syllable.text.is_empty() { " " } else { "-" };
    format!("{}{end}", syllable.text)
}

/// Draws the words; `rect` holds `rows` rows, the first of which has the syllable now.
pub fn paint(pen: &Pen<'_>, rect: Rect, words: &WordsView, rows: usize) {
    let palette = *pen.palette();
    let set = |face, colour| pen.read(face, Step::Large, colour);
    let chord_set = |colour| pen.read(Face::Bold, Step::Lead, colour);
    // Room is kept for half of what the bold cut needs more; the other half leans into the spaces. So nothing moves
    // when a syllable's turn comes, and the words stand evenly when it is not.
    let measure = |syllable: &SyllableView| {
        let text = pen.width(&printed(syllable), set(Face::Book, palette.ink));
        let bold = pen.width(&printed(syllable), set(Face::BookBold, palette.ink));
        let chord =
            syllable.chord.as_deref().map_or(0.0, |chord| pen.width(chord, chord_set(palette.ink)) + 10.0 * pen.unit);
        (f32::midpoint(text, bold.max(text)), chord)
    };
    let placed = lay_out(words, rect.width(), 32.0 * pen.unit, &measure);
    let first = placed.iter().find(|spot| Some(spot.index) == words.current).map_or(0, |spot| spot.row);
    #[expect(clippy::cast_precision_loss, reason = "rows are few")]
    let pitch = rect.height() / rows.max(1) as f32;
    for spot in placed.iter().filter(|spot| (first..first + rows).contains(&spot.row)) {
        let (line, at) = spot.index;
        let syllable = &words.lines[line].syllables[at];
        let is_now = words.current == Some(spot.index);
        let is_near = words.current.map_or(line == 0, |(current, _)| line == current);
        #[expect(clippy::cast_precision_loss, reason = "rows are few")]
        let base = pos2(rect.left() + spot.x, rect.top() + pitch * (spot.row - first) as f32 + pitch * 0.74);
        if let Some(chord) = &syllable.chord {
            let colour = if is_sounding(words, spot.index) { palette.now } else { palette.quiet };
            pen.text(base - egui::vec2(0.0, 31.0 * pen.unit), Side::Left, chord, chord_set(colour));
        }
        let ink = if is_near { palette.ink } else { palette.quiet };
        paint_syllable(pen, base, syllable, is_now, set(if is_now { Face::BookBold } else { Face::Book }, ink));
    }
}

/// Whether the chord over this syllable is the one sounding: the last one at or before the syllable now.
fn is_sounding(words: &WordsView, index: (usize, usize)) -> bool {
    let Some(now) = words.current else { return index == (0, 0) };
    let with_chord = words.lines.iter().enumerate().flat_map(|(line, view)| {
        view.syllables.iter().enumerate().filter(|(_, s)| s.chord.is_some()).map(move |(at, _)| (line, at))
    });
    with_chord.take_while(|at| *at <= now).last() == Some(index)
}

fn paint_syllable(pen: &Pen<'_>, base: Pos2, syllable: &SyllableView, is_now: bool, set: Type) {
    let plain = Type { face: Face::Book, ..set };
    let lean = if is_now { (pen.width(&syllable.text, set) - pen.width(&syllable.text, plain)) / 4.0 } else { 0.0 };
    let rect = pen.text(base - egui::vec2(lean, 0.0), Side::Left, &syllable.text, set);
    if !syllable.ends_word && !syllable.text.is_empty() {
        pen.text(pos2(rect.right(), base.y), Side::Left, "-", plain);
    }
    if is_now {
        let y = base.y + 8.0 * pen.unit;
        pen.rule(pos2(rect.left(), y), pos2(rect.right(), y), (3.0 * pen.unit).max(2.0), pen.palette().now);
    }
}

#[cfg(test)]
mod tests {
    use super::lay_out;
    use crate::stand::{SyllableView, WordLineView, WordsView};

    fn line(text: &str) -> WordLineView {
        let syllables = text.split_whitespace().flat_map(|word| {
            let parts: Vec<&str> = word.split('-').collect();
            let last = parts.len() - 1;
            let syllable = move |(at, part): (usize, &str)| SyllableView {
                text: part.to_owned(),
                ends_word: at == last,
                chord: None,
            };
            parts.into_iter().enumerate().map(syllable).collect::<Vec<_>>()
        });
        WordLineView { syllables: syllables.collect() }
    }

    /// Every letter is ten wide.
    fn rows(lines: &[&str], width: f32) -> Vec<String> {
        let words = WordsView { lines: lines.iter().map(|text| line(text)).collect(), current: None };
        #[expect(clippy::cast_precision_loss, reason = "test words are short")]
        let measure = |syllable: &SyllableView| (10.0 * (syllable.text.len() + 1) as f32, 0.0);
        let placed = lay_out(&words, width, 30.0, &measure);
        let mut out = vec![String::new(); placed.last().map_or(0, |spot| spot.row + 1)];
        for spot in placed {
            let syllable = &words.lines[spot.index.0].syllables[spot.index.1];
            out[spot.row] += &syllable.text;
            out[spot.row] += if syllable.ends_word { " " } else { "-" };
        }
        out
    }

    #[test]
    fn lines_share_a_row_while_they_fit_and_words_are_never_torn() {
        assert_eq!(rows(&["low tide", "high"], 400.0), ["low tide high "]);
        assert_eq!(rows(&["low tide", "high"], 120.0), ["low tide ", "high "]);
        assert_eq!(rows(&["still burn-ing"], 100.0), ["still ", "burn-ing "]);
        assert_eq!(rows(&["one two three", "four"], 100.0), ["one two ", "three ", "four "]);
    }
}
