//! The demos, the program's own words and its fonts.

#[path = "../../../sixrung/src/text/guide.rs"]
mod words;

use sixrung_exchange::guide::Fonts;
use sixrung_lesson::{Lesson, read};

pub(crate) use words::WORDS;

macro_rules! font {
    ($name:literal) => {
        include_bytes!(concat!("../../../../assets/fonts/", $name))
    };
}

macro_rules! demo {
    ($name:literal) => {
        ($name, include_bytes!(concat!("../../../../assets/lessons/", $name, ".lesson.ron")).as_slice())
    };
}

pub(crate) const FONTS: Fonts = Fonts {
    regular: font!("Inter-Regular.otf"),
    bold: font!("Inter-Bold.otf"),
    book: font!("GentiumBookPlus-Regular.ttf"),
    signs: font!("DejaVuSans.ttf"),
    signs_bold: font!("DejaVuSans-Bold.ttf"),
};

/// Every demo by name.
pub(crate) fn demos() -> Vec<(&'static str, Lesson)> {
    let demos =
        [demo!("ferry-lullaby"), demo!("kettle-and-clock"), demo!("lantern-on-the-quay"), demo!("tin-roof-shuffle")];
    demos.map(|(name, text)| (name, read(text).expect("the demos have no errors").lesson)).into()
}
