//! What stands in a strip.

use sixrung_lesson::{Action, Arrangement, Lesson, Stretch, layout, read};

use super::{BarStrip, Rows, StrokePlace, lead, middle, pattern_strips, strips, stroke};
use crate::mark::{Ink, Mark};
use crate::place::{Point, Rect};

fn lesson(patterns: &str, meter: &str, entries: &str) -> Lesson {
    let text = format!(
        r#"Lesson(version: 1, title: "Two chords", tempo: 90, meter: "{meter}",
        shapes: [(name: "D", frets: "xx0232", fingers: "---132"), (name: "A", frets: "x02220", fingers: "--123-")],
        patterns: [{patterns}],
        sections: [(name: "All", entries: [{entries}])])"#
    );
    read(text.as_bytes()).unwrap_or_else(|findings| panic!("{findings:?}")).lesson
}

fn counted(strip: &BarStrip) -> String {
    strip.slots.iter().map(|slot| slot.count.as_str()).collect::<Vec<_>>().join(" ")
}

/// Counts as in common practice, no source.
#[test]
fn a_pattern_is_drawn_bar_by_bar_with_its_counts() {
    let rows = [
        ("eighths", "D - D> U - U D> U", "4/4", vec![("1 & 2 & 3 & 4 &", 3840)]),
        ("sixteenths", "X - - - X - X -", "4/4", vec![("1 e & a 2 e & a", 1920)]),
        ("eighths", "B - D, D - D,", "6/8", vec![("1 2 3 4 5 6", 2880)]),
        ("quarters", "D . . . | . . . .", "4/4", vec![("1 2 3 4", 3840), ("1 2 3 4", 3840)]),
    ];
    for (grid, strokes, meter, expected) in rows {
        let entries = if strokes.len() < 16 && meter == "4/4" {
            r#"(chord: "D", pattern: "p", times: 2), (chord: "A", pattern: "p", times: 2)"#
        } else {
            r#"(chord: "D", pattern: "p"), (chord: "A", pattern: "p")"#
        };
        let lesson = lesson(&format!(r#"(name: "p", grid: "{grid}", strokes: "{strokes}")"#), meter, entries);
        let strips = pattern_strips(&lesson.patterns[0], lesson.meter, "next");
        let seen: Vec<_> = strips.iter().map(|(strip, length)| (counted(strip), length.0)).collect();
        let expected: Vec<_> = expected.into_iter().map(|(counts, length)| (counts.to_owned(), length)).collect();
        assert_eq!(seen, expected, "{strokes}");
        let filled: f32 = strips.iter().flat_map(|(strip, _)| &strip.slots).map(|slot| slot.width).sum();
        assert!((filled - strips.len() as f32).abs() < 1e-4, "{strokes} fills its bars");
    }
}

#[test]
fn a_pattern_drawn_alone_is_drawn_as_the_bar_that_plays_it() {
    let patterns = r#"(name: "p", grid: "swung eighths 2:1", strokes: "D U, X U D> U X ^U")"#;
    let lesson = lesson(patterns, "4/4", r#"(chord: "D", pattern: "p"), (chord: "A", pattern: "p")"#);
    let score = layout(&lesson, &Stretch::Whole, &Arrangement::default()).expect("it can be laid out");
    let played = strips(&score);
    let alone = pattern_strips(&lesson.patterns[0], lesson.meter, "A");
    assert_eq!(played[0], alone[0].0);
    assert_eq!(played[0].slots[7].change.as_deref(), Some("A"));
}

#[test]
fn every_stroke_stays_in_its_strip() {
    let patterns = r#"(name: "p", grid: "sixteenths", strokes: "D> U, X - B . S U D> U, X - B . S U")"#;
    let lesson = lesson(patterns, "4/4", r#"(chord: "D", pattern: "p"), (chord: "A", pattern: "p")"#);
    let (strip, _) = &pattern_strips(&lesson.patterns[0], lesson.meter, "next")[0];
    let rect = Rect::sized(Point::new(10.0, 20.0), 300.0, 70.0);
    for slot in &strip.slots {
        let x = rect.min.x + rect.width() * middle(slot, strip);
        let room = rect.width() * lead(strip) * 2.0;
        let place = StrokePlace { x, rows: Rows::of(rect), room, unit: 0.5, least: 0.5 };
        let marks = stroke(slot, place, Ink::Ink);
        assert!(!marks.is_empty());
        for mark in marks {
            let points = match mark {
                Mark::Line { from, to, .. } => vec![from, to],
                Mark::Path { points, .. } => points,
                Mark::Frame { rect, .. } => vec![rect.min, rect.max],
                Mark::Dot { at, .. } | Mark::Cross { at, .. } => vec![at],
                other => panic!("no stroke is drawn with {other:?}"),
            };
            let inside = |point: &Point| {
                (x - room / 2.0..=x + room / 2.0).contains(&point.x) && (rect.min.y..=rect.max.y).contains(&point.y)
            };
            assert!(points.iter().all(inside), "{:?} {points:?}", slot.action);
        }
    }
}

#[test]
fn an_arrow_points_where_the_hand_goes() {
    let patterns = r#"(name: "p", grid: "eighths", strokes: "D U D U D U D U")"#;
    let lesson = lesson(patterns, "4/4", r#"(chord: "D", pattern: "p"), (chord: "A", pattern: "p")"#);
    let (strip, _) = &pattern_strips(&lesson.patterns[0], lesson.meter, "next")[0];
    let rows = Rows::of(Rect::sized(Point::default(), 100.0, 82.0));
    for (slot, down) in strip.slots.iter().zip([true, false].into_iter().cycle()) {
        assert_eq!(slot.action, Action::Strum);
        let marks = stroke(slot, StrokePlace { x: 5.0, rows, room: 12.0, unit: 0.5, least: 0.5 }, Ink::Ink);
        let [Mark::Line { from, to, .. }, Mark::Path { points, .. }] = &marks[..] else { panic!("{marks:?}") };
        assert_eq!(to.y > from.y, down);
        assert_eq!(points[1], *to, "the head is at the end");
    }
}
