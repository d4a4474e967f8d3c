//! Draws every screen in every look, through the real window on simulated devices, with a made-up month in the journal:
//! `cargo run -p sixrung-tests --example every_screen -- FOLDER [LOOK] [SCREEN]`, parts of names to draw only some.

use std::path::PathBuf;
use std::sync::atomic::Ordering;

use egui::Key;
use sixrung::stand::{ChordsWish, HandOverWish, Intent, JournalWish, LessonSource, Page, Phase, ShapesWish, TodayWish};
use sixrung_practice::Step;
use sixrung_tests::evening::Evening;
use sixrung_tests::made_up_month;
use sixrung_tests::pictures::{Shown, Wanted};

/// In the pass that is not clean, strokes come late from here on, for so long, both in tenths of a second.
const LATE_FROM: u32 = 77;
const LATE_FOR: u32 = 36;
/// And by so much, in frames: 110 ms.
const LATE_BY: usize = 5_280;

fn main() {
    let wanted = Wanted::from_arguments("screens");
    for shown in wanted.looks() {
        first_start(&wanted, &shown);
        Tour::begin(&wanted, shown).go();
        println!("{}", shown.name);
    }
}

/// What somebody sees who starts the program for the first time: nothing was played before.
fn first_start(wanted: &Wanted, shown: &Shown) {
    const SCREEN: &str = "00-first-start";
    if wanted.wants(SCREEN) {
        let journal = tempfile::tempdir().expect("a folder for the journal");
        let mut evening = Evening::first_start_on(journal.path(), shown.size, shown.pixels);
        evening.wish(Intent::SetLook(shown.look));
        wanted.shoot(&mut evening, shown, SCREEN);
    }
}

/// One evening, and where its pictures go.
struct Tour<'a> {
    evening: Evening,
    wanted: &'a Wanted,
    shown: Shown,
    /// The journal lies here as long as the evening lasts.
    _journal: tempfile::TempDir,
}

impl<'a> Tour<'a> {
    fn begin(wanted: &'a Wanted, shown: Shown) -> Self {
        let journal = tempfile::tempdir().expect("a folder for the journal");
        made_up_month::fill(journal.path(), 1).expect("filled");
        Self { evening: shown.evening(journal.path()), wanted, shown, _journal: journal }
    }

    /// A picture of what is shown now.
    fn shoot(&mut self, screen: &str) {
        self.wanted.shoot(&mut self.evening, &self.shown, screen);
    }

    fn page(&mut self, screen: &str, page: Page) {
        self.evening.wish(Intent::OpenPage(page));
        self.shoot(screen);
    }

    fn go(mut self) {
        self.stand();
        for (screen, page) in [
            ("20-lessons", Page::Lessons),
            ("21-sections", Page::Sections),
            ("22-sound", Page::Sound),
            ("23-parts", Page::Parts),
            ("24-calibrate", Page::Calibrate),
            ("26-chords", Page::Chords),
            ("27-song", Page::Song),
            ("28-path", Page::Path),
            ("30-changes", Page::Changes),
            ("31-signs", Page::Signs),
            ("32-care", Page::Care),
            ("33-keys", Page::Look),
        ] {
            self.page(screen, page);
        }
        self.evening.wish(Intent::Chords(ChordsWish::Next));
        self.tune();
        self.shapes();
        self.page("34-today", Page::Today);
        self.evening.wish(Intent::Today(TodayWish::Minutes(20)));
        self.shoot("35-today-planned");
        self.page("36-journal", Page::Journal);
        self.evening.wish(Intent::Journal(JournalWish::Open(1)));
        self.shoot("37-journal-pass");
        self.page("38-guide", Page::Guide);
        self.hand_over();
    }

    /// The stand: at rest, counted in, playing, after a pass, asking after the hands.
    fn stand(&mut self) {
        self.shoot("02-ready");
        self.evening.harness.key_press(Key::Space);
        self.evening.run_tenths(12);
        self.shoot("03-count-in");
        self.evening.run_tenths(60);
        self.shoot("04-playing");
        self.evening.next_result();
        // The second pass is judged; a wrong strum or two is in it.
        while self.evening.view().result.is_none() {
            self.evening.run_tenths(1);
        }
        self.shoot("05-result");
        self.evening.wish(Intent::Stop);
        self.evening.run_tenths(3);
        self.shoot("06-result-at-rest");
        self.not_clean();
        self.evening.harness.key_press(Key::X);
        self.shoot("07-hands");
        self.evening.harness.key_press(Key::Num1);
        self.evening.wish(Intent::ChooseStep(Step::OneStroke));
        self.shoot("08-one-stroke");
        self.evening.wish(Intent::ChooseStep(Step::Sing));
        self.shoot("09-sing");
        self.evening.wish(Intent::ChooseStep(Step::Climb));
    }

    /// Passes in which two bars come late, and what is proposed then.
    fn not_clean(&mut self) {
        self.evening.wish(Intent::Forward);
        for screen in ["10-not-clean", "11-not-clean-again"] {
            while !matches!(self.evening.view().phase, Phase::Playing) {
                self.evening.run_tenths(1);
            }
            self.evening.run_tenths(LATE_FROM);
            self.evening.hand.late.store(LATE_BY, Ordering::Relaxed);
            self.evening.run_tenths(LATE_FOR);
            self.evening.hand.late.store(0, Ordering::Relaxed);
            while self.evening.view().result.is_none() {
                self.evening.run_tenths(1);
            }
            self.shoot(screen);
        }
        self.evening.wish(Intent::Stop);
        self.evening.run_tenths(3);
    }

    /// The tuner with a string that is a little flat.
    fn tune(&mut self) {
        self.page("25-tuner", Page::Tuner);
        let seconds = |frame: u16| f32::from(frame) / 48_000.0;
        let turns = std::f32::consts::TAU * 109.2;
        let string: Vec<f32> = (0..48_000_u16)
            .map(|frame| {
                let at = seconds(frame);
                let partials = [1.0, 2.0, 3.0, 4.0].map(|partial: f32| (turns * partial * at).sin() / partial);
                0.2 * (-at).exp() * partials.iter().sum::<f32>()
            })
            .collect();
        self.evening.hand.unasked.lock().expect("nobody panics with it").extend(&string);
        self.evening.run_tenths(5);
        self.shoot("25-tuner-flat");
        self.evening.run_tenths(10);
    }

    /// Shapes: a finger down, then the strings asked for.
    fn shapes(&mut self) {
        self.page("29-shapes", Page::Shapes);
        self.evening.wish(Intent::Shapes(ShapesWish::Next));
        self.shoot("29-shapes-finger");
        for _ in 0..3 {
            self.evening.wish(Intent::Shapes(ShapesWish::Next));
        }
        self.shoot("29-shapes-strings");
    }

    fn hand_over(&mut self) {
        self.page("40-assignment", Page::HandOver);
        self.evening.wish(Intent::HandOver(HandOverWish::WriteAssignment));
        self.shoot("41-assignment-written");
        self.evening.wish(Intent::HandOver(HandOverWish::TryIt));
        self.shoot("42-assigned");
        self.page("43-report", Page::HandOver);
        let missing = LessonSource::File(PathBuf::from("nowhere.lesson.ron"));
        self.evening.wish(Intent::ClosePage);
        self.evening.wish(Intent::OpenLesson(missing));
        self.page("44-unreadable", Page::Lessons);
    }
}
