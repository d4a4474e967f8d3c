//! Text set in glyphs: which, from which font, how far each goes.

use std::collections::BTreeSet;
use std::ops::Range;

use rustybuzz::ttf_parser::{GlyphId, Tag};
use rustybuzz::{Direction, Face as Shaper, Feature, ShapePlan, UnicodeBuffer, script};
use sixrung_drawing::{Face, Mark, Side};

use super::fonts::{FontError, FontId, Fonts, chain};
use super::page::Page;

/// Printed for a character that no font has.
const UNKNOWN: char = '□';

/// Sets text in a guide's fonts.
pub(crate) struct Typesetter {
    fonts: Vec<Font>,
}

struct Font {
    shaper: Shaper<'static>,
    plan: ShapePlan,
    em: f32,
}

/// A piece of text in one font.
#[derive(Clone, Debug)]
pub(crate) struct Run {
    pub(crate) font: FontId,
    /// From the text's left end, in shares of the size.
    pub(crate) at: f32,
    pub(crate) text: String,
    pub(crate) glyphs: Vec<Glyph>,
}

/// One glyph; lengths in shares of the size.
#[derive(Clone, Debug)]
pub(crate) struct Glyph {
    pub(crate) id: u16,
    pub(crate) advance: f32,
    pub(crate) shift: (f32, f32),
    /// The bytes of the run's text it stands for.
    pub(crate) text: Range<usize>,
}

/// No ligatures and no alternates by context: one letter one glyph, so that what is copied out is what was put in.
fn features() -> [Feature; 3] {
    [b"liga", b"clig", b"calt"].map(|tag| Feature::new(Tag::from_bytes(tag), 0, ..))
}

impl Typesetter {
    /// Reads the fonts.
    pub(crate) fn new(fonts: &Fonts) -> Result<Self, FontError> {
        let font = |(index, bytes)| {
            let shaper = Shaper::from_slice(bytes, 0).ok_or(FontError(index))?;
            let plan = ShapePlan::new(&shaper, Direction::LeftToRight, Some(script::LATIN), None, &features());
            #[expect(clippy::cast_precision_loss, reason = "units an em are a few thousand")]
            let em = shaper.units_per_em() as f32;
            Ok(Font { shaper, plan, em })
        };
        Ok(Self { fonts: fonts.all().into_iter().enumerate().map(font).collect::<Result<_, _>>()? })
    }

    /// Width of a text, in points.
    pub(crate) fn width(&self, text: &str, (face, size): (Face, f32)) -> f32 {
        let runs = self.set(text, face);
        runs.last().map_or(0.0, |run| (run.at + run.width()) * size)
    }

    /// Where a text begins whose left end, middle or right end is at `x`. The space that parts it from what is read
    /// next takes no room.
    pub(crate) fn left(&self, text: &str, set: (Face, f32), side: Side, x: f32) -> f32 {
        match side {
            Side::Left => x,
            Side::Centre => x - self.width(text.trim_end(), set) / 2.0,
            Side::Right => x - self.width(text.trim_end(), set),
        }
    }

    /// A text in runs of one font each.
    pub(crate) fn set(&self, text: &str, face: Face) -> Vec<Run> {
        let mut runs: Vec<Run> = Vec::new();
        for char in text.chars() {
            let (font, char) = self.font_of(char, face);
            match runs.last_mut().filter(|run| run.font == font) {
                Some(run) => run.text.push(char),
                None => runs.push(Run { font, at: 0.0, text: char.to_string(), glyphs: Vec::new() }),
            }
        }
        let mut at = 0.0;
        for run in &mut runs {
            run.at = at;
            run.glyphs = self.shape(run.font, &run.text);
            at += run.width();
        }
        runs
    }

    /// Characters of these pages that no font has.
    pub(crate) fn missing(&self, pages: &[Page]) -> BTreeSet<char> {
        let marks = pages.iter().flat_map(|page| &page.nodes).flat_map(super::page::Node::marks);
        let texts = marks.filter_map(|mark| match mark {
            Mark::Text { text, face, .. } => Some((text, *face)),
            _ => None,
        });
        let lacks = |(text, face): (&String, Face)| {
            text.chars().filter(|char| *char != UNKNOWN && self.font_of(*char, face).1 == UNKNOWN).collect::<Vec<_>>()
        };
        texts.flat_map(lacks).collect()
    }

    /// A glyph's outline is drawn with `builder`.
    pub(crate) fn outline(&self, font: FontId, glyph: u16, builder: &mut dyn rustybuzz::ttf_parser::OutlineBuilder) {
        // A space has no outline, and that is its drawing.
        let _ = self.fonts[font.0].shaper.outline_glyph(GlyphId(glyph), builder);
    }

    /// Units in an em.
    pub(crate) fn em(&self, font: FontId) -> f32 {
        self.fonts[font.0].em
    }

    /// The first font of the cut that has the character, and what is printed for it. Controls are printed as spaces.
    fn font_of(&self, char: char, face: Face) -> (FontId, char) {
        let char = if char.is_control() { ' ' } else { char };
        let chain = chain(face);
        let has = |font: &&FontId| self.fonts[font.0].shaper.glyph_index(char).is_some_and(|glyph| glyph.0 != 0);
        match (chain.iter().find(has), chain) {
            (Some(font), _) => (*font, char),
            (None, [.., last]) => (*last, UNKNOWN),
            (None, []) => unreachable!("every cut has a font"),
        }
    }

    fn shape(&self, font: FontId, text: &str) -> Vec<Glyph> {
        let Font { shaper, plan, em } = &self.fonts[font.0];
        let mut buffer = UnicodeBuffer::new();
        buffer.push_str(text);
        buffer.set_direction(Direction::LeftToRight);
        buffer.set_script(script::LATIN);
        let shaped = rustybuzz::shape_with_plan(shaper, plan, buffer);
        let ends = shaped.glyph_infos().iter().skip(1).map(|info| info.cluster as usize).chain([text.len()]);
        let glyph = |((info, position), end): ((&rustybuzz::GlyphInfo, &rustybuzz::GlyphPosition), usize)| {
            #[expect(clippy::cast_precision_loss, reason = "font units are a few thousand")]
            let share = |units: i32| units as f32 / em;
            let start = info.cluster as usize;
            Glyph {
                id: u16::try_from(info.glyph_id).unwrap_or_default(),
                advance: share(position.x_advance),
                shift: (share(position.x_offset), share(position.y_offset)),
                text: start..end.max(start),
            }
        };
        shaped.glyph_infos().iter().zip(shaped.glyph_positions()).zip(ends).map(glyph).collect()
    }
}

impl Run {
    /// In shares of the size.
    pub(crate) fn width(&self) -> f32 {
        self.glyphs.iter().map(|glyph| glyph.advance).sum()
    }
}
