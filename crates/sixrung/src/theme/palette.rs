//! Colours by what they are for. State is never told by colour alone: a shape or a word goes with it.

use egui::Color32;
use sixrung_drawing::Ink;
use sixrung_exchange::guide::grey;

use super::look::Sheet;

/// The colours of one sheet.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Palette {
    /// Behind everything.
    pub surround: Color32,
    /// The paper: what to play, what to read.
    pub sheet: Color32,
    /// Text, diagrams, strokes.
    pub ink: Color32,
    /// Labels and help.
    pub quiet: Color32,
    /// The cursor, the current thing, links.
    pub now: Color32,
    /// Late strokes and things to look at; always with a shape.
    pub late: Color32,
    /// The level meter and what is well; always with a word.
    pub heard: Color32,
    /// The ladder.
    pub wood: Color32,
    /// Rungs and bars to come.
    pub pale_wood: Color32,
    /// Air strokes, slider rails.
    pub thin: Color32,
    /// Beat shading.
    pub shade: Color32,
    /// Rules between zones.
    pub hair: Color32,
}

impl Palette {
    /// What comes out of a printer, whatever the sheet on the screen: black and greys on white.
    pub const PAPER: Self = Self {
        surround: printed(Ink::Sheet),
        sheet: printed(Ink::Sheet),
        ink: printed(Ink::Ink),
        quiet: printed(Ink::Quiet),
        now: printed(Ink::Now),
        late: printed(Ink::Ink),
        heard: printed(Ink::Ink),
        wood: printed(Ink::Ink),
        pale_wood: printed(Ink::Thin),
        thin: printed(Ink::Thin),
        shade: printed(Ink::Shade),
        hair: printed(Ink::Thin),
    };

    /// The colours of this sheet.
    #[must_use]
    pub const fn of(sheet: Sheet) -> Self {
        match sheet {
            Sheet::Light => LIGHT,
            Sheet::Dark => DARK,
            Sheet::ContrastLight => CONTRAST_LIGHT,
            Sheet::ContrastDark => CONTRAST_DARK,
        }
    }
}

const fn printed(ink: Ink) -> Color32 {
    Color32::from_gray(grey(ink))
}

const fn hex(rgb: u32) -> Color32 {
    let [_, r, g, b] = rgb.to_be_bytes();
    Color32::from_rgb(r, g, b)
}

const LIGHT: Palette = Palette {
    surround: hex(0xDDD6C9),
    sheet: hex(0xFBF8F1),
    ink: hex(0x211D18),
    quiet: hex(0x5C554B),
    now: hex(0x0B5D8F),
    late: hex(0x9A3F08),
    heard: hex(0x1C6343),
    wood: hex(0x8B6B45),
    pale_wood: hex(0xB79C73),
    thin: hex(0x857C6E),
    shade: hex(0xEFE9DC),
    hair: hex(0xE4DDCF),
};

const DARK: Palette = Palette {
    surround: hex(0x131110),
    sheet: hex(0x201D1A),
    ink: hex(0xF2ECE0),
    quiet: hex(0xADA495),
    now: hex(0x7CC4EE),
    late: hex(0xF2A65A),
    heard: hex(0x6FCFA2),
    wood: hex(0xB59366),
    pale_wood: hex(0x77624A),
    thin: hex(0x80776B),
    shade: hex(0x2B2722),
    hair: hex(0x302B26),
};

const CONTRAST_LIGHT: Palette = Palette {
    surround: hex(0xFFFFFF),
    sheet: hex(0xFFFFFF),
    ink: hex(0x000000),
    quiet: hex(0x333333),
    now: hex(0x003C64),
    late: hex(0x7A2E00),
    heard: hex(0x00502F),
    wood: hex(0x000000),
    pale_wood: hex(0x767676),
    thin: hex(0x595959),
    shade: hex(0xECECEC),
    hair: hex(0x767676),
};

const CONTRAST_DARK: Palette = Palette {
    surround: hex(0x000000),
    sheet: hex(0x000000),
    ink: hex(0xFFFFFF),
    quiet: hex(0xD0D0D0),
    now: hex(0x9AD8FF),
    late: hex(0xFFBE7A),
    heard: hex(0x8CF0BE),
    wood: hex(0xFFFFFF),
    pale_wood: hex(0x8C8C8C),
    thin: hex(0xA6A6A6),
    shade: hex(0x242424),
    hair: hex(0x8C8C8C),
};
