//! Draws every step of the path, through the real session and window on simulated devices, in several looks and sizes:
//! `cargo run -p sixrung-tests --example path_pictures -- FOLDER [PART OF A NAME]`.

use std::path::{Path, PathBuf};

use egui::Key;
use sixrung::stand::{ChangesWish, Intent, Page, TodayWish};
use sixrung::theme::{Look, Sheet};
use sixrung_practice::{Done, Step};
use sixrung_tests::evening::Evening;

fn main() {
    let folder = PathBuf::from(std::env::args().nth(1).unwrap_or_else(|| "path".to_owned()));
    let only = std::env::args().nth(2).unwrap_or_default();
    std::fs::create_dir_all(&folder).expect("the folder can be made");
    let light = Look::default();
    let looks = [
        ("light", [1280.0, 800.0], light),
        ("dark", [1280.0, 800.0], Look { sheet: Sheet::Dark, ..light }),
        ("hd", [1920.0, 1080.0], light),
        ("far", [1280.0, 800.0], Look { distance_m: 1.5, ..light }),
        ("small", [960.0, 600.0], light),
    ];
    for (name, size, look) in looks.into_iter().filter(|(name, ..)| name.contains(&only)) {
        evening(&folder, name, size, look);
    }
}

/// One evening through all of it.
fn evening(folder: &Path, name: &str, size: [f32; 2], look: Look) {
    let journal = tempfile::tempdir().expect("a folder for the journal");
    let mut evening = Evening::in_window(journal.path(), size);
    evening.wish(Intent::SetLook(look));
    evening.wish(Intent::DismissNote(0));
    let shoot = |evening: &mut Evening, what: &str| {
        evening.run_tenths(2);
        evening.picture(&folder.join(format!("{name}-{what}.png")));
    };
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
