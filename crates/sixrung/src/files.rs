//! Files are written beside their place and then renamed, so that nothing is ever half-written.

use std::ffi::OsString;
use std::fs::{self, File};
use std::io::{self, BufWriter};
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

/// A place in `folder` where nothing lies yet: `stem` and `ending`, with a number between them where that is taken.
#[must_use]
pub fn free_path(folder: &Path, stem: &str, ending: &str) -> PathBuf {
    let numbered = (2_u32..).map(|number| folder.join(format!("{stem}-{number}{ending}")));
    let mut places = std::iter::once(folder.join(format!("{stem}{ending}"))).chain(numbered);
    places.find(|path| !path.exists()).unwrap_or_else(|| folder.join(stem))
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

    use super::{free_path, io, write_whole};

    #[test]
    fn nothing_is_written_over_another_file() {
        let dir = tempfile::tempdir().expect("a folder to write in");
        for name in ["song.a.ron", "song-2.a.ron", "song-3.a.ron"] {
            let path = free_path(dir.path(), "song", ".a.ron");
            assert_eq!(path, dir.path().join(name));
            std::fs::write(&path, "").expect("a file");
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
