//! The printable guide of every demo, on every paper, in every print.

mod support;

use sixrung_drawing::{Hand, Mark, chord_name};
use sixrung_exchange::guide::{Guide, GuideOptions, Node, Page, Paper, Print, Role, lay_out, pdf, svg};
use sixrung_lesson::{Lesson, Stretch, layout, read};
use sixrung_practice::Ladder;

use support::{FONTS, WORDS, demos};

fn made(lesson: &Lesson, options: &GuideOptions) -> Guide {
    lay_out(lesson, options, &WORDS, &FONTS).unwrap_or_else(|error| panic!("{}: {error}", lesson.title))
}

/// Both papers and both prints; and every arrangement once.
fn choices(lesson: &Lesson) -> Vec<GuideOptions> {
    let first = usual(lesson);
    let left = GuideOptions { hand: Hand::Left, print: Print::Large, ..first.clone() };
    let mut all = vec![
        GuideOptions { paper: Paper::Letter, ..first.clone() },
        GuideOptions { paper: Paper::Letter, ..left.clone() },
        left,
    ];
    all.extend(
        lesson
            .arrangements
            .iter()
            .map(|arrangement| GuideOptions { arrangement: arrangement.clone(), ..GuideOptions::default() }),
    );
    all
}

fn usual(lesson: &Lesson) -> GuideOptions {
    GuideOptions { arrangement: lesson.arrangements[0].clone(), ..GuideOptions::default() }
}

/// A line of text as the SVG has it: its place, size and width.
struct Line {
    x: f32,
    y: f32,
    size: f32,
    width: f32,
    text: String,
}

/// The lines of a page, read back from its SVG by another's parser.
fn lines(guide: &Guide, page: usize) -> Vec<Line> {
    let file = svg::write(guide, page, &FONTS).expect("the page is written");
    let tree = roxmltree::Document::parse(&file).expect("it is XML");
    let texts = tree.descendants().filter(|node| node.has_tag_name("text"));
    let line = |node: roxmltree::Node<'_, '_>| {
        let number = |name| node.attribute(name).and_then(|text| text.parse().ok()).expect("a number");
        Line {
            x: number("x"),
            y: number("y"),
            size: number("font-size"),
            width: number("textLength"),
            text: node.text().unwrap_or_default().to_owned(),
        }
    };
    texts.map(line).collect()
}

fn groups(page: &Page) -> impl Iterator<Item = (&Role, &Vec<Node>)> {
    page.nodes.iter().filter_map(|node| if let Node::Group(role, nodes) = node { Some((role, nodes)) } else { None })
}

#[test]
fn the_same_lesson_gives_the_same_bytes_and_no_date_in_60_kilobytes() {
    for (name, lesson) in demos() {
        for options in choices(&lesson) {
            let (first, second) = (made(&lesson, &options), made(&lesson, &options));
            let bytes = pdf::write(&first, &FONTS).expect("it is written");
            assert_eq!(bytes, pdf::write(&second, &FONTS).expect("it is written"), "{name} {options:?}");
            assert!(bytes.len() <= 60_000, "{name} {options:?}: {} bytes", bytes.len());
            for word in ["/CreationDate", "/ModDate", "xmp:CreateDate", "xmp:ModifyDate"] {
                assert!(!bytes.windows(word.len()).any(|window| window == word.as_bytes()), "{name} has {word}");
            }
        }
        let guide = made(&lesson, &usual(&lesson));
        let page = || svg::write(&guide, 0, &FONTS).expect("it is written");
        assert_eq!(page(), page(), "{name}");
    }
}

/// Names as long as they may be without a space, many sections, the most rungs a ladder takes, a bar of 24 slots, a high barre.
fn unwieldy() -> Lesson {
    let long = "Thewindthatshookthelanternandthekettle";
    let sections: String = (0..6)
        .map(|number| {
            format!(
                r#"(name: "{long} {number}", entries: [(chord: "F#m7b5", pattern: "{long}", times: 99),
                (chord: "F#m7b5", pattern: "{long}", times: 2, last: (pattern: "other"))],
                words: ["^{long}{long} and {long}-{long} so on and on and on and on until the row is full and goes on"]),"#
            )
        })
        .collect();
    let text = format!(
        r#"Lesson(version: 1, title: "{long}{long}", credit: "{long}{long}", tempo: 126.5, meter: "12/8", beat: "dotted quarter",
        shapes: [(name: "F#m7b5", frets: "x-9-10-9-10-x", fingers: "-1324-")],
        patterns: [
            (name: "{long}", grid: "sixteenths", strokes: "D U D U D U D U D U D U D U D U D U D U D U D U"),
            (name: "other", grid: "eighths", strokes: "D . . . . . S . . . . ."),
        ],
        sections: [{sections}],
        ladder: (start: 20, rungs: 24, up_after: 9))"#
    );
    read(text.as_bytes()).unwrap_or_else(|findings| panic!("{findings:?}")).lesson
}

/// Boxes of capitals and descenders, a little smaller than the letters: what overlaps here overlaps on paper.
#[test]
fn no_line_leaves_the_paper_or_lies_on_another() {
    for (name, lesson) in demos().into_iter().chain([("unwieldy", unwieldy())]) {
        for options in choices(&lesson) {
            let guide = made(&lesson, &options);
            let (width, height) = guide.size;
            for page in 0..guide.pages.len() {
                let lines = lines(&guide, page);
                for line in &lines {
                    let inside = line.x >= 18.0 && line.x + line.width <= width - 18.0;
                    let on = line.y - line.size * 0.8 >= 18.0 && line.y <= height - 18.0;
                    assert!(inside && on, "{name} {options:?}, page {page}: {:?} leaves the paper", line.text);
                }
                for (index, one) in lines.iter().enumerate() {
                    for other in &lines[index + 1..] {
                        let apart = one.x + one.width <= other.x + 0.6
                            || other.x + other.width <= one.x + 0.6
                            || one.y + one.size * 0.15 <= other.y - other.size * 0.68
                            || other.y + other.size * 0.15 <= one.y - one.size * 0.68;
                        assert!(apart, "{name} {options:?}, page {page}: {:?} lies on {:?}", one.text, other.text);
                    }
                }
            }
        }
    }
}

/// The sung words in order, each with the chord over its syllable, as the lesson lays them out.
#[test]
fn every_chord_name_stands_over_its_syllable() {
    for (name, lesson) in demos() {
        for options in choices(&lesson) {
            let guide = made(&lesson, &options);
            let lines: Vec<Line> = (0..guide.pages.len()).flat_map(|page| lines(&guide, page)).collect();
            let mut at = 0;
            for section in &lesson.sections {
                let stretch = Stretch::Section(section.name.clone());
                let score = layout(&lesson, &stretch, &options.arrangement).expect("a demo can be laid out");
                for line in &score.lines {
                    for (index, syllable) in line.syllables.iter().enumerate() {
                        let Some(change) = syllable.change else { continue };
                        let shape = score.changes[change].shape;
                        let chord = shape.map_or("N.C.".to_owned(), |shape| chord_name(&score.shapes[shape].name));
                        let rest: String = line.syllables[index..]
                            .iter()
                            .scan(false, |done, next| {
                                let was = std::mem::replace(done, next.ends_word);
                                (!was).then_some(next.text.as_str())
                            })
                            .collect();
                        // The name is read first, then its syllable, at the same left end and close under it.
                        let found = (at..lines.len().saturating_sub(1)).find(|index| {
                            let (over, under) = (&lines[*index], &lines[index + 1]);
                            let sung = under.text.split(' ').next().unwrap_or_default();
                            over.text.trim_end() == chord
                                && (syllable.text.is_empty()
                                    || (!sung.is_empty()
                                        && rest.starts_with(sung)
                                        && (over.x - under.x).abs() < 0.02
                                        && under.y > over.y
                                        && under.y - over.y < 1.2 * under.size))
                        });
                        at = found.unwrap_or_else(|| panic!("{name}: {chord} over {rest:?}")) + 1;
                    }
                }
            }
        }
    }
}

#[test]
fn the_ladder_has_a_box_for_every_clean_pass_that_climbs() {
    for (name, lesson) in demos() {
        let guide = made(&lesson, &usual(&lesson));
        let tables: Vec<&Vec<Node>> = guide
            .pages
            .iter()
            .flat_map(groups)
            .filter(|(role, _)| **role == Role::Table)
            .map(|(_, nodes)| nodes)
            .collect();
        let boxes = |table: &[Node]| {
            table
                .iter()
                .filter(|node| matches!(node, Node::Group(Role::Row, _)))
                .flat_map(Node::marks)
                .filter(|mark| matches!(mark, Mark::Frame { .. }))
                .count()
        };
        let rungs = Ladder::new(&lesson.ladder, lesson.tempo).rungs().len();
        let mut sections = lesson.form.clone();
        sections.sort_unstable();
        sections.dedup();
        // The whole piece is a column too.
        let drawn: usize = tables.iter().map(|table| boxes(table)).sum();
        assert_eq!(drawn, rungs * (sections.len() + 1) * usize::from(lesson.ladder.up_after), "{name}");
        let days =
            guide.pages.iter().flat_map(groups).find(|(role, _)| **role == Role::Figure(WORDS.days_grid.to_owned()));
        let days = days.expect("a day grid").1.iter().flat_map(Node::marks);
        assert_eq!(days.filter(|mark| matches!(mark, Mark::Frame { .. })).count(), 28, "{name}");
    }
}

#[test]
fn everything_has_a_part_in_the_structure_or_is_decoration() {
    for (name, lesson) in demos() {
        let guide = made(&lesson, &usual(&lesson));
        let nodes: Vec<&Node> = guide.pages.iter().flat_map(|page| &page.nodes).collect();
        assert!(nodes.iter().all(|node| !matches!(node, Node::Marks(_))), "{name}");
        let roles: Vec<&Role> = guide.pages.iter().flat_map(groups).map(|(role, _)| role).collect();
        assert_eq!(*roles[0], Role::Heading(1, lesson.title.clone()));
        let headings: Vec<&str> = roles
            .iter()
            .filter_map(|role| if let Role::Heading(2, text) = role { Some(text.as_str()) } else { None })
            .collect();
        assert_eq!(headings, ["Chords", "Strokes", "The song", "The ladder", "The days"], "{name}");
        let last = guide.pages.last().and_then(|page| groups(page).last()).expect("a last paragraph");
        let caution: String = last.1.iter().flat_map(Node::marks).map(text).collect();
        assert_eq!(caution, WORDS.caution, "{name}");
    }
}

fn text(mark: &Mark) -> &str {
    if let Mark::Text { text, .. } = mark { text } else { "" }
}

#[test]
fn no_heading_is_left_alone_at_the_foot_of_a_page() {
    for (name, lesson) in demos() {
        for options in choices(&lesson) {
            for page in &made(&lesson, &options).pages {
                let (last, _) = groups(page).last().expect("something on every page");
                assert!(!matches!(last, Role::Heading(..)), "{name} {options:?}: {last:?}");
            }
        }
    }
}

#[test]
fn a_stand_in_is_drawn_beside_its_chord_and_named() {
    let (_, lesson) = demos().into_iter().find(|(name, _)| *name == "lantern-on-the-quay").expect("the demo");
    let figures = |arrangement: &str| -> Vec<String> {
        let arrangement = lesson.arrangement(arrangement).expect("it is there").clone();
        let guide = made(&lesson, &GuideOptions { arrangement, ..GuideOptions::default() });
        let figures = guide.pages.iter().flat_map(groups).filter_map(|(role, _)| match role {
            Role::Figure(alt) if alt.contains("string 1 ") => alt.split(':').next().map(str::to_owned),
            _ => None,
        });
        figures.collect()
    };
    assert_eq!(figures("plain"), ["D", "A", "G", "Bm", "Bm7"]);
    assert_eq!(figures("easy"), ["D", "A", "G", "Bm7", "Bm"]);
}

#[test]
fn left_handed_paper_mirrors_the_strings_and_never_the_digits() {
    let (_, lesson) = demos().into_iter().next().expect("a demo");
    let seen = |hand| {
        let guide = made(&lesson, &GuideOptions { hand, ..usual(&lesson) });
        let (_, nodes) =
            guide.pages.iter().flat_map(groups).find(|(role, _)| matches!(role, Role::Figure(_))).expect("G");
        let at = |mark: &Mark| match mark {
            Mark::Text { text, at, .. } if text.len() == 1 && text.chars().all(char::is_numeric) => {
                Some((text.clone(), at.x))
            }
            _ => None,
        };
        let middle = nodes.iter().flat_map(Node::marks).find_map(|mark| match mark {
            Mark::Text { text, at, .. } if text.trim_end() == "G" => Some(at.x),
            _ => None,
        });
        (nodes.iter().flat_map(Node::marks).filter_map(at).collect::<Vec<_>>(), middle.expect("the name"))
    };
    let ((right, middle), (left, _)) = (seen(Hand::Right), seen(Hand::Left));
    assert_eq!(right.len(), 4);
    for ((digit, x), (mirrored, y)) in right.iter().zip(&left) {
        assert_eq!(digit, mirrored);
        assert!((x + y - 2.0 * middle).abs() < 0.01, "{digit} at {x} and {y} around {middle}");
    }
}

#[test]
fn the_capo_in_force_names_what_shapes_sound() {
    let (_, lesson) = demos().into_iter().find(|(name, _)| *name == "tin-roof-shuffle").expect("the demo");
    let guide = made(&lesson, &usual(&lesson));
    let texts: Vec<String> = lines(&guide, 0).into_iter().map(|line| line.text).collect();
    for expected in ["sounds A", "sounds D", "sounds E", "sounds F♯m"] {
        assert!(texts.iter().any(|text| text.starts_with(expected)), "{expected} is not in {texts:?}");
    }
    assert!(texts.iter().any(|text| text.contains("capo at fret 2")), "{texts:?}");
}

#[test]
fn letters_no_font_has_are_named_and_printed_as_boxes() {
    let lesson = |title: &str| {
        let text = format!(
            r#"Lesson(version: 1, title: "{title}", tempo: 90, meter: "4/4",
            shapes: [(name: "Bb", frets: "x13331", fingers: "-12341")],
            patterns: [(name: "plain", grid: "quarters", strokes: "D D D D")],
            sections: [(name: "All", entries: [(chord: "Bb", pattern: "plain")], words: ["^Bé ♭ song"])])"#
        );
        read(text.as_bytes()).unwrap_or_else(|findings| panic!("{findings:?}")).lesson
    };
    for (title, missing) in [("Song 漢 two", "漢"), ("Plain", ""), ("Ž ♯ ☃", "")] {
        let guide = made(&lesson(title), &GuideOptions::default());
        assert_eq!(guide.missing.iter().collect::<String>(), missing, "{title}");
        assert!(pdf::write(&guide, &FONTS).is_ok(), "{title} is written all the same");
    }
    let guide = made(&lesson("Song"), &GuideOptions::default());
    assert!(lines(&guide, 0).iter().any(|line| line.text.trim_end() == "B♭"), "the chord has its real sign");
}
