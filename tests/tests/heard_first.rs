//! The part is played first at a new rung, and then the player's passes begin by themselves.

use egui::Key;
use sixrung::stand::{Intent, Phase};
use sixrung_tests::evening::Evening;

/// Runs until the phase is another, and gives it.
fn until(evening: &mut Evening, wanted: fn(&Phase) -> bool) -> Phase {
    for _ in 0..1200 {
        evening.run_tenths(1);
        let phase = evening.view().phase;
        if wanted(&phase) {
            return phase;
        }
    }
    panic!("still {:?} after two minutes", evening.view().phase);
}

const fn listens(phase: &Phase) -> bool {
    matches!(phase, Phase::ListenFirst)
}

const fn plays(phase: &Phase) -> bool {
    matches!(phase, Phase::Playing)
}

#[test]
fn first_heard_then_played_and_again_at_the_next_rung() {
    let folder = tempfile::tempdir().expect("a folder for the journal");
    let mut evening = Evening::begin(folder.path());
    evening.wish(Intent::HearFirst(true));
    evening.harness.key_press(Key::Space);
    until(&mut evening, listens);
    assert!(evening.view().result.is_none());
    // No key is pressed: the count-in follows, and the pass.
    until(&mut evening, plays);
    while evening.rung() == "76" {
        evening.next_result();
    }
    assert_eq!(evening.rung(), "84");
    until(&mut evening, listens);
    // Who has heard enough goes on at once.
    evening.harness.key_press(Key::Space);
    until(&mut evening, plays);
    let result = evening.next_result();
    assert_eq!(result.headline, "Clean.");
    // At a rung that was played it is not heard again.
    until(&mut evening, |phase| plays(phase) || listens(phase));
    assert_eq!(evening.view().phase, Phase::Playing);
}

#[test]
fn only_when_asked_for_where_the_player_wants_that() {
    let folder = tempfile::tempdir().expect("a folder for the journal");
    let mut evening = Evening::begin(folder.path());
    evening.harness.key_press(Key::Space);
    assert!(plays(&until(&mut evening, |phase| plays(phase) || listens(phase))));
    evening.harness.key_press(Key::Space);
    evening.run_tenths(2);
    evening.harness.key_press(Key::L);
    until(&mut evening, listens);
    // Then the stand waits for the player.
    let is_over = |phase: &Phase| !listens(phase) && !matches!(phase, Phase::CountIn { .. } | Phase::Between);
    assert_eq!(until(&mut evening, is_over), Phase::Idle);
}
