//! The house rules that a machine can hold: who may use whom, how long a file may be, what the pure crates leave out.

use std::collections::{BTreeMap, BTreeSet};
use std::fs;
use std::path::Path;

use sixrung_tests::{files_under, workspace};

/// crate folder, what of ours it may use, what of others it may use. A new edge is a decision: it is made here.
const MAY_USE: &[(&str, &[&str], &[&str])] = &[
    ("lesson", &[], &["ron", "serde"]),
    ("drawing", &["lesson"], &[]),
    ("timeline", &["lesson"], &[]),
    ("song", &["timeline"], &["ebur128", "realfft", "timestretch"]),
    ("audio", &["timeline"], &["crossbeam-channel", "ebur128"]),
    ("listen", &["lesson", "timeline"], &["realfft", "serde"]),
    ("practice", &["lesson", "listen", "timeline"], &[]),
    ("devices", &["audio", "listen", "timeline"], &["cpal", "crossbeam-channel", "hound", "midir", "rodio", "rtrb"]),
    ("journal", &["lesson", "practice"], &["crossbeam-channel", "rusqlite"]),
    (
        "exchange",
        &["drawing", "lesson", "practice", "timeline"],
        &["flacenc", "hound", "krilla", "ron", "rustybuzz", "serde"],
    ),
];

/// Domain crates: no clock, disk, thread, log or printing in what they ship.
const PURE: &[&str] = &["lesson", "drawing", "timeline", "song", "audio", "listen", "practice"];

const LONGEST_FILE: usize = 600;
const LONG_FILE: usize = 400;

fn read(path: &Path) -> String {
    fs::read_to_string(path).unwrap_or_else(|error| panic!("{}: {error}", path.display()))
}

/// Names under `[dependencies]` of a manifest.
fn dependencies(manifest: &str) -> BTreeSet<String> {
    manifest
        .lines()
        .skip_while(|line| line.trim() != "[dependencies]")
        .skip(1)
        .take_while(|line| !line.starts_with('['))
        .filter_map(|line| line.split(['.', ' ', '=']).next())
        .filter(|name| !name.is_empty() && !name.starts_with('#'))
        .map(str::to_owned)
        .collect()
}

#[test]
fn crates_use_only_what_the_table_allows() {
    for (name, ours, others) in MAY_USE {
        let manifest = read(&workspace().join("crates").join(name).join("Cargo.toml"));
        let allowed: BTreeSet<String> = ours
            .iter()
            .map(|ours| format!("sixrung-{ours}"))
            .chain(others.iter().map(|other| (*other).to_owned()))
            .collect();
        let extra: Vec<_> = dependencies(&manifest).difference(&allowed).cloned().collect();
        assert!(extra.is_empty(), "crates/{name} uses {extra:?}; decide it in the table of this test");
    }
}

#[test]
fn the_table_names_every_crate_and_points_one_way() {
    let order: BTreeMap<&str, usize> = MAY_USE.iter().enumerate().map(|(i, (name, ..))| (*name, i)).collect();
    for (name, ours, _) in MAY_USE {
        for used in *ours {
            assert!(order[used] < order[name], "{name} uses {used}, which stands below it");
        }
    }
    for manifest in files_under(&workspace().join("crates"), "Cargo.toml") {
        let folder = manifest.parent().and_then(Path::file_name).and_then(|name| name.to_str()).expect("a crate");
        assert!(folder == "sixrung" || order.contains_key(folder), "crates/{folder} is not in the table");
    }
}

#[test]
fn every_crate_inherits_the_lints_and_opens_with_its_purpose() {
    for manifest in files_under(&workspace(), "Cargo.toml") {
        let text = read(&manifest);
        if !text.contains("[package]") {
            continue;
        }
        assert!(text.contains("[lints]\nworkspace = true"), "{} does not inherit the lints", manifest.display());
        let lib = manifest.with_file_name("src").join("lib.rs");
        if lib.exists() {
            assert!(read(&lib).starts_with("//! "), "{} does not open with its purpose", lib.display());
        }
    }
}

#[test]
fn files_stay_short() {
    let mut long = Vec::new();
    for path in files_under(&workspace(), ".rs") {
        let lines = read(&path).lines().count();
        let name = path.strip_prefix(workspace()).unwrap_or(&path).display().to_string();
        assert!(lines <= LONGEST_FILE, "{name} has {lines} lines: find the second idea in it");
        if lines > LONG_FILE {
            long.push(format!("{lines} {name}"));
        }
    }
    println!("files over {LONG_FILE} lines: {long:#?}");
}

#[test]
fn pure_crates_have_no_clock_disk_or_thread() {
    const IMPURE: [&str; 9] = [
        "std::fs",
        "std::thread",
        "std::time::Instant",
        "std::time::SystemTime",
        "std::net",
        "println!",
        "eprintln!",
        "std::env",
        "std::process",
    ];
    for name in PURE {
        for path in files_under(&workspace().join("crates").join(name).join("src"), ".rs") {
            let text = read(&path);
            let shipped = text.split("#[cfg(test)]").next().unwrap_or(&text);
            for word in IMPURE {
                let used = shipped.lines().any(|line| line.contains(word) && !line.trim_start().starts_with("//"));
                assert!(!used, "{} uses {word}", path.display());
            }
        }
    }
}

#[test]
fn the_audio_path_never_locks_waits_or_prints() {
    const WAITS: [&str; 8] = ["Mutex", "RwLock", "Condvar", ".recv()", "select!", "sleep(", "println!", "Once"];
    for path in files_under(&workspace().join("crates/audio/src"), ".rs") {
        let text = read(&path);
        let shipped = text.split("#[cfg(test)]").next().unwrap_or(&text);
        for word in WAITS {
            let used = shipped.lines().any(|line| line.contains(word) && !line.trim_start().starts_with("//"));
            assert!(!used, "{} uses {word}", path.display());
        }
    }
}

#[test]
fn the_top_level_holds_only_what_the_design_names() {
    const NAMED: [&str; 8] =
        ["Cargo.toml", "Cargo.lock", "README.md", "DEVELOPERS.md", "LICENSE", "assets", "crates", "tests"];
    for entry in fs::read_dir(workspace()).expect("the workspace").flatten() {
        let name = entry.file_name().to_string_lossy().into_owned();
        let tool = name.starts_with('.') || name == "rust-toolchain.toml" || name == "target";
        // What the ignore list names is nobody's: a rendering made by the README's own lines, for example.
        let ignored = name.ends_with(".wav");
        assert!(tool || ignored || NAMED.contains(&name.as_str()), "{name} does not belong at the top");
    }
}
