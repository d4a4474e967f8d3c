//! Draws the page that shows the guide as it will be printed, through the real window on simulated devices:
//! `cargo run -p sixrung-tests --example guide_pictures -- FOLDER [PART OF A NAME]`.

use std::path::{Path, PathBuf};

use egui::{Key, Modifiers};
use sixrung::stand::{GuideWish, Intent, LessonSource};
use sixrung::theme::{Look, Sheet};
use sixrung_exchange::guide::Print;
use sixrung_tests::evening::Evening;

fn main() {
    let folder = PathBuf::from(std::env::args().nth(1).unwrap_or_else(|| "guide".to_owned()));
    let only = std::env::args().nth(2).unwrap_or_default();
    std::fs::create_dir_all(&folder).expect("the folder can be made");
    let light = Look::default();
    let looks = [
        ("light", [1280.0, 800.0], light),
        ("dark", [1280.0, 800.0], Look { sheet: Sheet::Dark, ..light }),
        ("contrast-light", [1280.0, 800.0], Look { sheet: Sheet::ContrastLight, ..light }),
        ("contrast-dark", [1280.0, 800.0], Look { sheet: Sheet::ContrastDark, ..light }),
        ("small", [960.0, 600.0], light),
        ("hd", [1920.0, 1080.0], light),
        ("scaled", [1280.0, 800.0], Look { scale: 2.0, ..light }),
    ];
    for (name, size, look) in looks.into_iter().filter(|(name, ..)| name.contains(&only)) {
        evening(&folder, name, size, look);
    }
}

fn evening(folder: &Path, name: &str, size: [f32; 2], look: Look) {
    let shoot = |evening: &mut Evening, what: &str| {
        evening.run_tenths(2);
        evening.picture(&folder.join(format!("guide-{name}-{what}.png")));
    };
    let journal = tempfile::tempdir().expect("a folder for the journal");
    let mut evening = Evening::in_window(journal.path(), size);
    evening.wish(Intent::SetLook(look));
    evening.wish(Intent::DismissNote(0));
    evening.harness.key_press_modifiers(Modifiers::COMMAND, Key::P);
    shoot(&mut evening, "1-first");
    evening.wish(Intent::Guide(GuideWish::Closer));
    shoot(&mut evening, "2-closer");
    evening.harness.key_press(Key::ArrowRight);
    shoot(&mut evening, "3-lower-half");
    evening.wish(Intent::Guide(GuideWish::Closer));
    evening.wish(Intent::Guide(GuideWish::Print(Print::Large)));
    evening.wish(Intent::Guide(GuideWish::OtherHand));
    evening.wish(Intent::Guide(GuideWish::Write));
    shoot(&mut evening, "4-large-and-written");
    evening.wish(Intent::OpenLesson(LessonSource::Demo("ferry-lullaby".to_owned())));
    evening.harness.key_press_modifiers(Modifiers::COMMAND, Key::P);
    shoot(&mut evening, "5-four-arrangements");
}
