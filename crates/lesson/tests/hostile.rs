//! Nothing anyone can put into a file makes the reader panic, overflow the stack, or say nothing.

use std::fs;
use std::path::Path;

use proptest::prelude::{ProptestConfig, Strategy, any, prop, proptest};
use proptest::test_runner::RngSeed;
use sixrung_lesson::{Severity, read};

/// Reads, and holds what must be true of any answer.
fn check(bytes: &[u8]) {
    match read(bytes) {
        Ok(read) => assert!(read.warnings.iter().all(|finding| finding.severity == Severity::Warning)),
        Err(findings) => {
            assert!(findings.iter().any(|finding| finding.severity == Severity::Error), "refused without an error");
            assert!(findings.is_sorted_by_key(|finding| finding.place), "not in the order of the text");
            for finding in findings {
                let lines = bytes.iter().filter(|byte| **byte == b'\n').count() + 1;
                assert!(finding.place.line as usize <= lines, "beyond the end: {finding}");
            }
        }
    }
}

/// The code of the first finding.
fn first_code(text: &str) -> &'static str {
    read(text.as_bytes()).expect_err("it is hostile")[0].code
}

fn demos() -> Vec<Vec<u8>> {
    let folder = Path::new(env!("CARGO_MANIFEST_DIR")).join("../../assets/lessons");
    let entries = fs::read_dir(folder).expect("the folder is part of the repository");
    let mut paths: Vec<_> = entries.map(|entry| entry.expect("it can be listed").path()).collect();
    paths.sort();
    paths.iter().map(|path| fs::read(path).expect("it can be read")).collect()
}

#[test]
fn brackets_without_end_do_not_overflow_the_stack() {
    for bracket in ["[", "(", "{", "Some(", "a:(", "[{(", "(a:["] {
        assert_eq!(
            first_code(&bracket.repeat(100_000 / bracket.len())),
            if bracket == "a:(" { "syntax" } else { "too-deep" }
        );
    }
    assert_eq!(first_code(&"/*".repeat(100_000)), "syntax");
    assert_eq!(first_code(&"\"".repeat(100_001)), "syntax");
}

#[test]
fn a_text_of_more_than_a_mebibyte_is_not_read() {
    let fitting = format!("// only blanks{}", " ".repeat((1 << 20) - 14));
    assert_eq!(first_code(&fitting), "syntax");
    assert_eq!(first_code(&format!("{fitting} ")), "too-large");
}

#[test]
fn there_is_an_end_to_what_is_read_of_everything() {
    let lesson = |rest: &str| {
        format!("Lesson(version: 1, title: \"x\", tempo: 90, meter: \"4/4\", patterns: [], sections: [], {rest})")
    };
    assert_eq!(first_code(&lesson(&format!("shapes: [{}]", "(),".repeat(50_000)))), "too-many");
    assert_eq!(first_code(&lesson(&"a: 1,".repeat(50_000))), "too-many");
    let findings = read(lesson(&format!("key: \"{}\"", "k".repeat(9_000))).as_bytes()).expect_err("too long a text");
    assert!(findings.iter().any(|finding| finding.code == "too-many"));
    let findings =
        read(lesson(&format!("shapes: [{}]", "(),".repeat(200))).as_bytes()).expect_err("shapes without names");
    assert_eq!(findings.len(), 100, "more than a hundred findings help nobody");
}

/// A change to a text: where, how much is cut out, and what is put there instead.
fn mutation() -> impl Strategy<Value = (usize, usize, Vec<u8>)> {
    let piece = prop::sample::select(vec![
        "",
        "(",
        ")",
        "[",
        "]",
        "{",
        "}",
        ",",
        ":",
        "\"",
        "\\",
        "^",
        "-",
        "^^",
        "0",
        "-1",
        "NaN",
        "9999999999999999999",
        "x",
        "/*",
        "//",
        "\n",
        "♭",
        "\u{feff}",
        "None",
        "Some(",
        "N.C.",
        "| ",
        "times: 65536,",
        "é",
    ])
    .prop_map(|text| text.as_bytes().to_vec());
    (any::<usize>(), 0..12_usize, piece)
}

proptest! {
    #![proptest_config(ProptestConfig { rng_seed: RngSeed::Fixed(6), failure_persistence: None, ..ProptestConfig::default() })]
    #[test]
    fn any_bytes_give_an_answer(bytes in prop::collection::vec(any::<u8>(), 0..400)) {
        check(&bytes);
    }

    #[test]
    fn any_text_behind_the_right_head_gives_an_answer(text in "[(\\[{}\\]),:\"a-z0-9 ^|\\\\\n]{0,200}") {
        check(format!("Lesson(version: 1, {text}").as_bytes());
        check(format!("Lesson(version: 1, {text})").as_bytes());
    }

    #[test]
    fn our_own_lessons_changed_at_random_give_an_answer(changes in prop::collection::vec(mutation(), 1..6)) {
        for mut bytes in demos() {
            for (place, length, piece) in &changes {
                let start = place % (bytes.len() + 1);
                let end = (start + length).min(bytes.len());
                bytes.splice(start..end, piece.iter().copied());
            }
            check(&bytes);
        }
    }

    #[test]
    fn our_own_lessons_cut_short_are_refused(cut in any::<prop::sample::Index>()) {
        for bytes in demos() {
            let end = bytes.iter().rposition(|byte| *byte == b')').expect("a lesson ends with )");
            let short = &bytes[..cut.index(end)];
            assert!(read(short).is_err());
            check(short);
        }
    }
}
