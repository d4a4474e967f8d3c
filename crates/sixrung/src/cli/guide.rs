//! `sixrung guide`: a lesson on paper.

use std::io::{self, Write};
use std::path::{Path, PathBuf};

use serde::Serialize;
use sixrung_drawing::Hand;
use sixrung_exchange::guide::{Guide as Made, GuideOptions, Paper, Print, lay_out, pdf, svg};

use super::args::{self, Guide};
use super::fault::Fault;
use super::unprinted;
use super::what::{arrangement, open};
use crate::text::guide::WORDS;
use crate::theme::guide_fonts;

#[derive(Serialize)]
struct GuideJson {
    out: Vec<String>,
    pages: usize,
    missing: String,
}

/// Exit code 0 when every file was written.
pub(super) fn guide(args: &Guide, out: &mut dyn Write, err: &mut dyn Write) -> Result<u8, Fault> {
    let kind = Kind::of(&args.out)?;
    let lesson = open(&args.lesson)?;
    let options = GuideOptions {
        paper: match args.paper {
            args::Paper::A4 => Paper::A4,
            args::Paper::Letter => Paper::Letter,
        },
        hand: if args.left_handed { Hand::Left } else { Hand::Right },
        print: if args.large { Print::Large } else { Print::Usual },
        arrangement: arrangement(args.arrangement.as_deref(), &lesson)?,
    };
    let fault = |error: sixrung_exchange::guide::GuideError| Fault::error(format!("{}: {error}", args.lesson));
    let guide = lay_out(&lesson, &options, &WORDS, &guide_fonts()).map_err(fault)?;
    let mut written = Vec::new();
    for (path, bytes) in files(&guide, kind, &args.out).map_err(fault)? {
        crate::files::write_whole(&path, |file| file.write_all(&bytes)).map_err(|error: io::Error| {
            Fault::error(format!("{}: {error}", path.display()))
                .hint("is the folder there, may it be written to, and has the disk room?")
        })?;
        written.push(path.display().to_string());
    }
    let missing: String = guide.missing.iter().collect();
    if !missing.is_empty() {
        // A closed stderr leaves nobody to tell.
        drop(writeln!(err, "warning: no font has {missing}: a box is printed instead"));
    }
    print(args, &GuideJson { out: written, pages: guide.pages.len(), missing }, out)
        .map_err(|error| unprinted(&error))?;
    Ok(0)
}

#[derive(Clone, Copy)]
enum Kind {
    Pdf,
    Svg,
}

impl Kind {
    fn of(path: &Path) -> Result<Self, Fault> {
        let ending = path.extension().and_then(|ending| ending.to_str()).map(str::to_ascii_lowercase);
        match ending.as_deref() {
            Some("pdf") => Ok(Self::Pdf),
            Some("svg") => Ok(Self::Svg),
            _ => Err(Fault::usage(format!("{}: what kind of file is that to be?", path.display()))
                .hint("end its name in .pdf or .svg")),
        }
    }
}

/// Every file with its bytes.
fn files(guide: &Made, kind: Kind, out: &Path) -> Result<Vec<(PathBuf, Vec<u8>)>, sixrung_exchange::guide::GuideError> {
    match kind {
        Kind::Pdf => Ok(vec![(out.to_owned(), pdf::write(guide, &guide_fonts())?)]),
        Kind::Svg => (0..guide.pages.len())
            .map(|page| Ok((numbered(out, page), svg::write(guide, page, &guide_fonts())?.into_bytes())))
            .collect(),
    }
}

/// `guide.svg`, `guide-2.svg`, `guide-3.svg` …
fn numbered(out: &Path, page: usize) -> PathBuf {
    if page == 0 {
        return out.to_owned();
    }
    let stem = out.file_stem().map_or_else(String::new, |stem| stem.to_string_lossy().into_owned());
    out.with_file_name(format!("{stem}-{}.svg", page + 1))
}

fn print(args: &Guide, made: &GuideJson, out: &mut dyn Write) -> io::Result<()> {
    if args.json {
        serde_json::to_writer(&mut *out, made)?;
        return writeln!(out);
    }
    let pages = if made.pages == 1 { "1 page".to_owned() } else { format!("{} pages", made.pages) };
    writeln!(out, "{}: {pages}", made.out.join(", "))
}
