//! Words stand where they are sung: a marked syllable on its change, the others evenly between.

use crate::built::{lesson, pattern, section, times, words};
use sixrung_lesson::{Arrangement, Entry, Grid, Meter, Score, Stretch, layout};

fn laid_out(entries: Vec<Entry>, lines: &[&str], stretch: &Stretch) -> Score {
    let patterns = vec![pattern("plain", Grid::Quarters, "D D D D"), pattern("early", Grid::Quarters, "D D D ^D")];
    let mut verse = section("A", entries);
    verse.words = words(lines);
    let lesson = lesson(Meter::COMMON, patterns, vec![verse]);
    layout(&lesson, stretch, &Arrangement::default()).expect("it can be laid out")
}

/// Each syllable as `text@tick`, with the chord that falls on it, `<` before a pickup; lines parted by ` | `.
fn sung(score: &Score) -> String {
    let chord = |change: usize| match score.changes[change].shape {
        Some(shape) => format!("={}", score.shapes[shape].name),
        None => "=N.C.".to_owned(),
    };
    let syllable = |word: &sixrung_lesson::SungSyllable| {
        let pickup = if word.pickup { "<" } else { "" };
        format!("{pickup}{}@{}{}", word.text, word.at.0, word.change.map_or(String::new(), chord))
    };
    let line = |line: &sixrung_lesson::Line| line.syllables.iter().map(syllable).collect::<Vec<_>>().join(" ");
    score.lines.iter().map(line).collect::<Vec<_>>().join(" | ")
}

#[test]
fn syllables_stand_on_their_changes_and_spread_between() {
    let check = |lines: &[&str], expected: &str| {
        let entries = vec![times(1, "D", "plain"), times(1, "A", "plain")];
        assert_eq!(sung(&laid_out(entries, lines, &Stretch::Section("A".to_owned()))), expected);
    };
    check(&["^low tide", "^high"], "low@0=D tide@1920 | high@3840=A");
    check(&["^a b c d ^e f"], "a@0=D b@960 c@1920 d@2880 e@3840=A f@5760");
    check(&["so ^low", "^high"], "<so@0 low@0=D | high@3840=A");
    check(&["^low ^", "la"], "low@0=D @3840=A | la@5760");
    // A line may begin between changes, and the last group lasts to the next change even if nobody sings it.
    check(&["^low", "tide"], "low@0=D | tide@1920");
    check(&["no marks"], "no@0 marks@3840");
    // Too many marks are the checker's to find; here they stand at the end.
    check(&["^a ^b ^c"], "a@0=D b@3840=A c@7680");
}

#[test]
fn an_early_change_is_sung_early() {
    let entries = vec![times(1, "D", "early"), times(1, "A", "plain")];
    let score = laid_out(entries, &["^low", "^high"], &Stretch::Whole);
    assert_eq!(sung(&score), "low@0=D | high@2880=A");
}

#[test]
fn a_line_lasts_until_the_change_after_its_last_syllable() {
    let entries = vec![times(2, "D", "plain"), times(1, "A", "plain")];
    let score = laid_out(entries, &["so ^low tide", "^high"], &Stretch::Whole);
    let lines: Vec<_> = score.lines.iter().map(|line| (line.start.0, line.end.0)).collect();
    assert_eq!(lines, [(0, 7680), (7680, 11_520)]);
}

#[test]
fn a_range_has_only_its_own_words() {
    let check = |first, end, expected: &str| {
        let entries = vec![times(2, "D", "plain"), times(1, "A", "plain"), times(1, "G", "plain")];
        let stretch = Stretch::Bars { section: "A".to_owned(), first, end };
        assert_eq!(sung(&laid_out(entries, &["so ^low tide", "^high", "^quay"], &stretch)), expected);
    };
    check(0, 1, "<so@0 low@0=D");
    // "tide" begins the range without a mark: the chord in force is shown as the range's own first change.
    check(1, 3, "tide@0 | high@3840=A");
    check(3, 4, "quay@0=G");
}

#[test]
fn each_time_through_a_section_is_sung_in_its_place() {
    let patterns = vec![pattern("plain", Grid::Quarters, "D D D D")];
    let mut verse = section("A", vec![times(1, "D", "plain")]);
    verse.words = words(&["oh ^low"]);
    let mut lesson = lesson(Meter::COMMON, patterns, vec![verse]);
    lesson.form = vec!["A".to_owned(), "A".to_owned()];
    let score = layout(&lesson, &Stretch::Whole, &Arrangement::default()).expect("it can be laid out");
    // The chord goes on, so the second "low" carries no change.
    assert_eq!(sung(&score), "<oh@0 low@0=D | <oh@3840 low@3840");
}
