//! Fills a journal with a made-up month, the same for the same seed, and draws the page that looks back on it, through the
//! real window on simulated devices: `cargo run -p sixrung-tests --example journal_pictures -- FOLDER [LOOK] [SCREEN]`.

use egui::Key;
use sixrung::stand::{Intent, JournalWish};
use sixrung_tests::evening::Evening;
use sixrung_tests::made_up_month;
use sixrung_tests::pictures::{Shown, Wanted};

fn main() {
    let wanted = Wanted::from_arguments("journal");
    for shown in wanted.looks() {
        evening(&wanted, &shown);
    }
}

fn evening(wanted: &Wanted, shown: &Shown) {
    let shoot = |evening: &mut Evening, what: &str| wanted.shoot(evening, shown, &format!("journal-{what}"));
    let unused = tempfile::tempdir().expect("a folder for the journal");
    let mut evening = shown.evening(unused.path());
    evening.wish(Intent::DismissNote(0));
    evening.harness.key_press(Key::V);
    shoot(&mut evening, "0-nothing-yet");
    drop(evening);

    let journal = tempfile::tempdir().expect("a folder for the journal");
    let passes = made_up_month::fill(journal.path(), 1).expect("filled");
    println!("{passes} passes in the made-up month");
    let mut evening = shown.evening(journal.path());
    evening.wish(Intent::DismissNote(0));
    evening.harness.key_press(Key::V);
    shoot(&mut evening, "1-verse");
    evening.harness.key_press(Key::Num3);
    shoot(&mut evening, "2-chorus");
    evening.wish(Intent::Journal(JournalWish::Older));
    evening.wish(Intent::Journal(JournalWish::Open(2)));
    shoot(&mut evening, "3-pass");
    evening.wish(Intent::Journal(JournalWish::TakeOut));
    evening.wish(Intent::Journal(JournalWish::Span));
    shoot(&mut evening, "4-three-months");
    evening.wish(Intent::Journal(JournalWish::Span));
    evening.wish(Intent::Journal(JournalWish::PutBack));
    evening.wish(Intent::Journal(JournalWish::BackUp));
    evening.wish(Intent::Journal(JournalWish::AddPlayer("Ana".to_owned())));
    shoot(&mut evening, "5-another-player");
}
