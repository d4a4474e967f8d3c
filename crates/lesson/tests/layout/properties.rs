//! What holds for every stretch, whatever it is made of.

use crate::built::{except, lesson, meter, optional, pattern, play, section, times};
use proptest::prelude::{Just, Strategy, any, prop, prop_assert, prop_assert_eq, prop_oneof, proptest};
use sixrung_lesson::{Arrangement, Entry, Grid, Lesson, Meter, Occasion, Pattern, Stretch, Tick, layout, section_bars};

const SWUNG: Grid = Grid::SwungEighths { long: 3, short: 2 };

/// A pattern of `halves` half bars on a grid, its last slot a change point if `early`.
fn filled(name: &str, meter: Meter, grid: Grid, halves: u32, early: bool) -> Pattern {
    let slots = meter.bar().0 * halves / 2 / grid.slot_start(grid.per_quarter()).0 * grid.per_quarter();
    let mut strokes = vec!["D"; slots as usize];
    if early {
        *strokes.last_mut().expect("a half bar has a slot") = "^U";
    }
    pattern(name, grid, &strokes.join(" "))
}

fn entry() -> impl Strategy<Value = Entry> {
    let chord = prop_oneof![Just("D"), Just("A"), Just("Bm"), Just("N.C.")];
    let name = prop_oneof![Just("bar"), Just("two bars"), Just("swung"), Just("fine early"), Just("triplets")];
    // Two halves side by side always make a bar.
    (chord, name, 1_u16..4, any::<bool>()).prop_map(|(chord, name, number, last)| {
        let exceptions = [(Occasion::Last, play("G", name))];
        except(number, chord, name, if last { &exceptions } else { &[] })
    })
}

fn piece() -> impl Strategy<Value = Entry> {
    let halves = (1_u16..3).prop_map(|bars| times(2 * bars, "A", "half"));
    let option = (1_u16..3)
        .prop_map(|bars| optional("more", vec![times(bars, "D", "fine early")], vec![times(bars, "A", "bar")]));
    prop_oneof![4 => entry(), 1 => halves, 1 => option]
}

fn any_lesson() -> impl Strategy<Value = Lesson> {
    let meters = prop_oneof![Just(meter(4, 4)), Just(meter(2, 4)), Just(meter(6, 4)), Just(meter(12, 8))];
    let sections = prop::collection::vec(prop::collection::vec(piece(), 1..5), 1..4);
    (meters, sections).prop_map(|(meter, sections)| {
        let patterns = vec![
            filled("bar", meter, Grid::Eighths, 2, false),
            filled("half", meter, Grid::Quarters, 1, false),
            filled("two bars", meter, Grid::Eighths, 4, false),
            filled("swung", meter, SWUNG, 2, true),
            filled("fine early", meter, Grid::Sixteenths, 2, true),
            filled("triplets", meter, Grid::Triplets, 2, false),
        ];
        let named = (0..).zip(sections).map(|(number, entries): (u32, _)| section(&number.to_string(), entries));
        lesson(meter, patterns, named.collect())
    })
}

fn arrangements() -> [Arrangement; 2] {
    let plain = Arrangement::default();
    [plain.clone(), Arrangement { options: vec!["more".to_owned()], stand_ins: true, ..plain }]
}

proptest! {
    #[test]
    fn bars_and_slots_follow_without_gaps_and_slots_stay_in_their_bars(lesson in any_lesson()) {
        for arrangement in arrangements() {
            let score = layout(&lesson, &Stretch::Whole, &arrangement).expect("it can be laid out");
            let mut end = Tick::ZERO;
            for bar in &score.bars {
                prop_assert_eq!(bar.start, end);
                end += bar.meter.bar();
            }
            prop_assert_eq!(end, score.length);
            let mut end = Tick::ZERO;
            for slot in &score.slots {
                prop_assert_eq!(slot.at, end);
                end += slot.length;
                let bar = &score.bars[slot.bar];
                prop_assert!(bar.start <= slot.at && end <= bar.start + bar.meter.bar());
            }
            prop_assert_eq!(end, score.length);
        }
    }

    #[test]
    fn options_in_or_out_the_piece_is_as_long(lesson in any_lesson()) {
        let [plain, full] = arrangements();
        let lengths = [&plain, &full].map(|arrangement| {
            layout(&lesson, &Stretch::Whole, arrangement).expect("it can be laid out").length
        });
        prop_assert_eq!(lengths[0], lengths[1]);
    }

    #[test]
    fn changes_are_real_and_begin_at_the_start(lesson in any_lesson()) {
        let score = layout(&lesson, &Stretch::Whole, &Arrangement::default()).expect("it can be laid out");
        prop_assert_eq!(score.changes[0].at, Tick::ZERO);
        for pair in score.changes.windows(2) {
            prop_assert!(pair[0].at < pair[1].at && pair[0].shape != pair[1].shape);
        }
        for slot in &score.slots {
            let now = score.changes.partition_point(|change| change.at <= slot.at) - 1;
            prop_assert_eq!(score.changes[now].shape, slot.shape);
            prop_assert_eq!(slot.stroke.changes, score.changes[now].at == slot.at);
        }
    }

    #[test]
    fn the_bars_of_a_section_looped_one_by_one_are_the_section(lesson in any_lesson()) {
        let plain = Arrangement::default();
        let name = lesson.sections[0].name.clone();
        let all = layout(&lesson, &Stretch::Section(name.clone()), &plain).expect("it can be laid out");
        let bars = section_bars(&lesson, &name, &plain).expect("it can be laid out");
        prop_assert_eq!(bars as usize, all.bars.len());
        for first in 0..bars {
            let stretch = Stretch::Bars { section: name.clone(), first, end: first + 1 };
            let one = layout(&lesson, &stretch, &plain).expect("it can be laid out");
            let whole = &all.bars[first as usize];
            prop_assert_eq!((one.bars[0].number, one.length), (first, whole.meter.bar()));
            let strokes = all.slots.iter().filter(|slot| slot.bar == first as usize).map(|slot| slot.stroke.action);
            prop_assert!(one.slots.iter().map(|slot| slot.stroke.action).eq(strokes));
        }
    }
}
