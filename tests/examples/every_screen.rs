//! Draws every screen in every look, through the real window on simulated devices, with a made-up month in the journal:
//! `cargo run -p sixrung-tests --example every_screen -- FOLDER [LOOK] [SCREEN]`, parts of names to draw only some.

use std::path::{Path, PathBuf};

use egui::Key;
use sixrung::stand::{ChordsWish, HandOverWish, Intent, JournalWish, LessonSource, Page, TodayWish};
use sixrung::theme::{Hand, Look, Sheet};
use sixrung_practice::Step;
use sixrung_tests::evening::Evening;
use sixrung_tests::made_up_month;

/// A window: its size in points, pixels to a point, and how things are drawn in it.
struct Shown {
    name: &'static str,
    size: [f32; 2],
    pixels: f32,
    look: Look,
}

fn looks() -> [Shown; 8] {
    let light = Look::default();
    let usual = |name, look| Shown { name, size: [1280.0, 800.0], pixels: 1.0, look };
    [
        usual("light", light),
        usual("dark", Look { sheet: Sheet::Dark, ..light }),
        usual("black-on-white", Look { sheet: Sheet::ContrastLight, ..light }),
        usual("white-on-black", Look { sheet: Sheet::ContrastDark, ..light }),
        usual("left-handed", Look { hand: Hand::Left, ..light }),
        usual("far", Look { distance_m: 1.5, ..light }),
        Shown { name: "small", size: [960.0, 600.0], pixels: 1.0, look: light },
        Shown { name: "4k", size: [1920.0, 1080.0], pixels: 2.0, look: light },
    ]
}

fn main() {
    let mut args = std::env::args().skip(1);
    let folder = PathBuf::from(args.next().unwrap_or_else(|| "screens".to_owned()));
    let (look, screen) = (args.next().unwrap_or_default(), args.next().unwrap_or_default());
    std::fs::create_dir_all(&folder).expect("the folder can be made");
    for shown in looks().iter().filter(|shown| shown.name.contains(&look)) {
        Tour::begin(&folder, shown, screen.clone()).go();
        println!("{}", shown.name);
    }
}

/// One evening, and where its pictures go.
struct Tour<'a> {
    evening: Evening,
    folder: &'a Path,
    name: &'static str,
    only: String,
    /// The journal lies here as long as the evening lasts.
    _journal: tempfile::TempDir,
}

impl<'a> Tour<'a> {
    fn begin(folder: &'a Path, shown: &Shown, only: String) -> Self {
        let journal = tempfile::tempdir().expect("a folder for the journal");
        made_up_month::fill(journal.path(), 1).expect("filled");
        let mut evening = Evening::on_screen(journal.path(), shown.size, shown.pixels);
        evening.wish(Intent::SetLook(shown.look));
        Self { evening, folder, name: shown.name, only, _journal: journal }
    }

    /// A picture of what is shown now.
    fn shoot(&mut self, screen: &str) {
        if screen.contains(&self.only) {
            self.evening.run_tenths(2);
            self.evening.picture(&self.folder.join(format!("{screen}-{}.png", self.name)));
        }
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
            ("25-tuner", Page::Tuner),
            ("26-chords", Page::Chords),
            ("27-song", Page::Song),
            ("28-path", Page::Path),
            ("29-shapes", Page::Shapes),
            ("30-changes", Page::Changes),
            ("31-signs", Page::Signs),
            ("32-care", Page::Care),
            ("33-keys", Page::Look),
        ] {
            self.page(screen, page);
        }
        self.evening.wish(Intent::Chords(ChordsWish::Next));
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
        self.shoot("01-first-start");
        self.evening.wish(Intent::DismissNote(0));
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
        self.evening.harness.key_press(Key::X);
        self.shoot("07-hands");
        self.evening.harness.key_press(Key::Num1);
        self.evening.wish(Intent::ChooseStep(Step::OneStroke));
        self.shoot("08-one-stroke");
        self.evening.wish(Intent::ChooseStep(Step::Sing));
        self.shoot("09-sing");
        self.evening.wish(Intent::ChooseStep(Step::Climb));
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
