//! Breaks, rests between passes and the pain question.

use sixrung_practice::{
    Asked, BreakDue, BreakRules, Care, CareEvent, CareInput, Felt, Moment, PainFlag, Permission, Policy, UtcOffset,
};

const DAY: i64 = 86_400;
const NOW: Moment = Moment(100 * DAY + 8 * 3600);
const ZONE: UtcOffset = UtcOffset(0);

fn update(care: &mut Care, input: CareInput, now: Moment) -> Vec<CareEvent> {
    care.update(input, &BreakRules::default(), now)
}

const fn minutes(minutes: u32) -> CareInput {
    CareInput::Played { seconds: minutes * 60 }
}

#[test]
fn the_question_comes_with_each_break_and_whenever_the_player_says() {
    let mut care = Care::default();
    assert_eq!(update(&mut care, minutes(24), NOW), []);
    let due = BreakDue::Suggested { played_min: 25 };
    let now = Moment(NOW.0 + 60);
    assert_eq!(update(&mut care, minutes(1), now), [CareEvent::Break(due), CareEvent::Ask(Asked::AtBreak)]);
    assert_eq!(care.asking(), Some(Asked::AtBreak));
    assert_eq!(update(&mut care, CareInput::Answer(Felt::Fine), now), []);
    assert_eq!(care.asking(), None);
    let now = Moment(now.0 + 25 * 60);
    let due = BreakDue::Firm { played_min: 50 };
    assert_eq!(update(&mut care, minutes(25), now), [CareEvent::Break(due), CareEvent::Ask(Asked::AtFirmPrompt)]);
    assert_eq!(update(&mut care, CareInput::BringUp, now), [CareEvent::Ask(Asked::ByPlayer)]);
    assert_eq!(update(&mut care, CareInput::Answer(Felt::Sore), now), [CareEvent::SoreIsCommon]);
    assert_eq!(care.permission(now, ZONE), Permission::Free);
    assert_eq!(care.pain(), None, "sore fingertips are no flag");
}

#[test]
fn pain_stops_the_day_and_is_recorded() {
    let mut care = Care::default();
    update(&mut care, CareInput::BringUp, NOW);
    let flag = PainFlag { at: NOW, overruled: None };
    assert_eq!(update(&mut care, CareInput::Answer(Felt::Pain), NOW), [CareEvent::Stopped(flag)]);
    let later = |hours: i64| Moment(NOW.0 + hours * 3600);
    // Till four in the morning it is the same day.
    for (hours, expected) in [
        (0, Permission::StoppedToday { since: NOW }),
        (19, Permission::StoppedToday { since: NOW }),
        (20, Permission::AskFirst { since: NOW }),
        (300, Permission::AskFirst { since: NOW }),
    ] {
        assert_eq!(care.permission(later(hours), ZONE), expected, "{hours} h");
        assert_eq!(Care::resume(care.pain()).permission(later(hours), ZONE), expected, "{hours} h, resumed");
    }
}

#[test]
fn only_the_player_overrules_and_that_is_recorded_too() {
    let mut care = Care::default();
    assert_eq!(update(&mut care, CareInput::PlayAnyway, NOW), [], "nothing to overrule");
    update(&mut care, CareInput::Answer(Felt::Pain), NOW);
    update(&mut care, CareInput::Answer(Felt::Fine), NOW);
    assert_ne!(care.permission(NOW, ZONE), Permission::Free, "a later answer does not undo it");
    let later = Moment(NOW.0 + DAY);
    let flag = PainFlag { at: NOW, overruled: Some(later) };
    assert_eq!(update(&mut care, CareInput::PlayAnyway, later), [CareEvent::GoesOn(flag)]);
    assert_eq!(care.permission(later, ZONE), Permission::Free);
    assert_eq!(update(&mut care, CareInput::PlayAnyway, later), []);
    update(&mut care, CareInput::Answer(Felt::Pain), later);
    assert_eq!(care.permission(later, ZONE), Permission::StoppedToday { since: later });
}

#[test]
fn ten_seconds_of_rest_lie_between_passes() {
    let policy = Policy::default();
    let mut care = Care::default();
    assert_eq!(care.rest_left_s(&policy, NOW), 0, "nothing was played");
    update(&mut care, CareInput::Played { seconds: 30 }, NOW);
    for (after_s, left_s) in [(0, 10), (4, 6), (10, 0), (1000, 0), (-50, 10)] {
        assert_eq!(care.rest_left_s(&policy, Moment(NOW.0 + after_s)), left_s, "{after_s} s");
    }
}
