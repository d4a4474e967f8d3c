//! The fonts, unmodified, with their licences beside them in `assets/fonts`.

use std::sync::Arc;

use egui::{FontData, FontDefinitions, FontFamily, FontId};
use sixrung_exchange::guide::{Fonts, fonts_of};

pub use sixrung_drawing::Face;

/// A cut at a size in points.
#[must_use]
pub fn font(face: Face, size: f32) -> FontId {
    FontId::new(size, family(face))
}

fn family(face: Face) -> FontFamily {
    FontFamily::Name(name(face).into())
}

/// Sentences, tempi, labels and chord names are of Inter, 400 to 700; sung words and titles of Gentium Book Plus.
const fn name(face: Face) -> &'static str {
    match face {
        Face::Regular => "inter",
        Face::Medium => "inter-medium",
        Face::SemiBold => "inter-semibold",
        Face::Bold => "inter-bold",
        Face::Book => "gentium",
        Face::BookBold => "gentium-bold",
    }
}

const fn bytes(face: Face) -> &'static [u8] {
    match face {
        Face::Regular => include_bytes!("../../../../assets/fonts/Inter-Regular.otf"),
        Face::Medium => include_bytes!("../../../../assets/fonts/Inter-Medium.otf"),
        Face::SemiBold => include_bytes!("../../../../assets/fonts/Inter-SemiBold.otf"),
        Face::Bold => include_bytes!("../../../../assets/fonts/Inter-Bold.otf"),
        Face::Book => include_bytes!("../../../../assets/fonts/GentiumBookPlus-Regular.ttf"),
        Face::BookBold => include_bytes!("../../../../assets/fonts/GentiumBookPlus-Bold.ttf"),
    }
}

const fn fallback(face: Face) -> &'static str {
    match face {
        Face::SemiBold | Face::Bold | Face::BookBold => SIGNS_BOLD,
        _ => SIGNS,
    }
}

/// A cut at a size as the guide prints it.
#[must_use]
pub fn paper_font(face: Face, size: f32) -> FontId {
    FontId::new(size, paper_family(face))
}

fn paper_family(face: Face) -> FontFamily {
    let first = fonts_of(face).next().map_or("", |place| ON_PAPER[place]);
    FontFamily::Name(format!("{first} on paper").into())
}

/// The guide's fonts, in the order of their fields there.
const ON_PAPER: [&str; 5] = [name(Face::Regular), name(Face::Bold), name(Face::Book), SIGNS, SIGNS_BOLD];

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
        add(name(face), bytes(face));
    }
    for face in Face::ALL {
        fonts.families.insert(family(face), vec![name(face).to_owned(), fallback(face).to_owned()]);
        let on_paper = fonts_of(face).map(|place| ON_PAPER[place].to_owned());
        fonts.families.insert(paper_family(face), on_paper.collect());
    }
    let plain = vec![name(Face::Regular).to_owned(), SIGNS.to_owned()];
    fonts.families.insert(FontFamily::Proportional, plain.clone());
    fonts.families.insert(FontFamily::Monospace, plain);
    fonts
}

/// The same fonts for paper.
#[must_use]
pub const fn guide_fonts() -> Fonts {
    Fonts {
        regular: bytes(Face::Regular),
        bold: bytes(Face::Bold),
        book: bytes(Face::Book),
        signs: SIGNS_BYTES,
        signs_bold: SIGNS_BOLD_BYTES,
    }
}

/// Gives a window its fonts. Once, before its first frame.
pub fn install(ctx: &egui::Context) {
    ctx.set_fonts(font_definitions());
}
