//! What only some lessons have to say on paper: how strings are kept silent, swing, options, exceptions, endings.

mod support;

use sixrung_drawing::Mark;
use sixrung_exchange::guide::{Guide, GuideOptions, Node, lay_out};
use sixrung_lesson::{Lesson, read};

use support::{FONTS, WORDS, demos};

macro_rules! good {
    ($name:literal) => {
        read(include_bytes!(concat!("../../../tests/corpus/lessons/good/", $name, ".lesson.ron")))
            .expect("the corpus's good lessons have no errors")
            .lesson
    };
}

fn demo(wanted: &str) -> Lesson {
    demos().into_iter().find(|(name, _)| *name == wanted).expect("the demo").1
}

fn made(lesson: &Lesson, arrangement: &str) -> Guide {
    let arrangement = lesson.arrangement(arrangement).expect("it is there").clone();
    let options = GuideOptions { arrangement, ..GuideOptions::default() };
    lay_out(lesson, &options, &WORDS, &FONTS).expect("it can be laid out")
}

/// Every text of a guide in reading order, a space between any two.
fn read_out(guide: &Guide) -> String {
    let marks = guide.pages.iter().flat_map(|page| &page.nodes).flat_map(Node::marks);
    let texts = marks.filter_map(|mark| match mark {
        Mark::Text { text, .. } => Some(text.trim()),
        _ => None,
    });
    texts.collect::<Vec<_>>().join(" ")
}

fn check(lesson: &Lesson, arrangement: &str, expected: &[&str], absent: &[&str]) {
    let text = read_out(&made(lesson, arrangement));
    for words in expected {
        assert!(text.contains(words), "{} {arrangement}: {words:?} is not in {text:?}", lesson.title);
    }
    for words in absent {
        assert!(!text.contains(words), "{} {arrangement}: {words:?} is in {text:?}", lesson.title);
    }
}

#[test]
fn under_each_diagram_it_says_once_how_strings_are_kept_silent() {
    let lantern = demo("lantern-on-the-quay");
    let text = read_out(&made(&lantern, "plain"));
    // D, A, Bm and its stand-in Bm7 keep strings silent, G does not.
    assert_eq!(text.matches("× ").count(), 5, "{text}");
    assert_eq!(text.matches("× 6: the thumb, resting over the edge").count(), 2, "{text}");
    check(&lantern, "easy", &["× 6: the tip of finger 1", "× 6: the tip of finger 2", "× 5: the thumb’s tip"], &[]);
}

#[test]
fn strings_kept_silent_in_one_way_share_a_note() {
    let text = r#"Lesson(version: 1, title: "One thumb", tempo: 90, meter: "4/4",
        shapes: [(name: "D", frets: "xx0232", fingers: "---132", mute: { 6: "the thumb", 5: "the thumb" })],
        patterns: [(name: "plain", grid: "quarters", strokes: "D D D D")],
        sections: [(name: "All", entries: [(chord: "D", pattern: "plain")])])"#;
    let lesson = read(text.as_bytes()).expect("nothing is wrong with it").lesson;
    let text = read_out(&made(&lesson, "plain"));
    assert!(text.contains("× 6, 5: the thumb") || text.contains("× 5, 6: the thumb"), "{text}");
    assert_eq!(text.matches("the thumb").count(), 1, "{text}");
}

#[test]
fn swing_is_said_in_words_beside_its_pattern() {
    let corners = good!("swing-and-triplets");
    let expected =
        ["shuffle swung eighths, 2 to 1: the & comes late", "gentle swung eighths, 3 to 2: the & comes late"];
    check(&corners, "plain", &expected, &[]);
    check(&corners, "plain", &["threes triplets", "1 D trip U let D", "last time: threes"], &[]);
    check(&demo("lantern-on-the-quay"), "plain", &["plain eighths"], &["swung"]);
}

#[test]
fn options_are_named_where_they_decide_and_at_the_top_where_they_are_taken_in() {
    let lesson = good!("options");
    check(&lesson, "full", &["played “full” · with “busy”", "without “busier”"], &["without “busy”"]);
    check(&lesson, "fullest", &["with “busy” · with “busier”", "with “busier” A busy"], &["without"]);
    check(&demo("ferry-lullaby"), "plain", &["without “ripple” Em rock, 2 times"], &["with “ripple”"]);
    check(&demo("tin-roof-shuffle"), "easy", &["easier shapes"], &[]);
}

#[test]
fn exceptions_endings_counts_and_tunings_are_there() {
    let expected = ["plain, 4 times 2nd time: D → A split 3rd time: G plain last time: early", "next chord"];
    check(&good!("exceptions"), "plain", &expected, &[]);
    check(&good!("endings"), "plain", &["1st ending G half", "2nd ending A ring"], &[]);
    check(&good!("twelve-eight"), "plain", &["12/8", "10 D 11 12 U"], &[]);
    check(&good!("seven-strings"), "plain", &["tuned B E A D G B E"], &[]);
    check(&good!("ukulele"), "plain", &["tuned G C E A", "88.5 quarter notes a minute"], &[]);
    check(&good!("pickup"), "plain", &["O, in the D größere Welt"], &[]);
}

#[test]
fn a_lesson_of_one_section_has_its_days_beside_its_ladder_on_the_same_page() {
    for lesson in [good!("ukulele"), good!("seven-strings"), good!("endings"), good!("options")] {
        assert_eq!(made(&lesson, &lesson.arrangements[0].name).pages.len(), 1, "{}", lesson.title);
    }
}

#[test]
fn the_days_are_never_alone_on_a_page_in_usual_print() {
    for (name, lesson) in demos() {
        for arrangement in &lesson.arrangements {
            let guide = made(&lesson, &arrangement.name);
            let heads = guide.pages.iter().map(|page| {
                page.nodes
                    .iter()
                    .flat_map(Node::marks)
                    .filter_map(|mark| match mark {
                        Mark::Text { text, .. } => Some(text.trim()),
                        _ => None,
                    })
                    .collect::<Vec<_>>()
            });
            for texts in heads {
                let has = |head: &str| texts.contains(&head);
                assert_eq!(has(WORDS.days), has(WORDS.ladder), "{name} {}", arrangement.name);
            }
        }
    }
}
