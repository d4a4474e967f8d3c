//! The page that looks back, in the real window: what it shows is what the journal holds, and every wish on it works by key
//! or press.

use egui::Key;
use egui_kittest::kittest::Queryable as _;
use sixrung::pages::{JournalPage, PageView};
use sixrung::stand::{Intent, JournalWish};
use sixrung::text::journal as text;
use sixrung_practice::Moment;
use sixrung_tests::evening::{BEGIN, Evening};
use sixrung_tests::made_up_month;

fn page(evening: &Evening) -> JournalPage {
    match evening.studio().page_view(Moment(BEGIN.0 + 5)) {
        Some(PageView::Journal(page)) => *page,
        other => panic!("another page: {other:?}"),
    }
}

fn press(evening: &mut Evening, name: &str) {
    evening.harness.get_by_label(name).click();
    evening.run_tenths(2);
}

fn key(evening: &mut Evening, key: Key) {
    evening.harness.key_press(key);
    evening.run_tenths(2);
}

#[test]
fn with_nothing_played_the_page_says_what_will_be_here_and_what_starts_it() {
    let folder = tempfile::tempdir().expect("a folder");
    let mut evening = Evening::begin(folder.path());
    key(&mut evening, Key::V);
    evening.harness.get_by_label(text::NOTHING);
    assert_eq!(page(&evening).passes, []);
}

#[test]
fn a_month_is_shown_a_pass_is_opened_taken_out_and_put_back() {
    let folder = tempfile::tempdir().expect("a folder");
    let count = made_up_month::fill(folder.path(), 1).expect("filled");
    let mut evening = Evening::begin(folder.path());
    key(&mut evening, Key::V);
    let first = page(&evening);
    assert!(first.sections[0].reached.len() >= 15, "{:?}", first.sections[0]);
    assert!(!first.sections[0].held.is_empty() && !first.offsets.is_empty());
    // The hard bars of the made-up verse are its third and fifth.
    let trouble: Vec<f32> = first.sections[0].trouble.iter().map(|share| share.expect("heard")).collect();
    assert_eq!(trouble.len(), 8);
    let easy = [0, 1, 3, 5, 6, 7].map(|bar| trouble[bar]).into_iter().fold(0.0, f32::max);
    assert!(trouble[2].max(trouble[4]) > easy, "{trouble:?}");
    assert_eq!(first.changes[0].name, "G – D", "the slowest first");
    let played: f32 = first.minutes.iter().map(|(_, minutes)| minutes).sum();
    #[expect(clippy::cast_precision_loss, reason = "some hundred")]
    let most = count as f32 / 2.0;
    assert!(played > 10.0 && played < most, "{played} minutes of {count} passes under half a minute");

    key(&mut evening, Key::Num3);
    assert_eq!(page(&evening).chosen, 2);
    key(&mut evening, Key::ArrowLeft);
    assert_eq!(page(&evening).chosen, 1);
    key(&mut evening, Key::ArrowRight);
    press(&mut evening, "Verse");
    assert_eq!(page(&evening).chosen, 0);

    let item = &first.passes[1];
    press(&mut evening, &format!("{}, {}, {}", item.when, item.what, item.outcome));
    let opened = page(&evening).opened.expect("opened");
    let plot = opened.plot.expect("heard");
    assert_eq!(plot.bar_lines.len(), 7, "eight bars");
    assert!(plot.chords.iter().any(|chord| chord.name == "A"));
    press(&mut evening, text::TAKE_OUT);
    let without = page(&evening);
    assert_eq!(
        (without.passes[0].clone(), without.passes[1].clone()),
        (first.passes[0].clone(), first.passes[2].clone())
    );
    press(&mut evening, &text::put_back(1));
    assert_eq!(page(&evening).passes, first.passes);
    press(&mut evening, text::OLDER);
    assert!(page(&evening).passes.iter().all(|pass| !first.passes.contains(pass)));
    press(&mut evening, text::NEWER);
    assert_eq!(page(&evening).passes, first.passes);
}

#[test]
fn another_player_begins_with_nothing_and_the_first_finds_everything_again() {
    let folder = tempfile::tempdir().expect("a folder");
    made_up_month::fill(folder.path(), 1).expect("filled");
    let mut evening = Evening::begin(folder.path());
    key(&mut evening, Key::V);
    let (mine, rung) = (page(&evening), evening.rung());
    evening.wish(Intent::Journal(JournalWish::AddPlayer("Ana".to_owned())));
    evening.run_tenths(2);
    let hers = page(&evening);
    assert_eq!(hers.players, [("me".to_owned(), false), ("Ana".to_owned(), true)]);
    assert_eq!((hers.passes.len(), hers.minutes.len()), (0, 0));
    assert_ne!(evening.rung(), rung, "she begins on the first rung");
    press(&mut evening, "me");
    assert_eq!((page(&evening).passes, evening.rung()), (mine.passes, rung));
}

#[test]
fn tables_and_a_copy_are_written_beside_the_journal_and_their_place_is_told() {
    let folder = tempfile::tempdir().expect("a folder");
    made_up_month::fill(folder.path(), 1).expect("filled");
    // Tall enough that the foot of the page is in sight.
    let mut evening = Evening::in_window(folder.path(), [1280.0, 1600.0]);
    key(&mut evening, Key::V);
    press(&mut evening, text::EXPORT);
    for name in ["passes-2026-11-24.csv", "changes-2026-11-24.csv", "journal-2026-11-24.json"] {
        assert!(folder.path().join(name).exists(), "{name}");
    }
    press(&mut evening, text::BACK_UP);
    let copy = folder.path().join("journal-copy-2026-11-24.sqlite");
    assert!(copy.exists());
    assert_eq!(page(&evening).said, text::written(&copy));
    // Another player's tables of the same day lie beside them.
    let mine = std::fs::read(folder.path().join("passes-2026-11-24.csv")).expect("there");
    evening.wish(Intent::Journal(JournalWish::AddPlayer("Ana".to_owned())));
    evening.run_tenths(2);
    press(&mut evening, text::EXPORT);
    let still = std::fs::read(folder.path().join("passes-2026-11-24.csv")).expect("there");
    assert!(still == mine, "mine were written over");
    let hers = std::fs::read(folder.path().join("passes-2026-11-24-2.csv")).expect("there");
    assert!(hers.len() < mine.len());
}
