//! Files are written beside their place and then renamed, so that nothing is ever half-written.

use std::ffi::OsString;
use std::fs::{self, File};
use std::io::{self, BufWriter, Write as _};
use std::path::{Path, PathBuf};

/// Writes a file whole or not at all.
///
/// # Errors
/// Whatever the disk says; the half-written neighbour is removed and an older file at `path` is left as it was.
pub fn write_whole<E: From<io::Error>>(
    path: &Path,
    write: impl FnOnce(&mut BufWriter<File>) -> Result<(), E>,
) -> Result<(), E> {
    let beside = beside(path);
    let result = write_beside(&beside, write).and_then(|()| fs::rename(&beside, path).map_err(E::from));
    if result.is_err() {
        // The first error is the one worth telling; a leftover that can't be removed changes nothing about it.
        drop(fs::remove_file(&beside));
    }
    result
}

/// The most bytes read of an assignment or a report: more than one may have, so that they can say so.
pub const MOST_PAPER: u64 = 2 << 20;

/// Why a file was not read.
#[derive(Debug)]
pub enum Unread {
    /// What the disk says.
    Disk(io::Error),
    /// It has so many bytes, which is more than it may.
    TooLong(u64),
}

/// A file's bytes, at most so many: what is longer is not read into memory.
///
/// # Errors
/// Whatever the disk says, or how long it is.
pub fn read_at_most(path: &Path, most: u64) -> Result<Vec<u8>, Unread> {
    let size = fs::metadata(path).map_err(Unread::Disk)?.len();
    if size > most { Err(Unread::TooLong(size)) } else { fs::read(path).map_err(Unread::Disk) }
}

/// Writes a new file into `folder`, whole or not at all, where no other lies: the first of `stem`, `stem-2`, `stem-3` …
/// with this ending that is free. A file that holds just these bytes already is as good as written.
///
/// # Errors
/// Whatever the disk says.
pub fn write_new(folder: &Path, stem: &str, ending: &str, bytes: &[u8]) -> io::Result<PathBuf> {
    let unnamed = beside(&folder.join(format!("{stem}{ending}")));
    let written = write_beside(&unnamed, |file| file.write_all(bytes)).and_then(|()| {
        for path in places(folder, stem, ending) {
            if holds(&path, bytes) {
                return Ok(path);
            }
            if is_taken(&path) {
                continue;
            }
            match fs::hard_link(&unnamed, &path) {
                Ok(()) => return Ok(path),
                Err(error) if error.kind() == io::ErrorKind::AlreadyExists => {}
                // Some disks know no second name for a file; there a name taken in this very moment would be lost.
                Err(_) => return fs::rename(&unnamed, &path).map(|()| path),
            }
        }
        Err(io::ErrorKind::AlreadyExists.into())
    });
    // It has its own name now, or is of no use; a leftover that can't be removed changes nothing about it.
    drop(fs::remove_file(&unnamed));
    written
}

/// A place in `folder` where nothing lies yet: `stem` and `ending`, with a number between them where that is taken.
#[must_use]
pub fn free_path(folder: &Path, stem: &str, ending: &str) -> PathBuf {
    places(folder, stem, ending).find(|path| !is_taken(path)).expect("no folder has as many files as there are numbers")
}

fn places(folder: &Path, stem: &str, ending: &str) -> impl Iterator<Item = PathBuf> {
    let numbered = (2_u64..).map(|number| format!("-{number}"));
    let names = std::iter::once(String::new()).chain(numbered);
    names.map(move |number| folder.join(format!("{stem}{number}{ending}")))
}

/// Even a link that leads nowhere is somebody's.
fn is_taken(path: &Path) -> bool {
    fs::symlink_metadata(path).is_ok()
}

fn holds(path: &Path, bytes: &[u8]) -> bool {
    let is_as_long = fs::metadata(path).is_ok_and(|there| there.len() == bytes.len() as u64);
    is_as_long && fs::read(path).is_ok_and(|there| there == bytes)
}

/// What a file about a lesson is called, without its ending: what kind of file it is (may be empty), the title, and what
/// tells it from others of the lesson, in small letters and digits with hyphens between. Only the title is cut to make
/// all of it fit; a title of nothing but signs is "lesson".
#[must_use]
pub fn stem(kind: &str, title: &str, more: &[&str]) -> String {
    /// With a number and an ending it is a name that every file system takes: they take 255 bytes or 143.
    const MOST_BYTES: usize = 120;
    /// A word after the title has at most so many, so that the title keeps some.
    const MOST_BYTES_MORE: usize = 32;
    const NO_TITLE: &str = "lesson";
    let words = |texts: &[&str]| -> Vec<String> {
        let plain = texts.iter().map(|text| cut(&plain(text), MOST_BYTES_MORE).to_owned());
        plain.filter(|word| !word.is_empty()).collect()
    };
    let (before, after) = (words(&[kind]), words(more));
    let others: usize = before.iter().chain(&after).map(|word| word.len() + 1).sum();
    let title = plain(title);
    let title = cut(&title, MOST_BYTES.saturating_sub(others));
    let title = if title.is_empty() { NO_TITLE } else { title };
    let words = before.iter().map(String::as_str).chain([title]).chain(after.iter().map(String::as_str));
    words.collect::<Vec<_>>().join("-")
}

/// Letters and digits in lower case, a hyphen for everything between them.
fn plain(text: &str) -> String {
    let words = text.split(|char: char| !char.is_alphanumeric()).filter(|word| !word.is_empty());
    words.collect::<Vec<_>>().join("-").to_lowercase()
}

/// As much of the beginning as fits into so many bytes, letter by letter.
fn cut(text: &str, most_bytes: usize) -> &str {
    text[..text.floor_char_boundary(most_bytes)].trim_end_matches('-')
}

fn write_beside<E: From<io::Error>>(
    beside: &Path,
    write: impl FnOnce(&mut BufWriter<File>) -> Result<(), E>,
) -> Result<(), E> {
    let mut file = BufWriter::new(File::create(beside)?);
    write(&mut file)?;
    let file = file.into_inner().map_err(io::IntoInnerError::into_error)?;
    file.sync_all()?;
    Ok(())
}

fn beside(path: &Path) -> PathBuf {
    let mut name = OsString::from(".");
    name.push(path.file_name().unwrap_or_default());
    name.push(format!(".{}.part", std::process::id()));
    path.with_file_name(name)
}

#[cfg(test)]
mod tests {
    use std::io::Write as _;

    use super::{free_path, io, stem, write_new, write_whole};

    #[test]
    fn nothing_is_written_over_another_file() {
        let dir = tempfile::tempdir().expect("a folder to write in");
        for (content, name) in [("a", "song.a.ron"), ("b", "song-2.a.ron"), ("a", "song.a.ron"), ("c", "song-3.a.ron")]
        {
            let path = write_new(dir.path(), "song", ".a.ron", content.as_bytes()).expect("written");
            assert_eq!(path, dir.path().join(name), "the same again keeps its place");
            assert_eq!(std::fs::read_to_string(&path).expect("there"), content);
        }
        assert_eq!(std::fs::read_dir(dir.path()).expect("the folder").count(), 3);
        assert_eq!(free_path(dir.path(), "song", ".a.ron"), dir.path().join("song-4.a.ron"));
        for number in 4..=120 {
            std::fs::write(dir.path().join(format!("song-{number}.a.ron")), "x").expect("a file");
        }
        assert_eq!(free_path(dir.path(), "song", ".a.ron"), dir.path().join("song-121.a.ron"));
        let missing = write_new(&dir.path().join("no"), "song", ".a.ron", b"x").expect_err("no such folder");
        assert_eq!(missing.kind(), io::ErrorKind::NotFound);
    }

    #[test]
    fn a_title_becomes_a_name_that_any_disk_takes() {
        let check = |title: &str, more: &[&str], expected: &str| assert_eq!(stem("", title, more), expected, "{title}");
        check("Lantern on the Quay", &["Mira", "2026-11-24"], "lantern-on-the-quay-mira-2026-11-24");
        check("../../etc/passwd", &[""], "etc-passwd");
        check("Größe: 3/4 “so”", &[], "größe-3-4-so");
        check("…", &[], "lesson");
        check("…", &["!", "2026-11-24"], "lesson-2026-11-24");
        assert_eq!(stem("guide", "…", &["a4"]), "guide-lesson-a4");
        // Six bytes a letter's pair: the cut falls between letters, and what comes after the title is all there.
        for (title, learner) in [("日本 ".repeat(60), "Mira"), ("long ".repeat(60), "ö ".repeat(100).as_str())] {
            let stem = stem("", &title, &[learner, "2026-11-24"]);
            assert!(stem.len() <= 120 && stem.len() > 100, "{stem}");
            let learner = if learner == "Mira" { "-mira" } else { "-ö-ö-ö" };
            assert!(stem.contains(learner) && stem.ends_with("-2026-11-24") && !stem.contains("--"), "{stem}");
        }
    }

    #[test]
    fn a_failed_write_leaves_the_old_file_and_nothing_else() {
        let dir = tempfile::tempdir().expect("a folder to write in");
        let path = dir.path().join("a.wav");
        write_whole(&path, |file| file.write_all(b"old")).expect("the first write");
        let failed = write_whole(&path, |file| {
            file.write_all(b"half")?;
            Err(io::Error::other("full"))
        });
        assert_eq!(failed.expect_err("the second write fails").to_string(), "full");
        assert_eq!(std::fs::read(&path).expect("the file"), b"old");
        assert_eq!(std::fs::read_dir(dir.path()).expect("the folder").count(), 1);
    }
}
