//! What `render` writes: as loud as it should be, its parts together the whole, and the same again for the same call.

use std::ffi::OsString;
use std::path::Path;

use sixrung::cli::{Outcome, run};

const DEMOS: [&str; 4] = ["lantern-on-the-quay", "ferry-lullaby", "kettle-and-clock", "tin-roof-shuffle"];

fn render(args: &[&str]) -> serde_json::Value {
    let (mut out, mut err) = (Vec::new(), Vec::new());
    let args = ["sixrung", "render"].iter().chain(args).chain(&["--json"]).map(OsString::from);
    let Outcome::Done(code) = run(args, &mut out, &mut err) else { panic!("a command was named") };
    assert_eq!(code, 0, "{}", String::from_utf8_lossy(&err));
    serde_json::from_slice(&out).expect("JSON")
}

fn text(path: &Path) -> &str {
    path.to_str().expect("a plain path")
}

fn samples(path: &Path) -> Vec<f32> {
    sixrung_devices::decode(path).map_or_else(|error| panic!("{error}"), |read| read.mono)
}

/// EBU R 128, by libebur128's Rust port: −18 LUFS within 1, at most −1 dBTP, at both ends of the ladder.
#[test]
fn every_demo_is_as_loud_as_the_next_and_never_over() {
    let folder = tempfile::tempdir().expect("a folder");
    let out = folder.path().join("out.wav");
    for demo in DEMOS {
        for percent in ["60", "100"] {
            for parts in ["strum", "click,strum,bass,brushes"] {
                let told = render(&[demo, "--percent", percent, "--parts", parts, "--measure", "--out", text(&out)]);
                let (lufs, peak) = (told["loudness_lufs"].as_f64(), told["true_peak_dbtp"].as_f64());
                let told = format!("{demo} at {percent} %, {parts}: {lufs:?} LUFS, {peak:?} dBTP");
                assert!(lufs.is_some_and(|lufs| (lufs + 18.0).abs() <= 1.0), "{told}");
                assert!(peak.is_some_and(|peak| peak <= -1.0), "{told}");
            }
        }
    }
}

#[test]
fn the_parts_alone_are_together_the_whole() {
    let folder = tempfile::tempdir().expect("a folder");
    let (out, stems) = (folder.path().join("all.wav"), folder.path().join("stems"));
    // Softly played, so that the limiter has nothing to do.
    let stretch = ["ferry-lullaby", "--bars", "1-2", "--section", "Verse", "--parts", "click,strum,bass,brushes"];
    let told = render(&[&stretch[..], &["--out", text(&out), "--stems", text(&stems)]].concat());
    assert_eq!(told["stems"].as_array().map(Vec::len), Some(4));
    let whole = samples(&out);
    let mut sum = vec![0.0_f32; whole.len()];
    for name in ["click", "strum", "bass", "brushes"] {
        let part = samples(&stems.join(name).with_extension("wav"));
        assert!(part.iter().any(|sample| sample.abs() > 0.01), "{name} is to be heard");
        assert_eq!(part.len(), whole.len());
        sum.iter_mut().zip(&part).for_each(|(sum, sample)| *sum += sample);
    }
    let apart = sum.iter().zip(&whole).fold(0.0_f32, |apart, (sum, whole)| apart.max((sum - whole).abs()));
    assert!(apart < 1e-4, "at most {apart} apart");
}

#[test]
fn the_same_call_writes_the_same_file_and_another_seed_another() {
    let folder = tempfile::tempdir().expect("a folder");
    let write = |name: &str, more: &[&str]| {
        let out = folder.path().join(name);
        let call = ["lantern-on-the-quay", "--section", "Verse", "--bars", "1-2", "--out", text(&out)];
        render(&[&call[..], more].concat());
        std::fs::read(&out).expect("the file")
    };
    for name in ["a.wav", "a.flac"] {
        let first = write(name, &[]);
        assert!(first == write(name, &[]), "{name}");
        assert!(first != write(name, &["--seed", "7"]), "{name}");
    }
    let even = write("even.wav", &["--unevenness", "0"]);
    assert!(even == write("even.wav", &["--unevenness", "0", "--seed", "7"]), "nothing is left to chance");
    assert!(write("nylon.wav", &["--strings", "nylon"]) != write("steel.wav", &[]));
}

#[test]
fn a_flac_holds_what_the_wav_of_its_bits_does() {
    let folder = tempfile::tempdir().expect("a folder");
    for bits in ["16", "24"] {
        let [wav, flac] = ["a.wav", "a.flac"].map(|name| folder.path().join(name));
        for out in [&wav, &flac] {
            let call = ["tin-roof-shuffle", "--section", "Gutter", "--bars", "1-2", "--bits", bits];
            render(&[&call[..], &["--out", text(out)]].concat());
        }
        let (wav, flac) = (samples(&wav), samples(&flac));
        let apart = wav.iter().zip(&flac).fold(0.0_f32, |apart, (wav, flac)| apart.max((wav - flac).abs()));
        assert!(wav.len() == flac.len() && apart < 1e-4, "{bits} bits: {apart} apart");
    }
}
