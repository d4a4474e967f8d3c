//! Made takes read back: their truth, their sound, the plan they were played to.

use std::path::{Path, PathBuf};

use serde_json::Value;
use sixrung_lesson::{Criterion, Level, Stretch, Tempo, layout, read};
use sixrung_listen::{PassPlan, PlannedShape};
use sixrung_timeline::{Between, Clicks, Request, compile};

/// All takes of a folder, by name.
pub(crate) fn truths(folder: &Path) -> Vec<(PathBuf, Value)> {
    let mut paths: Vec<PathBuf> = std::fs::read_dir(folder).expect("the folder").flatten().map(|e| e.path()).collect();
    paths.retain(|path| path.extension().is_some_and(|kind| kind == "json") && path.with_extension("wav").exists());
    paths.sort();
    let read = |path: PathBuf| {
        let truth: Value = serde_json::from_slice(&std::fs::read(&path).expect("a truth")).expect("JSON");
        (path, truth)
    };
    paths.into_iter().map(read).filter(|(_, truth)| !truth["verdict"].is_null()).collect()
}

/// The passes from 0 on, and what counts as clean.
pub(crate) fn plans(folder: &Path, truth: &Value) -> (Vec<PassPlan>, Criterion) {
    let lesson = std::fs::read(folder.join(truth["lesson"].as_str().expect("a lesson"))).expect("the lesson");
    let lesson = read(&lesson).expect("a good lesson").lesson;
    let arrangement = lesson.arrangement(truth["arrangement"].as_str().expect("a name")).expect("the arrangement");
    let section = Stretch::Section(truth["section"].as_str().expect("a section").to_owned());
    let score = layout(&lesson, &section, arrangement).expect("a layout");
    let tempo = Tempo::from_bpm(truth["bpm"].as_f64().expect("a tempo")).expect("a tempo");
    let request = Request {
        id: 0,
        rate: 48_000,
        tempo,
        count_in_bars: 0,
        between: Between::Seamless,
        passes: None,
        clicks: Clicks::default(),
        backing: false,
    };
    let plan = compile(&lesson, &score, &request).expect("a plan");
    let pass = PassPlan::new(&plan.expected, plan.timeline.grid, plan.timeline.pass)
        .with_shapes(PlannedShape::all(&score, &lesson.tuning));
    let passes = truth["passes"].as_u64().expect("passes");
    let plans = (0..passes).map(|index| pass.starting_at(index as f64 * pass.length_s)).collect();
    let level = match truth["level"].as_str() {
        Some("advanced") => Level::Advanced,
        Some("improver") => Level::Improver,
        _ => Level::Beginner,
    };
    (plans, Criterion { level, ..lesson.criterion })
}

/// A take's sound.
pub(crate) fn samples(wav: &Path) -> Vec<f32> {
    let samples = hound::WavReader::open(wav).expect("a take").into_samples::<i16>();
    samples.map(|sample| f32::from(sample.expect("a sample")) / 32768.0).collect()
}

/// What the program played meanwhile, if anything.
pub(crate) fn played(take: &Path) -> Option<Vec<f32>> {
    Some(take.with_extension("played.wav")).filter(|played| played.exists()).map(|played| samples(&played))
}
