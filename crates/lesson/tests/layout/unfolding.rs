//! Repeats written out, options decided, chords and early changes resolved.

use crate::built::{except, in_meter, lesson, meter, optional, pattern, play, section, times};
use sixrung_lesson::{
    Arrangement, Entry, Grid, LayoutError, Lesson, MAX_BARS, Meter, Occasion, Pattern, Score, Section, Stretch, Tick,
    TripletCount, layout, section_bars,
};

fn patterns() -> Vec<Pattern> {
    vec![
        pattern("plain", Grid::Quarters, "D D D D"),
        pattern("other", Grid::Quarters, "D - D -"),
        pattern("two", Grid::Quarters, "D D ^D D"),
        pattern("early", Grid::Eighths, "D - D U - U D ^U"),
        pattern("half", Grid::Eighths, "D U D U"),
        pattern("fine half", Grid::Sixteenths, "D U D U D U D U"),
        pattern("long early", Grid::Quarters, "D D D D D D D ^D"),
        pattern("silence", Grid::Quarters, ". . . ."),
        pattern("three", Grid::Quarters, "D D D"),
    ]
}

fn one(entries: Vec<Entry>) -> Lesson {
    lesson(Meter::COMMON, patterns(), vec![section("A", entries)])
}

fn whole(lesson: &Lesson, arrangement: &Arrangement) -> Score {
    layout(lesson, &Stretch::Whole, arrangement).expect("it can be laid out")
}

fn bars(lesson: &Lesson, first: u32, end: u32) -> Result<Score, LayoutError> {
    let stretch = Stretch::Bars { section: "A".to_owned(), first, end };
    layout(lesson, &stretch, &Arrangement::default())
}

/// The changes as `chord@tick`.
fn changes(score: &Score) -> String {
    let name = |shape: Option<usize>| shape.map_or("N.C.", |shape| score.shapes[shape].name.as_str());
    let one = |change: &sixrung_lesson::Change| format!("{}@{}", name(change.shape), change.at.0);
    score.changes.iter().map(one).collect::<Vec<_>>().join(" ")
}

#[test]
fn chords_change_where_the_map_says() {
    let check = |entries: Vec<Entry>, expected: &str| {
        assert_eq!(changes(&whole(&one(entries), &Arrangement::default())), expected);
    };
    check(vec![times(2, "D", "plain"), times(1, "A", "plain")], "D@0 A@7680");
    check(vec![times(1, "D", "plain"), times(1, "D", "other")], "D@0");
    check(vec![times(2, "D A", "two")], "D@0 A@1920 D@3840 A@5760");
    check(vec![times(1, "N.C.", "silence"), times(1, "G", "plain")], "N.C.@0 G@3840");
    check(vec![times(1, "D", "half"), times(1, "A", "fine half")], "D@0 A@1920");
    // An early change takes what comes next; at the end of the loop, its own beginning.
    check(vec![times(1, "D", "early"), times(1, "A", "plain")], "D@0 A@3360");
    check(vec![times(1, "A", "plain"), times(1, "D", "early")], "A@0 D@3840 A@7200");
    check(vec![times(2, "D", "early"), times(1, "A", "plain")], "D@0 A@7200");
    let last = [(Occasion::Last, play("G", "plain"))];
    check(vec![except(3, "D", "plain", &last)], "D@0 G@7680");
    let both = [(Occasion::Nth(2), play("A", "plain")), (Occasion::Last, play("G", "plain"))];
    check(vec![except(3, "D", "plain", &both)], "D@0 A@3840 G@7680");
    check(vec![except(2, "D", "plain", &both)], "D@0 A@3840");
}

#[test]
fn in_the_whole_form_an_early_change_takes_the_next_sections_first_chord_and_the_last_the_forms() {
    let first = section("A", vec![times(1, "D", "early")]);
    let second = section("B", vec![times(1, "G", "early")]);
    let lesson = lesson(Meter::COMMON, patterns(), vec![first, second]);
    assert_eq!(changes(&whole(&lesson, &Arrangement::default())), "D@0 G@3360 D@7200");
}

#[test]
fn endings_follow_the_entries_one_at_a_time() {
    let mut repeated = section("A", vec![times(1, "D", "plain")]);
    repeated.endings = vec![vec![times(1, "A", "plain")], vec![times(2, "G", "plain")]];
    let lesson = lesson(Meter::COMMON, patterns(), vec![repeated]);
    assert_eq!(changes(&whole(&lesson, &Arrangement::default())), "D@0 A@3840 D@7680 G@11520");
    assert_eq!(section_bars(&lesson, "A", &Arrangement::default()), Ok(5));
}

#[test]
fn an_arrangement_decides_options_stand_ins_and_capo() {
    let fuller = vec![times(1, "A", "long early")];
    let entries = vec![times(1, "Bm", "plain"), optional("push", fuller, vec![times(2, "A", "plain")])];
    let mut lesson = one(entries);
    lesson.capo = 1;
    let plain = Arrangement::default();
    let full = Arrangement { options: vec!["push".to_owned()], stand_ins: true, capo_shift: 2, ..plain.clone() };
    let (plain, full) = (whole(&lesson, &plain), whole(&lesson, &full));
    assert_eq!(changes(&plain), "Bm@0 A@3840");
    assert_eq!(changes(&full), "Bm7@0 A@3840 Bm7@10560");
    assert_eq!((plain.capo, full.capo), (1, 3));
    assert_eq!(plain.length, full.length);
}

#[test]
fn a_stand_in_that_follows_itself_is_no_change() {
    let lesson = one(vec![times(1, "Bm", "plain"), times(1, "Bm7", "plain")]);
    let easy = Arrangement { stand_ins: true, ..Arrangement::default() };
    assert_eq!(changes(&whole(&lesson, &easy)), "Bm7@0");
    assert_eq!(changes(&whole(&lesson, &Arrangement::default())), "Bm@0 Bm7@3840");
}

#[test]
fn an_entry_may_have_bars_of_its_own_meter() {
    let lesson = one(vec![times(1, "D", "plain"), in_meter(meter(3, 4), "A", "three"), times(1, "G", "plain")]);
    let score = whole(&lesson, &Arrangement::default());
    let starts: Vec<_> = score.bars.iter().map(|bar| (bar.start.0, bar.meter.count())).collect();
    assert_eq!(starts, [(0, 4), (3840, 3), (6720, 4)]);
}

#[test]
fn a_bar_of_two_grids_is_counted_right() {
    let lesson = one(vec![times(1, "D", "half"), times(1, "D", "fine half")]);
    let score = whole(&lesson, &Arrangement::default());
    let counted = score.slots.iter().map(|slot| score.count(slot, TripletCount::TripLet).to_string());
    assert_eq!(counted.collect::<Vec<_>>().join(" "), "1 & 2 & 3 e & a 4 e & a");
    let indices: Vec<_> = score.slots.iter().map(|slot| slot.index).collect();
    assert_eq!(indices, (0..12).collect::<Vec<_>>());
}

#[test]
fn a_range_of_bars_keeps_its_numbers_and_begins_with_the_chord_in_force() {
    let lesson = one(vec![times(3, "D", "plain"), times(1, "A", "early"), times(1, "G", "plain")]);
    let score = bars(&lesson, 1, 4).expect("three bars");
    // The early change of the last bar led to G; looped, it leads back to D.
    assert_eq!(changes(&score), "D@0 A@7680 D@11040");
    assert_eq!(score.bars.iter().map(|bar| bar.number).collect::<Vec<_>>(), [1, 2, 3]);
    assert_eq!(score.slots.iter().map(|slot| slot.bar).max(), Some(2));
    assert_eq!(score.length, Tick(3 * 3840));
}

#[test]
fn a_range_that_ends_inside_a_pattern_leaves_its_chords_alone() {
    let early_first = pattern("early first", Grid::Quarters, "D D D ^D D D D D");
    let mut lesson = one(vec![times(1, "A", "early first"), times(1, "D", "plain")]);
    lesson.patterns.push(early_first);
    assert_eq!(changes(&bars(&lesson, 0, 1).expect("a bar")), "A@0 D@2880");
}

#[test]
fn what_cannot_be_laid_out_says_why() {
    let check = |sections: Vec<Section>, expected: LayoutError| {
        let lesson = lesson(Meter::COMMON, patterns(), sections);
        assert_eq!(layout(&lesson, &Stretch::Whole, &Arrangement::default()), Err(expected));
    };
    let a = |entries| vec![section("A", entries)];
    check(a(vec![]), LayoutError::Empty);
    check(vec![], LayoutError::Empty);
    check(a(vec![times(1, "D", "nowhere")]), LayoutError::UnknownPattern("nowhere".to_owned()));
    check(a(vec![times(1, "H", "plain")]), LayoutError::UnknownShape("H".to_owned()));
    check(a(vec![times(1, "D", "half")]), LayoutError::BrokenBar { section: "A".to_owned(), bar: 0 });
    check(a(vec![times(2, "D", "three")]), LayoutError::BrokenBar { section: "A".to_owned(), bar: 1 });
    let change_of_meter = vec![times(1, "D", "half"), in_meter(meter(3, 4), "A", "three")];
    check(a(change_of_meter), LayoutError::BrokenBar { section: "A".to_owned(), bar: 0 });
    let three_chords = LayoutError::ChordsMismatch { pattern: "two".to_owned(), change_points: 1, chords: 3 };
    check(a(vec![times(1, "D A G", "two")]), three_chords);
    check(a(vec![times(u16::MAX, "D", "plain")]), LayoutError::TooLong);
    check(a(vec![times(4097, "D", "plain")]), LayoutError::TooLong);
    let no_section = Stretch::Section("B".to_owned());
    let lesson = one(vec![times(1, "D", "plain")]);
    let found = layout(&lesson, &no_section, &Arrangement::default());
    assert_eq!(found, Err(LayoutError::UnknownSection("B".to_owned())));
    for (first, end) in [(0, 2), (1, 1), (2, 1), (0, u32::MAX)] {
        let missing = LayoutError::NoSuchBars { section: "A".to_owned(), bars: 1 };
        assert_eq!(bars(&lesson, first, end), Err(missing), "{first}..{end}");
    }
}

#[test]
fn the_longest_stretch_is_taken() {
    let lesson = one(vec![times(4096, "N.C.", "silence")]);
    let score = whole(&lesson, &Arrangement::default());
    assert_eq!(score.bars.len(), MAX_BARS);
}
