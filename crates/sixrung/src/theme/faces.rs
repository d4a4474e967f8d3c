//! The fonts, unmodified, with their licences beside them in `assets/fonts`.

use std::sync::Arc;

use egui::{FontData, FontDefinitions, FontFamily, FontId};
use sixrung_exchange::guide::Fonts;

/// A cut of type.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Face {
    /// Inter 400: sentences.
    Regular,
    /// Inter 500: tempi, controls.
    Medium,
    /// Inter 600: labels.
    SemiBold,
    /// Inter 700: chord names, counts on the beat.
    Bold,
    /// Gentium Book Plus: sung words.
    Book,
    /// Gentium Book Plus bold: titles, the syllable now.
    BookBold,
}

impl Face {
    /// Every cut.
    pub const ALL: [Self; 6] = [Self::Regular, Self::Medium, Self::SemiBold, Self::Bold, Self::Book, Self::BookBold];

    /// This cut at a size in points.
    #[must_use]
    pub fn at(self, size: f32) -> FontId {
        FontId::new(size, self.family())
    }

    fn family(self) -> FontFamily {
        FontFamily::Name(self.name().into())
    }

    const fn name(self) -> &'static str {
        match self {
            Self::Regular => "inter",
            Self::Medium => "inter-medium",
            Self::SemiBold => "inter-semibold",
            Self::Bold => "inter-bold",
            Self::Book => "gentium",
            Self::BookBold => "gentium-bold",
        }
    }

    const fn bytes(self) -> &'static [u8] {
        match self {
            Self::Regular => include_bytes!("../../../../assets/fonts/Inter-Regular.otf"),
            Self::Medium => include_bytes!("../../../../assets/fonts/Inter-Medium.otf"),
            Self::SemiBold => include_bytes!("../../../../assets/fonts/Inter-SemiBold.otf"),
            Self::Bold => include_bytes!("../../../../assets/fonts/Inter-Bold.otf"),
            Self::Book => include_bytes!("../../../../assets/fonts/GentiumBookPlus-Regular.ttf"),
            Self::BookBold => include_bytes!("../../../../assets/fonts/GentiumBookPlus-Bold.ttf"),
        }
    }

    const fn fallback(self) -> &'static str {
        match self {
            Self::SemiBold | Self::Bold | Self::BookBold => SIGNS_BOLD,
            _ => SIGNS,
        }
    }
}

const SIGNS: &str = "dejavu";
const SIGNS_BOLD: &str = "dejavu-bold";
const SIGNS_BYTES: &[u8] = include_bytes!("../../../../assets/fonts/DejaVuSans.ttf");
const SIGNS_BOLD_BYTES: &[u8] = include_bytes!("../../../../assets/fonts/DejaVuSans-Bold.ttf");

/// The fonts of the program: each cut with DejaVu Sans behind it for ♭ ♯ ♮ and rare signs.
#[must_use]
pub fn font_definitions() -> FontDefinitions {
    let mut fonts = FontDefinitions::empty();
    let mut add = |name: &str, bytes: &'static [u8]| {
        fonts.font_data.insert(name.to_owned(), Arc::new(FontData::from_static(bytes)));
    };
    add(SIGNS, SIGNS_BYTES);
    add(SIGNS_BOLD, SIGNS_BOLD_BYTES);
    for face in Face::ALL {
        add(face.name(), face.bytes());
    }
    for face in Face::ALL {
        fonts.families.insert(face.family(), vec![face.name().to_owned(), face.fallback().to_owned()]);
    }
    let plain = vec![Face::Regular.name().to_owned(), SIGNS.to_owned()];
    fonts.families.insert(FontFamily::Proportional, plain.clone());
    fonts.families.insert(FontFamily::Monospace, plain);
    fonts
}

/// The same fonts for paper.
#[must_use]
pub const fn guide_fonts() -> Fonts {
    Fonts {
        regular: Face::Regular.bytes(),
        bold: Face::Bold.bytes(),
        book: Face::Book.bytes(),
        signs: SIGNS_BYTES,
        signs_bold: SIGNS_BOLD_BYTES,
    }
}

/// Gives a window its fonts. Once, before its first frame.
pub fn install(ctx: &egui::Context) {
    ctx.set_fonts(font_definitions());
}
