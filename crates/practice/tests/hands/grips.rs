//! Fingerings: the teacher's, and those a hand can take.

use sixrung_lesson::{Finger, Shape, StringUse};
use sixrung_practice::hands::{Grip, ShapeParts, fingerings};

use crate::shapes::{COMMON, common, shape, usual};

/// A letter a string, as a lesson writes it.
fn text(on: &Shape, grip: &Grip) -> String {
    grip.on(on).fingers.iter().map(|finger| finger.map_or('-', Finger::letter)).collect()
}

fn all(frets: &str, fingers: &str) -> Vec<String> {
    let shape = shape("it", frets, fingers);
    fingerings(&shape, 0).iter().map(|grip| text(&shape, grip)).collect()
}

#[test]
fn the_teachers_fingering_wins() {
    for (name, _, fingers) in COMMON {
        let shape = common(name);
        assert_eq!(fingerings(&shape, 0).iter().map(|grip| text(&shape, grip)).collect::<Vec<_>>(), [fingers]);
    }
    // However odd it is: the little finger below the ring finger, a reach of six frets, the thumb.
    assert_eq!(all("x02220", "--431-"), ["--431-"]);
    assert_eq!(all("100007", "1----4"), ["1----4"]);
    assert_eq!(all("2x0232", "T--132"), ["T--132"]);
}

#[test]
fn fingers_named_in_part_are_kept() {
    let found = all("x02220", "---1--");
    assert!(found.contains(&"--213-".to_owned()), "{found:?}");
    assert!(found.iter().all(|fingers| fingers.chars().nth(3) == Some('1')), "{found:?}");
    let found = all("2x0232", "T-----");
    assert!(!found.is_empty() && found.iter().all(|fingers| fingers.starts_with('T')), "{found:?}");
    assert!(all("2x0232", "").iter().all(|fingers| !fingers.contains('T')), "the thumb only where it is named");
}

#[test]
fn a_barre_stops_what_the_lesson_says_it_stops() {
    let f = usual("F");
    let index = f.hold(Finger::Index).expect("finger 1 is in use");
    assert_eq!((index.fret, index.from, index.to), (1, 0, 5));
    // A barre given without a finger for each of its strings.
    let mut small = shape("F", "xx3211", "--32--");
    small.barres = common("Fsmall").barres;
    assert_eq!(small.barres.len(), 1);
    assert_eq!(text(&small, &Grip::given(&small).expect("all strings are given")), "--3211");
}

#[test]
fn what_is_not_fingered_in_full_or_at_one_fret_is_no_grip() {
    assert_eq!(Grip::given(&shape("D", "xx0232", "---1-2")), None);
    assert_eq!(Grip::given(&shape("D", "xx0232", "---122")), None);
    assert_eq!(all("000000", ""), ["------"], "nothing to hold is one way to hold it");
}

#[test]
fn the_usual_fingering_is_among_the_four_easiest() {
    let mut first = 0;
    for (name, frets, fingers) in COMMON {
        let found = all(frets, "");
        let place = found.iter().position(|own| own == fingers);
        assert!(place.is_some_and(|place| place < 4), "{name}: {fingers} is at {place:?} of {found:?}");
        first += usize::from(place == Some(0));
    }
    println!("the usual fingering is the easiest of all for {first} of {}", COMMON.len());
    assert!(first * 2 > COMMON.len(), "the usual fingering is the easiest for {first} only");
}

#[test]
fn a_with_finger_1_in_the_middle_is_offered() {
    // Common practice: it keeps finger 1 on string 3 between A and D.
    assert!(all("x02220", "").contains(&"--213-".to_owned()));
}

#[test]
fn every_fingering_is_one_a_hand_can_take() {
    for (name, frets, _) in COMMON {
        for capo in [0, 3, 7] {
            let bare = shape(name, frets, "");
            let found = fingerings(&bare, capo);
            assert!(!found.is_empty(), "{name}");
            for grip in &found {
                sound(&bare, grip, capo);
            }
            let mut once = found.clone();
            once.sort();
            once.dedup();
            assert_eq!(once.len(), found.len(), "{name} has each fingering once");
            let costs: Vec<f64> = found.iter().map(|grip| ShapeParts::of(&bare, grip, capo).cost()).collect();
            assert!(costs.is_sorted() && costs[0] >= 0.0, "{name}: the easiest first");
        }
    }
}

/// Holds a grip against the frets it is to stop.
fn sound(shape: &Shape, grip: &Grip, capo: u8) {
    let name = text(shape, grip);
    for (string, used) in shape.strings.iter().enumerate() {
        let over: Vec<u8> =
            grip.holds().iter().filter(|hold| (hold.from..=hold.to).contains(&string)).map(|hold| hold.fret).collect();
        match used {
            StringUse::Fret(fret) => {
                assert_eq!(over.iter().max(), Some(fret), "{name}: string {string} sounds its fret");
            }
            StringUse::Open => assert!(over.is_empty(), "{name}: string {string} rings open"),
            StringUse::Muted => {}
        }
    }
    let frets: Vec<u8> = grip.holds().iter().map(|hold| hold.fret).collect();
    assert!(frets.is_sorted(), "{name}: fingers keep their order along the neck");
    assert!(grip.holds().len() <= 4 && grip.span_mm(capo) <= 110.0, "{name}: within reach");
}

#[test]
fn what_no_hand_can_take_has_no_fingering() {
    // Five separate frets; six frets at the nut.
    assert!(all("012345", "").is_empty());
    assert!(all("1x0007", "").is_empty());
    // Six frets apart high up the neck are 110 mm and less.
    let bare = shape("it", "1xxxx5", "");
    assert!(fingerings(&bare, 0).is_empty() && !fingerings(&bare, 7).is_empty());
}

#[test]
fn a_drawn_grip_is_read_back() {
    for (name, ..) in COMMON {
        let (shape, grip) = (common(name), usual(name));
        assert_eq!(Grip::given(&grip.on(&shape)), Some(grip.clone()), "{name}");
        assert_eq!(grip.on(&shape), shape, "{name}");
    }
}
