//! Hears a folder of change drills and holds what was heard against their truth.
//!
//! `cargo run -p sixrung-takes --example drills -- FOLDER [-v]`

use std::collections::BTreeMap;
use std::path::{Path, PathBuf};

use serde_json::Value;
use sixrung_lesson::read;
use sixrung_listen::{ChangeEvent, DrillChord, PlannedShape, hear_changes};

/// A change heard is the true one when its last old stroke is so near, in seconds; a stroke too.
const NEAR_S: f64 = 0.15;

#[derive(Default)]
struct Tally {
    takes: usize,
    counts_right: usize,
    changes: usize,
    heard: usize,
    false_changes: usize,
    botched: usize,
    botched_found: usize,
    botched_false: usize,
    errors_ms: Vec<f64>,
    /// Deed and chord told, of each stroke.
    strokes: BTreeMap<(String, String), usize>,
}

fn main() {
    let mut args = std::env::args().skip(1);
    let folder = PathBuf::from(args.next().expect("a folder of drills"));
    let verbose = args.any(|arg| arg == "-v");
    let entries = std::fs::read_dir(&folder).expect("the folder").flatten();
    let mut truths: Vec<PathBuf> = entries.map(|entry| entry.path()).collect();
    truths.retain(|path| path.to_string_lossy().contains("drill-") && path.extension().is_some_and(|is| is == "json"));
    truths.sort();
    let mut by_kind: BTreeMap<String, Tally> = BTreeMap::new();
    for path in &truths {
        let truth: Value = serde_json::from_slice(&std::fs::read(path).expect("a truth")).expect("JSON");
        let events = hear(&folder, path, &truth);
        let names = [text(&truth["shapes"][0]), text(&truth["shapes"][1])];
        for kind in ["all".to_owned(), text(&truth["condition"]), names.join(" ")] {
            by_kind.entry(kind).or_default().add(&truth, &names, &events, verbose.then_some(path));
        }
    }
    for (kind, tally) in &mut by_kind {
        tally.print(kind);
    }
}

fn text(value: &Value) -> String {
    value.as_str().unwrap_or_default().to_owned()
}

fn number(value: &Value) -> f64 {
    value.as_f64().unwrap_or(f64::NAN)
}

fn hear(folder: &Path, path: &Path, truth: &Value) -> Vec<ChangeEvent> {
    let lesson = std::fs::read(folder.join(text(&truth["lesson"]))).expect("the lesson");
    let lesson = read(&lesson).expect("a lesson").lesson;
    let shapes = PlannedShape::of(&lesson.shapes, &lesson.tuning, lesson.capo);
    let shape = |index: usize| {
        let name = text(&truth["shapes"][index]);
        shapes.iter().find(|shape| shape.name == name).expect("its shape").clone()
    };
    let mut reader = hound::WavReader::open(path.with_extension("wav")).expect("the take");
    let rate = reader.spec().sample_rate;
    let samples: Vec<f32> =
        reader.samples::<i16>().map(|sample| f32::from(sample.expect("16 bits")) / 32768.0).collect();
    hear_changes(&samples, rate, [shape(0), shape(1)], None).expect("a rate we take")
}

impl Tally {
    fn add(&mut self, truth: &Value, names: &[String; 2], events: &[ChangeEvent], told: Option<&PathBuf>) {
        let strokes: Vec<&Value> = truth["strokes"].as_array().expect("strokes").iter().collect();
        let changes = truth["changes"].as_array().expect("changes");
        let mut last_s = [f64::NEG_INFINITY; 2];
        let mut found: Vec<(f64, f64, u32, DrillChord)> = Vec::new();
        let mut unheard: Vec<bool> = vec![true; strokes.len()];
        for event in events {
            match *event {
                ChangeEvent::Stroke { at_s, chord } => {
                    let near = |index: &usize| (number(&strokes[*index]["played_s"]) - at_s).abs();
                    let nearest = (0..strokes.len()).min_by(|one, other| near(one).total_cmp(&near(other)));
                    let nearest = nearest.filter(|index| near(index) < NEAR_S && unheard[*index]);
                    let deed = nearest.map_or_else(|| "none".to_owned(), |index| self.deed(strokes[index], names));
                    if let Some(nearest) = nearest {
                        unheard[nearest] = false;
                    }
                    if let Some(path) = told.filter(|_| !deed.starts_with(&format!("{chord:?}"))) {
                        let name = path.file_stem().unwrap_or_default().to_string_lossy();
                        let held = nearest.map_or("-".to_owned(), |index| text(&strokes[index]["chord"]));
                        println!("{name} {at_s:.3}: {deed} {held} told {chord:?}");
                    }
                    *self.strokes.entry((deed, format!("{chord:?}"))).or_default() += 1;
                    if let Some(chord) = chord.drilled() {
                        last_s[chord.index()] = at_s;
                    }
                }
                ChangeEvent::Changed { from, took_s, botched, .. } => {
                    found.push((last_s[1 - from.index()], took_s, botched, from));
                }
            }
        }
        for (index, _) in unheard.iter().enumerate().filter(|(_, unheard)| **unheard) {
            let deed = self.deed(strokes[index], names);
            if let Some(path) = told {
                println!("{} {:.3}: {deed} not heard", path.display(), number(&strokes[index]["played_s"]));
            }
            *self.strokes.entry((deed, "not heard".to_owned())).or_default() += 1;
        }
        self.takes += 1;
        self.changes += changes.len();
        self.counts_right += usize::from(found.len() == changes.len());
        for change in changes {
            let first_s = number(&change["last_s"]) + number(&change["took_s"]);
            let from = usize::from(text(&change["from"]) != names[0]);
            let botched = change["botched"].as_u64().unwrap_or(0);
            self.botched += usize::from(botched > 0);
            let next_s =
                |found: &&(f64, f64, u32, DrillChord)| found.3.index() == from && (found.0 - first_s).abs() < 2.0;
            let near = found
                .iter()
                .filter(next_s)
                .min_by(|one, other| (one.0 - first_s).abs().total_cmp(&(other.0 - first_s).abs()));
            let Some((_, took_s, heard, _)) = near else { continue };
            self.heard += 1;
            self.botched_found += usize::from(botched > 0 && u64::from(*heard) == botched);
            self.botched_false += usize::from(u64::from(*heard) > botched);
            self.errors_ms.push(1000.0 * (took_s - number(&change["took_s"])).abs());
        }
        self.false_changes += found.len().saturating_sub(changes.len());
    }

    fn deed(&self, stroke: &Value, names: &[String; 2]) -> String {
        let deed = text(&stroke["deed"]);
        if deed != "clean" {
            return deed;
        }
        if text(&stroke["chord"]) == names[0] { "First".to_owned() } else { "Second".to_owned() }
    }

    fn print(&mut self, kind: &str) {
        self.errors_ms.sort_by(f64::total_cmp);
        let at = |share: usize| self.errors_ms.get(self.errors_ms.len() * share / 100).copied().unwrap_or(f64::NAN);
        println!(
            "{kind}: {} takes, {} with the right count; {} of {} changes heard, {} too many; botched {} of {} found, {} false; error median {:.1} ms, p95 {:.1}, worst {:.1}",
            self.takes,
            self.counts_right,
            self.heard,
            self.changes,
            self.false_changes,
            self.botched_found,
            self.botched,
            self.botched_false,
            at(50),
            at(95),
            self.errors_ms.last().copied().unwrap_or(f64::NAN)
        );
        for ((deed, told), count) in &self.strokes {
            println!("    {deed} told {told}: {count}");
        }
    }
}
