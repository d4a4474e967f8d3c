//! Pictures of an evening, in several looks: what the examples that draw share.

use std::path::{Path, PathBuf};

use sixrung::stand::Intent;
use sixrung::theme::{Hand, Look, Sheet};

use crate::evening::Evening;

/// A window: its size in points, pixels to a point, and how things are drawn in it.
#[derive(Clone, Copy, Debug)]
pub struct Shown {
    /// Part of the names of its pictures.
    pub name: &'static str,
    /// Its size, in points.
    pub size: [f32; 2],
    /// Pixels to a point.
    pub pixels: f32,
    /// How things are drawn.
    pub look: Look,
}

impl Shown {
    /// An evening in this window, with its journal in `folder`.
    ///
    /// # Panics
    /// When the window can't be made.
    #[must_use]
    pub fn evening(&self, folder: &Path) -> Evening {
        let mut evening = Evening::on_screen(folder, self.size, self.pixels);
        evening.wish(Intent::SetLook(self.look));
        evening
    }
}

/// Every sheet, the other hand, from afar, the smallest window and a fine large screen.
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

/// Where pictures go: the program's first argument; and which looks and screens are wanted: parts of their names, its
/// second and third.
#[derive(Clone, Debug)]
pub struct Wanted {
    folder: PathBuf,
    look: String,
    screen: String,
}

impl Wanted {
    /// As the program was called; without an argument the folder is `folder`.
    ///
    /// # Panics
    /// When the folder can't be made.
    #[must_use]
    pub fn from_arguments(folder: &str) -> Self {
        let mut arguments = std::env::args().skip(1);
        let folder = PathBuf::from(arguments.next().unwrap_or_else(|| folder.to_owned()));
        std::fs::create_dir_all(&folder).expect("the folder can be made");
        let mut part = || arguments.next().unwrap_or_default();
        Self { folder, look: part(), screen: part() }
    }

    /// The looks that are wanted.
    pub fn looks(&self) -> impl Iterator<Item = Shown> {
        looks().into_iter().filter(|shown| shown.name.contains(&self.look))
    }

    /// Whether this screen is.
    #[must_use]
    pub fn wants(&self, screen: &str) -> bool {
        screen.contains(&self.screen)
    }

    /// A picture of what the window shows two tenths of a second later, if it is wanted.
    ///
    /// # Panics
    /// When it can't be drawn or written.
    pub fn shoot(&self, evening: &mut Evening, shown: &Shown, screen: &str) {
        if self.wants(screen) {
            evening.run_tenths(2);
            evening.picture(&self.folder.join(format!("{screen}-{}.png", shown.name)));
        }
    }
}
