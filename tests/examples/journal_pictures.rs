//! Fills a journal with a made-up month, the same for the same seed, and draws the page that looks back on it, through the
//! real window on simulated devices: `cargo run -p sixrung-tests --example journal_pictures -- FOLDER [PART OF A NAME]`.

use std::path::{Path, PathBuf};

use egui::Key;
use sixrung::stand::{Intent, JournalWish};
use sixrung::theme::{Hand, Look, Sheet};
use sixrung_tests::evening::Evening;
use sixrung_tests::made_up_month;

fn main() {
    let folder = PathBuf::from(std::env::args().nth(1).unwrap_or_else(|| "journal".to_owned()));
    let only = std::env::args().nth(2).unwrap_or_default();
    std::fs::create_dir_all(&folder).expect("the folder can be made");
    let light = Look::default();
    let looks = [
        ("light", [1280.0, 800.0], light),
        ("dark", [1280.0, 800.0], Look { sheet: Sheet::Dark, ..light }),
        ("contrast", [1280.0, 800.0], Look { sheet: Sheet::ContrastDark, hand: Hand::Left, ..light }),
        ("small", [960.0, 600.0], light),
        ("hd", [1920.0, 1080.0], light),
    ];
    for (name, size, look) in looks.into_iter().filter(|(name, ..)| name.contains(&only)) {
        evening(&folder, name, size, look);
    }
}

fn evening(folder: &Path, name: &str, size: [f32; 2], look: Look) {
    let shoot = |evening: &mut Evening, what: &str| {
        evening.run_tenths(2);
        evening.picture(&folder.join(format!("journal-{name}-{what}.png")));
    };
    let unused = tempfile::tempdir().expect("a folder for the journal");
    let mut evening = Evening::in_window(unused.path(), size);
    evening.wish(Intent::SetLook(look));
    evening.wish(Intent::DismissNote(0));
    evening.harness.key_press(Key::V);
    shoot(&mut evening, "0-nothing-yet");
    drop(evening);

    let journal = tempfile::tempdir().expect("a folder for the journal");
    let passes = made_up_month::fill(journal.path(), 1).expect("filled");
    println!("{passes} passes in the made-up month");
    let mut evening = Evening::in_window(journal.path(), size);
    evening.wish(Intent::SetLook(look));
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
