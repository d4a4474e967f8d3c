//! Steps: their order, and what is done stays done.

use sixrung_practice::{Done, Moment, Step, StepsDone};

#[test]
fn each_step_follows_the_one_before_and_nothing_follows_the_last() {
    for pair in Step::ALL.windows(2) {
        assert_eq!(pair[0].next(), Some(pair[1]));
        assert!(pair[0] < pair[1]);
    }
    assert_eq!(Step::Sing.next(), None);
}

#[test]
fn the_next_step_is_the_first_that_is_open() {
    let mut steps = StepsDone::default();
    assert_eq!(steps.next(), Some(Step::Shapes));
    steps.set(Step::Shapes, Done::Skipped, Moment(1));
    steps.set(Step::OneStroke, Done::Heard, Moment(2));
    assert_eq!(steps.next(), Some(Step::Changes));
    for step in Step::ALL {
        steps.set(step, Done::SelfMarked, Moment(3));
    }
    assert_eq!(steps.next(), None);
    // Once skipped and then done is done; once heard is not made less by a mark.
    assert_eq!(steps.of(Step::Shapes), Some(Done::SelfMarked));
    assert_eq!(steps.of(Step::OneStroke), Some(Done::Heard));
}
