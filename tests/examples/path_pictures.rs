//! Draws every step of the path, through the real session and window on simulated devices, in several looks and sizes:
//! `cargo run -p sixrung-tests --example path_pictures -- FOLDER [LOOK] [SCREEN]`.

use egui::Key;
use sixrung::stand::{ChangesWish, Intent, Page, TodayWish};
use sixrung_practice::{Done, Step};
use sixrung_tests::evening::Evening;
use sixrung_tests::pictures::{Shown, Wanted};

fn main() {
    let wanted = Wanted::from_arguments("path");
    for shown in wanted.looks() {
        evening(&wanted, &shown);
    }
}

/// One evening through all of it.
fn evening(wanted: &Wanted, shown: &Shown) {
    let journal = tempfile::tempdir().expect("a folder for the journal");
    let mut evening = shown.evening(journal.path());
    evening.wish(Intent::DismissNote(0));
    let shoot = |evening: &mut Evening, what: &str| wanted.shoot(evening, shown, what);
    evening.wish(Intent::OpenPage(Page::Path));
    shoot(&mut evening, "0-steps");
    evening.wish(Intent::OpenPage(Page::Signs));
    shoot(&mut evening, "0-signs");
    evening.wish(Intent::ChooseStep(Step::Shapes));
    shoot(&mut evening, "1-shapes-first");
    for _ in 0..2 {
        evening.harness.key_press(Key::Space);
        evening.run_tenths(1);
    }
    shoot(&mut evening, "1-shapes-fingers");
    for _ in 0..2 {
        evening.harness.key_press(Key::Space);
        evening.run_tenths(1);
    }
    shoot(&mut evening, "1-shapes-strings");
    evening.wish(Intent::ChooseStep(Step::Changes));
    shoot(&mut evening, "2-changes");
    evening.wish(Intent::Changes(ChangesWish::Only(1)));
    shoot(&mut evening, "2-changes-second");
    for (step, what) in [
        (Step::OneStroke, "3-one-stroke"),
        (Step::OneChord, "4-pattern"),
        (Step::Slow, "5-slow"),
        (Step::Climb, "6-climb"),
        (Step::PlayAlong, "7-play-along"),
        (Step::Sing, "8-sing"),
    ] {
        evening.wish(Intent::MarkStep(Step::Shapes, Done::SelfMarked));
        evening.wish(Intent::ChooseStep(step));
        shoot(&mut evening, &format!("{what}-idle"));
        evening.wish(Intent::Forward);
        evening.run_tenths(75);
        shoot(&mut evening, &format!("{what}-playing"));
        evening.wish(Intent::Stop);
    }
    // The pattern done: what is offered next.
    evening.wish(Intent::ChooseStep(Step::OneChord));
    evening.wish(Intent::Forward);
    evening.next_result();
    evening.run_tenths(10);
    for _ in 0..600 {
        evening.run_tenths(1);
        if evening.view().proposal.is_some() {
            break;
        }
    }
    shoot(&mut evening, "4-pattern-done");
    evening.wish(Intent::OpenPage(Page::Today));
    shoot(&mut evening, "9-today-first");
    evening.wish(Intent::Today(TodayWish::Minutes(30)));
    shoot(&mut evening, "9-today-plan");
    evening.wish(Intent::Today(TodayWish::Start));
    shoot(&mut evening, "9-today-on");
    evening.wish(Intent::ClosePage);
    shoot(&mut evening, "9-today-stand");
    evening.wish(Intent::SayHands);
    shoot(&mut evening, "9-hands");
    evening.wish(Intent::Back);
    shoot(&mut evening, "9-stopped");
}
