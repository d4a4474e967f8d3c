//! A page of a guide as SVG 1.1, in a file that needs no other: letters are drawn as outlines, and every line of text
//! lies over them unseen, so that it can be found, copied and read out.

use std::collections::BTreeMap;
use std::fmt::Write as _;

use rustybuzz::ttf_parser::OutlineBuilder;
use sixrung_drawing::{Ends, Ink, Mark, Point, Rect};

use super::fonts::{FontId, Fonts};
use super::page::{Node, Role};
use super::pdf::grey;
use super::typeset::Typesetter;
use super::{Guide, GuideError};

/// One page, from 0.
///
/// # Errors
/// When a font can't be read, or there is no such page.
pub fn write(guide: &Guide, page: usize, fonts: &Fonts) -> Result<String, GuideError> {
    let of = guide.pages.get(page).ok_or_else(|| GuideError::Write(format!("there is no page {}", page + 1)))?;
    let mut drawing = Drawing { typesetter: Typesetter::new(fonts)?, letters: BTreeMap::new(), body: String::new() };
    for node in &of.nodes {
        drawing.node(node);
    }
    let (width, height) = guide.size;
    let mut file = format!(
        "<svg xmlns=\"http://www.w3.org/2000/svg\" xmlns:xlink=\"http://www.w3.org/1999/xlink\" version=\"1.1\" \
         width=\"{width}pt\" height=\"{height}pt\" viewBox=\"0 0 {width} {height}\" xml:lang=\"{}\">\n<title>{}</title>\n<defs>\n",
        guide.language,
        escaped(&guide.title)
    );
    for ((font, glyph), outline) in &drawing.letters {
        let _ = writeln!(file, "<path id=\"g{}-{glyph}\" d=\"{outline}\"/>", font.0);
    }
    file += "</defs>\n<rect width=\"100%\" height=\"100%\" fill=\"#fff\"/>\n";
    file += &drawing.body;
    file += "</svg>\n";
    Ok(file)
}

struct Drawing {
    typesetter: Typesetter,
    letters: BTreeMap<(FontId, u16), String>,
    body: String,
}

impl Drawing {
    fn node(&mut self, node: &Node) {
        match node {
            Node::Marks(marks) => marks.iter().for_each(|mark| self.mark(mark)),
            Node::Decoration(marks) => {
                self.body += "<g aria-hidden=\"true\">\n";
                marks.iter().for_each(|mark| self.mark(mark));
                self.body += "</g>\n";
            }
            Node::Group(role, nodes) => {
                self.body += &opened(role);
                nodes.iter().for_each(|node| self.node(node));
                self.body += "</g>\n";
            }
        }
    }

    fn mark(&mut self, mark: &Mark) {
        let shape = match mark {
            Mark::Line { from, to, width, ends, ink } => {
                let cap = if *ends == Ends::Round { " stroke-linecap=\"round\"" } else { "" };
                format!("<path d=\"{}\"{cap} {}/>", points(&[*from, *to]), line(*width, *ink))
            }
            Mark::Path { points: all, width, ink } => format!(
                "<path d=\"{}\" stroke-linecap=\"round\" stroke-linejoin=\"round\" {}/>",
                points(all),
                line(*width, *ink)
            ),
            Mark::Block { rect, radius, ink } => {
                format!("<rect {} fill=\"{}\"/>", corners(*rect, *radius), colour(*ink))
            }
            Mark::Frame { rect, radius, width, ink } => {
                let half = Point::new(width / 2.0, width / 2.0);
                let inner = Rect::new(rect.min + half, rect.max - half);
                format!("<rect {} {}/>", corners(inner, *radius), line(*width, *ink))
            }
            Mark::Dot { at, radius, ink } => {
                format!("<circle {} r=\"{}\" fill=\"{}\"/>", centre(*at), short(*radius), colour(*ink))
            }
            Mark::Ring { at, radius, width, ink } => {
                format!("<circle {} r=\"{}\" {}/>", centre(*at), short(radius - width / 2.0), line(*width, *ink))
            }
            Mark::Cross { at, reach, width, ink } => {
                let (a, b) = (Point::new(*reach, *reach), Point::new(*reach, -reach));
                let d = points(&[*at - a, *at + a]) + &points(&[*at - b, *at + b]);
                format!("<path d=\"{d}\" {}/>", line(*width, *ink))
            }
            Mark::Text { .. } => self.text(mark),
        };
        self.body += &shape;
        self.body.push('\n');
    }

    fn text(&mut self, mark: &Mark) -> String {
        let Mark::Text { at, side, text, face, size, ink } = mark else { return String::new() };
        let runs = self.typesetter.set(text, *face);
        let width = runs.last().map_or(0.0, |run| (run.at + run.width()) * size);
        let left = self.typesetter.left(text, (*face, *size), *side, at.x);
        let mut shape = format!("<g aria-hidden=\"true\" fill=\"{}\">", colour(*ink));
        for run in &runs {
            let scale = size / self.typesetter.em(run.font);
            let mut x = left + run.at * size;
            for glyph in &run.glyphs {
                if self.keep(run.font, glyph.id) {
                    let place = Point::new(x + glyph.shift.0 * size, at.y - glyph.shift.1 * size);
                    let _ = write!(
                        shape,
                        "<use xlink:href=\"#g{}-{}\" transform=\"translate({} {}) scale({:.5} -{:.5})\"/>",
                        run.font.0,
                        glyph.id,
                        short(place.x),
                        short(place.y),
                        scale,
                        scale
                    );
                }
                x += glyph.advance * size;
            }
        }
        shape += "</g>";
        if !text.trim().is_empty() {
            let _ = write!(
                shape,
                "<text x=\"{}\" y=\"{}\" font-size=\"{}\" textLength=\"{}\" lengthAdjust=\"spacingAndGlyphs\" \
                 fill=\"none\" xml:space=\"preserve\">{}</text>",
                short(left),
                short(at.y),
                short(*size),
                short(width),
                escaped(text)
            );
        }
        shape
    }

    /// Keeps a glyph's outline; whether it has one.
    fn keep(&mut self, font: FontId, glyph: u16) -> bool {
        let typesetter = &self.typesetter;
        let outline = self.letters.entry((font, glyph)).or_insert_with(|| {
            let mut outline = Outline(String::new());
            typesetter.outline(font, glyph, &mut outline);
            outline.0
        });
        !outline.is_empty()
    }
}

fn opened(role: &Role) -> String {
    match role {
        Role::Heading(level, text) => {
            format!("<g role=\"heading\" aria-level=\"{level}\" aria-label=\"{}\">\n", escaped(text))
        }
        Role::Paragraph => "<g role=\"paragraph\">\n".to_owned(),
        Role::Figure(alt) => format!("<g role=\"img\" aria-label=\"{}\">\n", escaped(alt)),
        Role::Table => "<g role=\"table\">\n".to_owned(),
        Role::Row => "<g role=\"row\">\n".to_owned(),
        Role::ColumnHead => "<g role=\"columnheader\">\n".to_owned(),
        Role::RowHead => "<g role=\"rowheader\">\n".to_owned(),
        Role::Cell => "<g role=\"cell\">\n".to_owned(),
    }
}

/// In hundredths of a point, without what is not needed.
fn short(number: f32) -> String {
    let text = format!("{number:.2}");
    let text = text.trim_end_matches('0').trim_end_matches('.');
    if text == "-0" { "0".to_owned() } else { text.to_owned() }
}

fn points(points: &[Point]) -> String {
    let place = |(index, point): (usize, &Point)| {
        format!("{}{} {}", if index == 0 { 'M' } else { 'L' }, short(point.x), short(point.y))
    };
    points.iter().enumerate().map(place).collect()
}

fn corners(rect: Rect, radius: f32) -> String {
    let [x, y, width, height] = [rect.min.x, rect.min.y, rect.width(), rect.height()].map(short);
    format!("x=\"{x}\" y=\"{y}\" width=\"{width}\" height=\"{height}\" rx=\"{}\"", short(radius))
}

fn centre(at: Point) -> String {
    format!("cx=\"{}\" cy=\"{}\"", short(at.x), short(at.y))
}

fn line(width: f32, ink: Ink) -> String {
    format!("fill=\"none\" stroke=\"{}\" stroke-width=\"{}\"", colour(ink), short(width))
}

fn colour(ink: Ink) -> String {
    let grey = grey(ink);
    format!("#{grey:02x}{grey:02x}{grey:02x}")
}

fn escaped(text: &str) -> String {
    let keep = |char: char| if char.is_control() { ' ' } else { char };
    let text: String = text.chars().map(keep).collect();
    text.replace('&', "&amp;").replace('<', "&lt;").replace('>', "&gt;").replace('"', "&quot;")
}

/// An outline as SVG path data, in font units.
struct Outline(String);

impl Outline {
    fn push(&mut self, letter: char, numbers: &[f32]) {
        self.0.push(letter);
        self.0 += &numbers.iter().map(|number| short(*number)).collect::<Vec<_>>().join(" ");
    }
}

impl OutlineBuilder for Outline {
    fn move_to(&mut self, x: f32, y: f32) {
        self.push('M', &[x, y]);
    }
    fn line_to(&mut self, x: f32, y: f32) {
        self.push('L', &[x, y]);
    }
    fn quad_to(&mut self, x1: f32, y1: f32, x: f32, y: f32) {
        self.push('Q', &[x1, y1, x, y]);
    }
    fn curve_to(&mut self, x1: f32, y1: f32, x2: f32, y2: f32, x: f32, y: f32) {
        self.push('C', &[x1, y1, x2, y2, x, y]);
    }
    fn close(&mut self) {
        self.0.push('Z');
    }
}
