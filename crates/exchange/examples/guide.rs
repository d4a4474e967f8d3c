//! Writes the guides of the demos into a folder, as PDF and SVG, and says how long each takes:
//! `cargo run --release -p sixrung-exchange --example guide -- DIR`.

#[path = "../tests/support/mod.rs"]
mod support;

use std::path::PathBuf;
use std::time::Instant;

use sixrung_drawing::Hand;
use sixrung_exchange::guide::{Guide, GuideOptions, Paper, Print, lay_out, pdf, svg};
use sixrung_lesson::Lesson;

use support::{FONTS, WORDS, demos};

/// Each guide is made so often; the median is told.
const TIMES: usize = 21;

fn main() -> Result<(), Box<dyn std::error::Error>> {
    let folder = PathBuf::from(std::env::args().nth(1).ok_or("give a folder")?);
    std::fs::create_dir_all(&folder)?;
    for (name, lesson) in demos() {
        let arrangement = lesson.arrangements[0].clone();
        let plain = GuideOptions { arrangement: arrangement.clone(), ..GuideOptions::default() };
        let full = lesson.arrangements.iter().find(|arrangement| arrangement.name == "full").unwrap_or(&arrangement);
        let other = GuideOptions { paper: Paper::Letter, hand: Hand::Left, arrangement: full.clone(), ..plain.clone() };
        let large = GuideOptions { print: Print::Large, ..plain.clone() };
        for (kind, options) in [("", plain), ("-letter-left-full", other), ("-large", large)] {
            let mut took = Vec::new();
            let mut made = None;
            for _ in 0..TIMES {
                let start = Instant::now();
                made = Some(make(&lesson, &options)?);
                took.push(start.elapsed());
            }
            took.sort_unstable();
            let Some((guide, pdf)) = made else { continue };
            println!("{name}{kind}: {} pages, {} bytes, {:.1?}", guide.pages.len(), pdf.len(), took[TIMES / 2]);
            std::fs::write(folder.join(format!("{name}{kind}.pdf")), pdf)?;
            for page in 0..guide.pages.len() {
                let path = folder.join(format!("{name}{kind}-{}.svg", page + 1));
                std::fs::write(path, svg::write(&guide, page, &FONTS)?)?;
            }
        }
    }
    Ok(())
}

fn make(lesson: &Lesson, options: &GuideOptions) -> Result<(Guide, Vec<u8>), Box<dyn std::error::Error>> {
    let guide = lay_out(lesson, options, &WORDS, &FONTS)?;
    let pdf = pdf::write(&guide, &FONTS)?;
    Ok((guide, pdf))
}
