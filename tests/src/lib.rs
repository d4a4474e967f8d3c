//! What the whole-program tests share: where the workspace lies, and a walk over its files.

pub mod called;
pub mod evening;
pub mod made_up_month;
pub mod pictures;
pub mod script;

use std::fs;
use std::path::{Path, PathBuf};

/// The workspace's top folder.
#[must_use]
pub fn workspace() -> PathBuf {
    Path::new(env!("CARGO_MANIFEST_DIR")).parent().expect("the tests lie one folder below the top").to_path_buf()
}

/// Every file under `dir` whose name ends in `suffix`, sorted; build output and dot folders are passed over.
#[must_use]
pub fn files_under(dir: &Path, suffix: &str) -> Vec<PathBuf> {
    let mut found = Vec::new();
    let mut open = vec![dir.to_path_buf()];
    while let Some(dir) = open.pop() {
        for entry in fs::read_dir(&dir).into_iter().flatten().flatten() {
            let path = entry.path();
            let name = entry.file_name().to_string_lossy().into_owned();
            if path.is_dir() {
                if name != "target" && !name.starts_with('.') {
                    open.push(path);
                }
            } else if name.ends_with(suffix) {
                found.push(path);
            }
        }
    }
    found.sort();
    found
}
