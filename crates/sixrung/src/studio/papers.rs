//! Files for people: where tables, guides, assignments and reports are written.

use std::path::{Path, PathBuf};

use sixrung_practice::{Date, Moment};

use super::Studio;
use crate::files::free_path;

impl Studio {
    /// The same room, with another place for what is written for people.
    #[must_use]
    pub fn with_papers(self, folder: PathBuf) -> Self {
        Self { papers: Some(folder), ..self }
    }

    /// Where files for people are written, made if it is not there yet; `None` when nothing is kept at all.
    pub(super) fn paper_folder(&self) -> Option<&Path> {
        let folder = self.papers.as_deref().or_else(|| self.keeper.folder())?;
        // Where it can't be made, writing says so.
        drop(std::fs::create_dir_all(folder));
        Some(folder)
    }

    /// A place for a file of today, where nothing lies yet.
    pub(super) fn paper_path(&self, name: &str, ending: &str, now: Moment) -> Option<PathBuf> {
        Some(free_path(self.paper_folder()?, &format!("{name}-{}", self.date(now)), ending))
    }

    /// The date, as it stands in names of files.
    pub(super) fn date(&self, now: Moment) -> String {
        Date::of(now.day(self.session.zone())).to_string()
    }
}
