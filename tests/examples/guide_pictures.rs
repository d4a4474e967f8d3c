//! Draws the page that shows the guide as it will be printed, through the real window on simulated devices:
//! `cargo run -p sixrung-tests --example guide_pictures -- FOLDER [LOOK] [SCREEN]`.

use egui::{Key, Modifiers};
use sixrung::stand::{GuideWish, Intent, LessonSource};
use sixrung_exchange::guide::Print;
use sixrung_tests::evening::Evening;
use sixrung_tests::pictures::{Shown, Wanted};

fn main() {
    let wanted = Wanted::from_arguments("guide");
    for shown in wanted.looks() {
        evening(&wanted, &shown);
    }
}

fn evening(wanted: &Wanted, shown: &Shown) {
    let shoot = |evening: &mut Evening, what: &str| wanted.shoot(evening, shown, &format!("guide-{what}"));
    let journal = tempfile::tempdir().expect("a folder for the journal");
    let mut evening = shown.evening(journal.path());
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
