//! A chord is named on the sheet at least 1.3 s, better a bar, before it sounds (Furneaux & Land 1999).

use crate::support::{compiled, demos, request};

#[test]
fn every_chord_of_every_demo_is_named_in_time_at_every_tempo() {
    for lesson in demos() {
        for bpm in 40..=240 {
            let plan = compiled(&lesson, &request(f64::from(bpm)));
            assert!(!plan.cues.is_empty());
            for (number, cue) in plan.cues.iter().enumerate() {
                assert_eq!(cue.change, number);
                let ahead = plan.timeline.grid.seconds(cue.ahead);
                assert!(ahead >= 1.3 - 1e-9, "{} at {bpm}: {ahead} s", lesson.title);
                // The shortest bar of the demos has two quarters.
                assert!(cue.ahead.0 >= 1920);
            }
        }
    }
}

#[test]
fn a_bar_ahead_where_that_is_longer_and_else_just_enough() {
    let lantern = demos().next().expect("a demo");
    let ahead = |bpm| compiled(&lantern, &request(bpm)).cues[1].ahead.0;
    assert_eq!(ahead(126.0), 3840);
    // At 240 bpm 1.3 s are 5.2 quarters.
    assert_eq!(ahead(240.0), 4992);
}
