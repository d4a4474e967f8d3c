//! The guide in the window: it opens by its key, is walked by keys alone, follows every choice, and is written where
//! files for people lie without touching what was written before.

use egui::{Key, Modifiers};
use egui_kittest::kittest::{NodeT as _, Queryable as _};
use sixrung::pages::{GuidePage, PageView};
use sixrung::stand::{GuideWish, Intent, Page};
use sixrung::text::guide_page as text;
use sixrung_exchange::guide::{Paper, Print};
use sixrung_practice::Moment;
use sixrung_tests::evening::{BEGIN, Evening};

fn page(evening: &Evening) -> GuidePage {
    match evening.studio().page_view(Moment(BEGIN.0 + 5)) {
        Some(PageView::Guide(page)) => *page,
        other => panic!("another page: {other:?}"),
    }
}

fn open(evening: &mut Evening) {
    evening.harness.key_press_modifiers(Modifiers::COMMAND, Key::P);
    evening.run_tenths(2);
    assert_eq!(evening.studio().page(), Some(Page::Guide));
}

fn key(evening: &mut Evening, key: Key) {
    evening.harness.key_press(key);
    evening.run_tenths(2);
}

fn press(evening: &mut Evening, name: &str) {
    evening.harness.get_by_label(name).click();
    evening.run_tenths(2);
}

#[test]
fn arrows_and_pedals_turn_the_pages_and_stop_at_both_ends() {
    let folder = tempfile::tempdir().expect("a folder");
    let mut evening = Evening::begin(folder.path());
    open(&mut evening);
    let count = page(&evening).guide.expect("laid out").pages.len();
    assert!(count > 1);
    evening.harness.get_by_label(&text::page_name(1, count, "Lantern on the Quay"));
    key(&mut evening, Key::ArrowLeft);
    assert_eq!(page(&evening).page, 0);
    for at in [Key::PageDown, Key::ArrowRight, Key::Space, Key::ArrowDown] {
        key(&mut evening, at);
    }
    assert_eq!(page(&evening).page, count - 1);
    evening.harness.get_by_label(&text::page_name(count, count, "Lantern on the Quay"));
    key(&mut evening, Key::PageUp);
    assert_eq!(page(&evening).page, count - 2);
    // Half pages: every page twice, up to the lower half of the last.
    evening.wish(Intent::Guide(GuideWish::Closer));
    assert_eq!((page(&evening).page, page(&evening).closer), (count - 2, Some(false)));
    for expected in
        [(count - 2, Some(true)), (count - 1, Some(false)), (count - 1, Some(true)), (count - 1, Some(true))]
    {
        key(&mut evening, Key::PageDown);
        assert_eq!((page(&evening).page, page(&evening).closer), expected);
    }
    key(&mut evening, Key::Escape);
    assert_eq!(evening.studio().page(), None);
}

#[test]
fn the_page_itself_takes_the_keyboard_and_everything_on_it_is_read_out() {
    let folder = tempfile::tempdir().expect("a folder");
    let mut evening = Evening::begin(folder.path());
    open(&mut evening);
    let count = page(&evening).guide.expect("laid out").pages.len();
    evening.harness.get_by_label(&text::page_name(1, count, "Lantern on the Quay")).focus();
    evening.run_tenths(2);
    for (turn, expected) in [(Key::ArrowRight, 1), (Key::ArrowDown, 2), (Key::ArrowLeft, 1), (Key::ArrowUp, 0)] {
        key(&mut evening, turn);
        assert_eq!(page(&evening).page, expected, "{turn:?}: it keeps the keyboard while it is turned");
    }
    let labels = |evening: &Evening| -> Vec<String> {
        let nodes = evening.harness.root().children_recursive();
        nodes.filter_map(|node| node.accesskit_node().label().or_else(|| node.accesskit_node().value())).collect()
    };
    let read = labels(&evening);
    for expected in ["Chords", "Strokes"] {
        assert!(read.iter().any(|label| label == expected), "{expected} is not in {read:?}");
    }
    assert!(
        read.iter().any(|label| label.starts_with("D: ") && label.contains("string 6 silent, by the thumb")),
        "{read:?}"
    );
    assert!(read.iter().any(|label| label.starts_with("plain, eighths: 1 D; & past the strings")), "{read:?}");
}

#[test]
fn every_choice_lays_it_out_anew_and_paper_and_print_are_kept() {
    let folder = tempfile::tempdir().expect("a folder");
    let mut evening = Evening::begin(folder.path());
    open(&mut evening);
    let usual = page(&evening).guide.expect("laid out");
    assert_eq!(usual.size, Paper::A4.points());
    press(&mut evening, text::paper(Paper::Letter));
    let letter = page(&evening).guide.expect("laid out");
    assert_eq!(letter.size, Paper::Letter.points());
    press(&mut evening, text::print(Print::Large));
    let large = page(&evening).guide.expect("laid out");
    assert!(large.pages.len() > letter.pages.len());
    key(&mut evening, Key::H);
    assert_ne!(page(&evening).guide.expect("laid out"), large, "mirrored");
    key(&mut evening, Key::Num2);
    assert!(page(&evening).arrangements[1].1, "{:?}", page(&evening).arrangements);
    // While nothing is chosen, nothing is laid out: it is the same one.
    let first = page(&evening).guide.expect("laid out");
    evening.run_tenths(30);
    assert!(std::sync::Arc::ptr_eq(&first, &page(&evening).guide.expect("laid out")));
    key(&mut evening, Key::Escape);
    open(&mut evening);
    let again = page(&evening);
    assert_eq!((again.paper, again.print), (Paper::Letter, Print::Large));
    assert!(again.arrangements[0].1, "as the stand plays it");
}

#[test]
fn it_is_written_its_place_is_told_and_no_other_file_is_touched() {
    let folder = tempfile::tempdir().expect("a folder");
    let mut evening = Evening::begin(folder.path());
    open(&mut evening);
    let file = |name: &str| folder.path().join(name);
    let first = file("guide-lantern-on-the-quay-plain-a4-2026-11-24.pdf");
    std::fs::write(&first, b"somebody else's").expect("written");
    press(&mut evening, text::WRITE);
    assert_eq!(std::fs::read(&first).expect("there"), b"somebody else's");
    let second = file("guide-lantern-on-the-quay-plain-a4-2026-11-24-2.pdf");
    assert!(std::fs::read(&second).expect("there").starts_with(b"%PDF"));
    assert_eq!(page(&evening).said, text::written(&second));
    evening.harness.get_by_label(&text::written(&second));
    press(&mut evening, text::WRITE);
    assert_eq!(page(&evening).said, text::written(&second), "the same again has the same place");
    let guides = || std::fs::read_dir(folder.path()).expect("the folder").flatten();
    assert_eq!(guides().filter(|entry| entry.path().extension().is_some_and(|ending| ending == "pdf")).count(), 2);
}
