//! The guide in the room: laid out when the page opens and again when a choice changes, written when asked for.

use std::sync::Arc;

use sixrung_drawing::Hand;
use sixrung_exchange::guide::{Guide, GuideOptions, Paper, Print, lay_out, pdf};
use sixrung_practice::Moment;

use super::Studio;
use crate::files::{stem, write_new};
use crate::pages::GuidePage;
use crate::stand::GuideWish;
use crate::text::guide::WORDS;
use crate::text::guide_page as text;
use crate::theme::guide_fonts;

/// In the journal's settings: what paper and print were chosen last.
const PAPER: &str = "guide.paper";
const PRINT: &str = "guide.print";

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
        let Some(folder) = self.paper_folder() else { return text::NO_FOLDER.to_owned() };
        let bytes = match pdf::write(guide, &guide_fonts()) {
            Ok(bytes) => bytes,
            Err(error) => return error.to_string(),
        };
        let stem = file_stem(guide, &self.on_paper.options, &self.date(now));
        match write_new(folder, &stem, ".pdf", &bytes) {
            Ok(path) => text::written(&path),
            Err(error) => text::unwritten(&folder.join(stem).with_extension("pdf"), &error.to_string()),
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

/// What it is a guide of, how it was made, and when.
fn file_stem(guide: &Guide, options: &GuideOptions, date: &str) -> String {
    let left = if options.hand == Hand::Left { text::hand(options.hand) } else { "" };
    let large = if options.print == Print::Large { text::print(options.print) } else { "" };
    stem("guide", &guide.title, &[&options.arrangement.name, text::paper(options.paper), left, large, date])
}
