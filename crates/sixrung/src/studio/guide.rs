//! The guide in the room: laid out when the page opens and again when a choice changes, written when asked for.

use std::io::{self, Write as _};
use std::path::{Path, PathBuf};
use std::sync::Arc;

use sixrung_drawing::Hand;
use sixrung_exchange::guide::{Guide, GuideOptions, Paper, Print, lay_out, pdf};
use sixrung_practice::Moment;

use super::Studio;
use crate::pages::GuidePage;
use crate::stand::GuideWish;
use crate::text::guide::WORDS;
use crate::text::guide_page as text;
use crate::theme::guide_fonts;

/// In the journal's settings: what paper and print were chosen last.
const PAPER: &str = "guide.paper";
const PRINT: &str = "guide.print";
/// So many files of one day and one set of choices get names of their own.
const MOST_FILES: usize = 99;

/// What the room knows of the page.
#[derive(Default)]
pub(super) struct OnPaper {
    options: GuideOptions,
    made: Option<Arc<Guide>>,
    /// The page shown, from 0, and whether its lower half.
    page: usize,
    lower: bool,
    closer: bool,
    said: String,
}

impl Studio {
    /// The page is opened: for the player's hand, as the lesson on the stand is played, on the paper chosen last.
    pub(super) fn open_guide(&mut self) {
        let kept = self.keeper.settings();
        let is = |key: &str, word: &str| kept.get(key).is_some_and(|kept| kept == word);
        let options = GuideOptions {
            paper: if is(PAPER, "letter") { Paper::Letter } else { Paper::A4 },
            hand: self.session.settings().look.hand,
            print: if is(PRINT, "large") { Print::Large } else { Print::Usual },
            arrangement: self.session.stage().map(|stage| stage.arrangement.clone()).unwrap_or_default(),
        };
        self.on_paper = OnPaper { options, ..OnPaper::default() };
        self.lay_out_guide();
    }

    fn lay_out_guide(&mut self) {
        let Some(stage) = self.session.stage() else { return };
        match lay_out(&stage.lesson, &self.on_paper.options, &WORDS, &guide_fonts()) {
            Ok(guide) => {
                self.on_paper.page = self.on_paper.page.min(guide.pages.len().saturating_sub(1));
                self.on_paper.made = Some(Arc::new(guide));
            }
            Err(error) => {
                self.on_paper.made = None;
                self.on_paper.said = error.to_string();
            }
        }
    }

    pub(super) fn guide_wish(&mut self, wish: GuideWish, now: Moment) {
        self.on_paper.said.clear();
        let options = &mut self.on_paper.options;
        match wish {
            GuideWish::Next => return self.on_paper.turn(),
            GuideWish::Previous => return self.on_paper.turn_back(),
            GuideWish::Closer => {
                self.on_paper.closer = !self.on_paper.closer;
                self.on_paper.lower = false;
                return;
            }
            GuideWish::Write => {
                self.on_paper.said = self.write_guide(now);
                return;
            }
            GuideWish::Paper(paper) => {
                options.paper = paper;
                self.keeper.set(PAPER, if paper == Paper::Letter { "letter" } else { "a4" });
            }
            GuideWish::Print(print) => {
                options.print = print;
                self.keeper.set(PRINT, if print == Print::Large { "large" } else { "usual" });
            }
            GuideWish::Hand(hand) => options.hand = hand,
            GuideWish::OtherHand => options.hand = if options.hand == Hand::Left { Hand::Right } else { Hand::Left },
            GuideWish::Arrangement(place) => {
                let Some(stage) = self.session.stage() else { return };
                let Some(chosen) = stage.lesson.arrangements.get(place) else { return };
                options.arrangement = chosen.clone();
            }
        }
        self.lay_out_guide();
    }

    /// Writes the PDF; says where to, or what is wrong.
    fn write_guide(&self, now: Moment) -> String {
        let Some(guide) = &self.on_paper.made else { return String::new() };
        let Some(path) = self.beside(&file_name(guide, &self.on_paper.options), "pdf", now) else {
            return text::NO_FOLDER.to_owned();
        };
        let bytes = match pdf::write(guide, &guide_fonts()) {
            Ok(bytes) => bytes,
            Err(error) => return error.to_string(),
        };
        let path = unused(path, &bytes);
        match crate::files::write_whole(&path, |file| file.write_all(&bytes)) {
            Ok(()) => text::written(&path),
            Err(error) => text::unwritten(&path, &io::Error::to_string(&error)),
        }
    }

    /// What the page shows now.
    pub(crate) fn guide_page(&self) -> GuidePage {
        let OnPaper { options, made, page, lower, closer, said } = &self.on_paper;
        let Some(stage) = self.session.stage() else { return GuidePage::default() };
        let arrangements = stage.lesson.arrangements.iter();
        GuidePage {
            guide: made.clone(),
            page: *page,
            closer: closer.then_some(*lower),
            paper: options.paper,
            hand: options.hand,
            print: options.print,
            arrangements: arrangements.map(|one| (one.name.clone(), one.name == options.arrangement.name)).collect(),
            said: said.clone(),
        }
    }
}

impl OnPaper {
    fn turn(&mut self) {
        let last = self.made.as_ref().map_or(0, |guide| guide.pages.len().saturating_sub(1));
        if self.closer && !self.lower {
            self.lower = true;
        } else if self.page < last {
            self.page += 1;
            self.lower = false;
        }
    }

    fn turn_back(&mut self) {
        if self.lower {
            self.lower = false;
        } else if self.page > 0 {
            self.page -= 1;
            self.lower = self.closer;
        }
    }
}

/// What it is a guide of, and how it was made: a name that any disk takes.
fn file_name(guide: &Guide, options: &GuideOptions) -> String {
    let left = (options.hand == Hand::Left).then(|| text::hand(options.hand));
    let large = (options.print == Print::Large).then(|| text::print(options.print));
    let parts =
        [Some(guide.title.as_str()), Some(&options.arrangement.name), Some(text::paper(options.paper)), left, large];
    let words = parts.into_iter().flatten().map(plain).filter(|word| !word.is_empty());
    ["guide".to_owned()].into_iter().chain(words).collect::<Vec<_>>().join("-")
}

/// Letters and digits in lower case, a hyphen for everything else, no longer than a file's name may be.
fn plain(text: &str) -> String {
    const MOST: usize = 40;
    let words = text.split(|char: char| !char.is_alphanumeric()).filter(|word| !word.is_empty());
    let name = words.collect::<Vec<_>>().join("-").to_lowercase();
    name.chars().take(MOST).collect::<String>().trim_end_matches('-').to_owned()
}

/// This path, or one like it, where no other file lies: a guide that was written before stays as it is. The same guide
/// keeps its path.
fn unused(path: PathBuf, bytes: &[u8]) -> PathBuf {
    let is_free = |path: &Path| !path.exists() || std::fs::read(path).is_ok_and(|there| there == bytes);
    let numbered = |number: usize| {
        let stem = path.file_stem().unwrap_or_default().to_string_lossy();
        path.with_file_name(format!("{stem}-{number}.pdf"))
    };
    if is_free(&path) {
        return path;
    }
    (2..=MOST_FILES).map(numbered).find(|path| is_free(path)).unwrap_or_else(|| numbered(MOST_FILES + 1))
}

#[cfg(test)]
mod tests {
    use super::{plain, unused};

    #[test]
    fn a_title_becomes_a_name_that_any_disk_takes() {
        let check = |title: &str, expected: &str| assert_eq!(plain(title), expected, "{title}");
        check("Lantern on the Quay", "lantern-on-the-quay");
        check("../../etc/passwd", "etc-passwd");
        check("Größe: 3/4 “so”", "größe-3-4-so");
        check("…", "");
        check(&"long ".repeat(30), "long-long-long-long-long-long-long-long");
    }

    #[test]
    fn another_file_is_never_written_over() {
        let folder = tempfile::tempdir().expect("a folder");
        let path = folder.path().join("guide.pdf");
        assert_eq!(unused(path.clone(), b"one"), path);
        std::fs::write(&path, b"one").expect("written");
        assert_eq!(unused(path.clone(), b"one"), path, "the same guide keeps its path");
        let second = folder.path().join("guide-2.pdf");
        assert_eq!(unused(path.clone(), b"two"), second);
        std::fs::write(&second, b"two").expect("written");
        assert_eq!(unused(path.clone(), b"two"), second);
        assert_eq!(unused(path, b"three"), folder.path().join("guide-3.pdf"));
    }
}
