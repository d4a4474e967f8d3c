//! Simpler scores, made of the demo lessons' own.

use sixrung_lesson::{Action, Direction, Score, Stretch, Tick, layout, read};

const DEMOS: [&str; 4] = [
    include_str!("../../../assets/lessons/ferry-lullaby.lesson.ron"),
    include_str!("../../../assets/lessons/kettle-and-clock.lesson.ron"),
    include_str!("../../../assets/lessons/lantern-on-the-quay.lesson.ron"),
    include_str!("../../../assets/lessons/tin-roof-shuffle.lesson.ron"),
];

/// Every section of every demo in every arrangement, and the whole pieces.
fn scores() -> Vec<Score> {
    let lessons = DEMOS.map(|text| read(text.as_bytes()).expect("a demo").lesson);
    let mut scores = Vec::new();
    for lesson in &lessons {
        let sections = lesson.sections.iter().map(|section| Stretch::Section(section.name.clone()));
        for stretch in sections.chain([Stretch::Whole]) {
            let laid_out = |arrangement| layout(lesson, &stretch, arrangement).expect("laid out");
            scores.extend(lesson.arrangements.iter().map(laid_out));
        }
    }
    scores
}

fn struck(score: &Score) -> Vec<Tick> {
    score.slots.iter().filter(|slot| slot.stroke.action.sounds()).map(|slot| slot.at).collect()
}

#[test]
fn one_stroke_stands_where_each_chord_starts_and_nowhere_else() {
    for score in scores() {
        let simple = score.one_stroke_per_change();
        let starts: Vec<Tick> =
            score.changes.iter().filter(|change| change.shape.is_some()).map(|change| change.at).collect();
        assert_eq!(struck(&simple), starts);
        let downs = simple.slots.iter().filter(|slot| slot.stroke.action.sounds());
        assert!(downs.clone().all(|slot| slot.stroke.direction == Direction::Down));
        assert!(downs.clone().all(|slot| slot.stroke.action == Action::Strum));
        assert_eq!((&simple.lines, &simple.bars, simple.length), (&score.lines, &score.bars, score.length));
    }
}

#[test]
fn on_one_chord_keeps_the_pattern_and_nothing_else() {
    for score in scores() {
        let simple = score.on_one_chord(None, 4);
        assert_eq!(simple.bars, score.bars[..score.bars.len().min(4)]);
        assert_eq!(simple.changes.len(), 1);
        let shape = score.longest().expect("the demos have chords");
        assert!(simple.slots.iter().all(|slot| slot.shape == Some(shape) && slot.at < simple.length));
        let actions = |score: &Score| -> Vec<Action> {
            score.slots.iter().filter(|slot| slot.at < simple.length).map(|slot| slot.stroke.action).collect()
        };
        assert_eq!(actions(&simple), actions(&score));
        assert!(simple.lines.is_empty());
    }
}

#[test]
fn the_chord_asked_for_is_taken_and_one_that_is_not_there_is_not() {
    let score = &scores()[0];
    let last = score.shapes.len() - 1;
    assert_eq!(score.on_one_chord(Some(last), 1).changes[0].shape, Some(last));
    assert_eq!(score.on_one_chord(Some(last + 1), 1).changes[0].shape, score.longest());
}
