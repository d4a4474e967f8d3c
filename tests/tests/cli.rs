//! The command line as a user calls it: what it prints, its exit codes, and that nothing is ever half-written.

use sixrung_tests::called::{call, path};
use std::path::Path;

const DEMOS: [&str; 4] = ["lantern-on-the-quay", "ferry-lullaby", "kettle-and-clock", "tin-roof-shuffle"];

#[test]
fn every_demo_checks_clean() {
    let called = call(&[&["check"], &DEMOS[..]].concat());
    assert_eq!((called.code, called.err.as_str()), (0, ""));
}

#[test]
fn a_guide_is_one_pdf_or_one_svg_a_page() {
    let dir = tempfile::tempdir().expect("a folder");
    for demo in DEMOS {
        let (pdf, svg) = (path(dir.path(), "guide.pdf"), path(dir.path(), "guide.svg"));
        let called = call(&["guide", demo, "--out", &pdf, "--paper", "letter", "--left-handed", "--large", "--json"]);
        assert_eq!((called.code, called.err.as_str()), (0, ""), "{demo}");
        let told: serde_json::Value = serde_json::from_str(&called.out).expect("JSON");
        assert_eq!(told["out"][0], pdf.as_str());
        assert!(std::fs::read(&pdf).expect("the file").starts_with(b"%PDF-1.7"), "{demo}");
        let called = call(&["guide", demo, "--out", &svg]);
        assert_eq!(called.code, 0, "{demo}: {}", called.err);
        assert!(called.out.ends_with(" pages\n"), "{demo}: {}", called.out);
        for name in ["guide.svg", "guide-2.svg"] {
            let page = std::fs::read_to_string(dir.path().join(name)).expect("a page");
            assert!(page.starts_with("<svg ") && page.ends_with("</svg>\n"), "{demo}, {name}");
        }
    }
}

#[test]
fn a_fault_is_one_message_with_a_hint_and_the_right_code() {
    let dir = tempfile::tempdir().expect("a folder");
    let missing = path(dir.path(), "no.lesson.ron");
    let take = path(dir.path(), "take.wav");
    let nowhere = path(&dir.path().join("no/such"), "out.wav");
    let (paper, no_paper) = (path(dir.path(), "out.pdf"), path(&dir.path().join("no/such"), "out.pdf"));
    std::fs::write(&take, b"RIFF").expect("a broken recording");
    let rows: &[(&[&str], u8)] = &[
        (&["check", &missing], 1),
        (&["render", &missing, "--out", &take], 1),
        (&["render", "lantern-on-the-quay", "--section", "Verze", "--out", &take], 2),
        (&["render", "lantern-on-the-quay", "--section", "Verse", "--bars", "4-2", "--out", &take], 2),
        (&["render", "lantern-on-the-quay", "--arrangement", "none such", "--out", &take], 2),
        (&["render", "lantern-on-the-quay", "--bpm", "0", "--out", &take], 2),
        (&["render", "lantern-on-the-quay", "--bpm", "NaN", "--out", &take], 2),
        (&["render", "lantern-on-the-quay", "--section", "Verse", "--out", &nowhere], 1),
        (&["guide", &missing, "--out", &paper], 1),
        (&["guide", "lantern-on-the-quay", "--out", &take], 2),
        (&["guide", "lantern-on-the-quay", "--arrangement", "none such", "--out", &paper], 2),
        (&["guide", "lantern-on-the-quay", "--out", &no_paper], 1),
        (&["judge", "lantern-on-the-quay", &take], 1),
        (&["judge", "lantern-on-the-quay", &missing], 1),
    ];
    for (args, code) in rows {
        let called = call(args);
        assert_eq!(called.code, *code, "{args:?}: {}", called.err);
        assert!(called.err.contains("error: ") && called.err.contains("\nhint: "), "{args:?}: {}", called.err);
        assert_eq!(called.out, "", "{args:?}");
    }
    assert_eq!(std::fs::read_dir(dir.path()).expect("the folder").count(), 1, "nothing is left half-written");
}

#[test]
fn a_call_that_makes_no_sense_exits_with_2() {
    for args in [&["judge"][..], &["render", "x"], &["--no-such"], &["judge", "x", "y", "--level", "wizard"]] {
        assert_eq!(call(args).code, 2, "{args:?}");
    }
}

#[test]
fn what_is_rendered_says_where_it_starts_and_how_long_it_is() {
    let dir = tempfile::tempdir().expect("a folder");
    let wav = path(dir.path(), "verse.wav");
    let args = ["render", "lantern-on-the-quay", "--section", "Verse", "--percent", "60", "--count-in", "--json"];
    let called = call(&[&args[..], &["--out", &wav]].concat());
    assert_eq!(called.code, 0, "{}", called.err);
    let told: serde_json::Value = serde_json::from_str(&called.out).expect("JSON");
    assert_eq!(told["bpm"], 76.0);
    // One bar of four beats at 76 beats a minute.
    let starts_at = told["starts_at_s"].as_f64().expect("a number");
    assert!((starts_at - 4.0 * 60.0 / 76.0).abs() < 1e-4, "{starts_at}");
    let read = sixrung_devices::decode(Path::new(&wav)).expect("our own file");
    assert_eq!(read.mono.len() as u64, told["frames"].as_u64().expect("a count"));
}

#[test]
fn silence_is_not_judged_and_says_why() {
    let dir = tempfile::tempdir().expect("a folder");
    let wav = path(dir.path(), "silence.wav");
    let mut file = std::io::BufWriter::new(std::fs::File::create(&wav).expect("a file"));
    let mut writer =
        sixrung_exchange::wav::Writer::new(&mut file, 48_000, sixrung_exchange::wav::Format::Int16).expect("a writer");
    writer.write(&vec![0.0; 2 * 48_000 * 30]).expect("thirty seconds");
    writer.finish().expect("the end");
    drop(file);
    let args = ["judge", "lantern-on-the-quay", &wav, "--section", "Verse", "--percent", "60", "--starts-at", "1"];
    let called = call(&[&args[..], &["--json"]].concat());
    assert_eq!(called.code, 11, "{}{}", called.out, called.err);
    let told: serde_json::Value = serde_json::from_str(&called.out).expect("JSON");
    assert_eq!(told["verdict"], "not_judged");
    assert_eq!(told["reason"], "nothing was heard");
}

/// Our own guitar is one the ear's trees were not grown on, chucks and all.
#[test]
fn the_demos_parts_judged_against_themselves_are_clean() {
    let folder = tempfile::tempdir().expect("a temporary folder");
    let wav = path(folder.path(), "part.wav");
    for (lesson, section) in
        [("lantern-on-the-quay", "Verse"), ("kettle-and-clock", "Kitchen"), ("tin-roof-shuffle", "Gutter")]
    {
        let stretch = [lesson, "--section", section, "--percent", "70"];
        let rendered = call(&[&["render"], &stretch[..], &["--parts", "strum", "--out", &wav]].concat());
        assert_eq!(rendered.code, 0, "{lesson}: {}", rendered.err);
        let judged = call(&[&["judge", lesson, &wav], &stretch[1..], &["--starts-at", "0"]].concat());
        assert_eq!(judged.code, 0, "{lesson}: {}{}", judged.out, judged.err);
    }
}
