//! Somebody who never opened the program: one key, and in a minute they have heard the demo, were heard, and know why
//! they did not climb yet; by the program's own time.

use egui::Key;
use sixrung_tests::evening::Evening;

#[test]
fn one_key_and_in_a_minute_heard_played_and_told() {
    let folder = tempfile::tempdir().expect("a folder for the journal");
    let mut evening = Evening::first_start(folder.path());
    let view = evening.view();
    assert_eq!((view.place.bars, view.is_new), (Some((1, 4)), true));
    evening.harness.key_press(Key::Space);
    let mut seen = Vec::new();
    let mut tenths = 0;
    let result = loop {
        evening.run_tenths(1);
        tenths += 1;
        let view = evening.view();
        let phase = format!("{:?}", view.phase).split([' ', '(']).next().unwrap_or_default().to_owned();
        if seen.last().map(|(phase, _)| phase) != Some(&phase) {
            seen.push((phase, tenths));
        }
        match view.result {
            Some(result) if result.headline != "Not judged." => break result,
            _ => assert!(tenths < 1200, "{seen:?}"),
        }
    };
    println!("{seen:?}: {} after {} s", result.headline, f64::from(tenths) / 10.0);
    assert!(tenths <= 600, "{seen:?}");
    assert_eq!(result.headline, "Clean.");
    // Why they did not climb: so many clean passes are still to come.
    assert_eq!(evening.view().ladder.sentence, "two more clean passes to 84");
    assert!(!evening.view().is_new);
}
