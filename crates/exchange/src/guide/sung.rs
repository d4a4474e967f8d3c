//! The words, each chord's name exactly over the syllable it falls on.

use sixrung_drawing::{Face, Ink, Mark, NO_CHORD, Point, chord_name};
use sixrung_lesson::{Line, Score};

use super::page::{Node, Role};
use super::sheet::{Sheet, Type, text_mark};

/// What is sung from one chord name to the next, no longer than a word.
struct Morsel {
    chord: Option<String>,
    text: String,
    /// Whether a word ends with it.
    ends_word: bool,
    /// Width of its text, and of the name over it with the room it wants.
    wide: (f32, f32),
}

/// Between two lines that share a row, in points of usual print.
const ABREAST: f32 = 20.0;

/// A section's words, line by line; two lines share a row where both fit into half of it. A line too long for the paper
/// goes on in the next row.
pub(super) fn write(sheet: &mut Sheet<'_>, score: &Score) {
    let unit = sheet.unit();
    let lines: Vec<Vec<Morsel>> = score.lines.iter().map(|line| measured(sheet, morsels(line, score))).collect();
    let half = (sheet.width() - ABREAST * unit) / 2.0;
    let halves = lines.iter().all(|line| advances(line).iter().sum::<f32>() <= half);
    let has_chords = lines.iter().flatten().any(|morsel| morsel.chord.is_some());
    let base = if has_chords { 26.0 } else { 15.0 } * unit;
    let mut gap = 5.0 * unit;
    if halves {
        for pair in lines.chunks(2) {
            let at = |index: u8| f32::from(index) * (half + ABREAST * unit);
            let line = |(index, line): (u8, &Vec<Morsel>)| {
                Node::of(Role::Paragraph, draw(sheet, line, Point::new(at(index), base)))
            };
            let nodes = (0..).zip(pair).map(line).collect();
            sheet.put(nodes, base + 4.0 * unit, gap);
            gap = unit;
        }
        return;
    }
    let rows: Vec<&[Morsel]> = lines.iter().flat_map(|line| rows(sheet, line)).collect();
    for row in rows {
        sheet.put(vec![Node::of(Role::Paragraph, draw(sheet, row, Point::new(0.0, base)))], base + 4.0 * unit, gap);
        gap = unit;
    }
}

fn morsels(line: &Line, score: &Score) -> Vec<Morsel> {
    let mut morsels: Vec<Morsel> = Vec::new();
    for syllable in &line.syllables {
        let change = syllable.change.and_then(|change| score.changes.get(change));
        let chord = change.map(|change| match change.shape {
            Some(shape) => chord_name(&score.shapes[shape].name),
            None => NO_CHORD.to_owned(),
        });
        let ends_word = syllable.ends_word || syllable.text.is_empty();
        match morsels.last_mut().filter(|last| chord.is_none() && !last.ends_word) {
            Some(last) => {
                last.text += &syllable.text;
                last.ends_word = ends_word;
            }
            None => morsels.push(Morsel { chord, text: syllable.text.clone(), ends_word, wide: (0.0, 0.0) }),
        }
    }
    morsels
}

/// Rows no wider than the paper, broken between words.
fn rows<'a>(sheet: &Sheet<'_>, morsels: &'a [Morsel]) -> Vec<&'a [Morsel]> {
    let mut rows = Vec::new();
    let (mut start, mut word) = (0, 0);
    for (index, morsel) in morsels.iter().enumerate() {
        if advances(&morsels[start..=index]).iter().sum::<f32>() > sheet.width() && word > start {
            rows.push(&morsels[start..word]);
            start = word;
        }
        if morsel.ends_word {
            word = index + 1;
        }
    }
    rows.push(&morsels[start..]);
    rows
}

fn printed(morsel: &Morsel) -> String {
    format!("{}{}", morsel.text, if morsel.ends_word { " " } else { "" })
}

fn measured(sheet: &Sheet<'_>, mut morsels: Vec<Morsel>) -> Vec<Morsel> {
    let (book, bold) = (sheet.set(Face::Book, 13.0, Ink::Ink), sheet.set(Face::Bold, 10.5, Ink::Ink));
    for morsel in &mut morsels {
        let name = morsel.chord.as_ref().map_or(0.0, |name| sheet.measure(name, bold) + 5.0 * sheet.unit());
        morsel.wide = (sheet.measure(&printed(morsel), book), name);
    }
    morsels
}

/// How far each morsel of a row goes: from one name to the next there is at least the first one's width, so that names
/// never run into each other.
fn advances(row: &[Morsel]) -> Vec<f32> {
    let mut advances: Vec<f32> = row.iter().map(|morsel| morsel.wide.0).collect();
    let named = (0..row.len()).filter(|index| row[*index].chord.is_some());
    for start in named {
        let after = row.iter().skip(start + 1).position(|morsel| morsel.chord.is_some());
        let end = after.map_or(row.len(), |more| start + 1 + more);
        let lacks = row[start].wide.1 - advances[start..end].iter().sum::<f32>();
        advances[end - 1] += lacks.max(0.0);
    }
    advances
}

/// Each name stands before its syllable in reading order, and over its beginning on paper.
fn draw(sheet: &Sheet<'_>, row: &[Morsel], start: Point) -> Vec<Mark> {
    let unit = sheet.unit();
    // A word wider than the paper is set smaller, and its row with it.
    let advances = advances(row);
    let whole: f32 = advances.iter().sum();
    let share = (sheet.width() / whole.max(1.0)).min(1.0);
    let smaller = |set: Type| Type { size: set.size * share, ..set };
    let book = smaller(sheet.set(Face::Book, 13.0, Ink::Ink));
    let mut marks = Vec::new();
    let mut x = start.x;
    // What has no name over it is set in one piece with what is before it.
    let mut open: Option<(f32, String)> = None;
    for (morsel, advance) in row.iter().zip(advances) {
        let wide = advance * share;
        let text = printed(morsel);
        let needed = morsel.wide.0 * share;
        if let Some(name) = &morsel.chord {
            marks.extend(sung(open.take(), start.y, book));
            let set = smaller(sheet.set(Face::Bold, 10.5, Ink::Ink));
            marks.push(text_mark(Point::new(x, start.y - 13.5 * unit), format!("{name} "), set));
        }
        match &mut open {
            Some((_, before)) => *before += &text,
            None => open = Some((x, text)),
        }
        if wide > needed + 0.01 {
            marks.extend(sung(open.take(), start.y, book));
            // Where a name pulls a word apart, a hyphen holds it together.
            let joint = sheet.measure("-", book);
            if !morsel.ends_word && wide - needed > joint {
                let middle = x + f32::midpoint(needed, wide) - joint / 2.0;
                marks.push(text_mark(Point::new(middle, start.y), "-", book));
            }
        }
        x += wide;
    }
    marks.extend(sung(open, start.y, book));
    marks
}

fn sung(piece: Option<(f32, String)>, y: f32, set: Type) -> Option<Mark> {
    piece.filter(|(_, text)| !text.trim().is_empty()).map(|(x, text)| text_mark(Point::new(x, y), text, set))
}
