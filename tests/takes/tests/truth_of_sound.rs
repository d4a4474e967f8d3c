//! What a take's truth says is what its samples hold, by measurements that share nothing with the judge.

use std::path::Path;

use sixrung_lesson::{Action, Direction, Dynamic};
use sixrung_takes::{
    Asked, Chord, Dice, Engine, Guitar, Mistake, Onsets, Part, Performance, Planted, Program, RATE, SOUND_FONT, Struck,
    Style, Synth, perform,
};

/// Slow strokes of one chord, each stopped before the next, so that each begins in silence.
fn lonely_strokes(action: Action) -> Part {
    let asked = |index: u32| Asked {
        at_s: f64::from(index),
        bar: 0,
        slot: index,
        slot_s: 1.0,
        action,
        direction: if index.is_multiple_of(2) { Direction::Down } else { Direction::Up },
        dynamic: Dynamic::Plain,
        chord: Some(0),
    };
    Part {
        asked: (0..12).map(asked).collect(),
        stops_s: (0..12).map(|index| f64::from(index) + 0.7).collect(),
        pass_s: 12.0,
        chords: vec![Chord { name: "G".into(), keys: [43, 47, 50, 55, 62, 67].map(Some).to_vec() }],
        open: vec![40, 45, 50, 55, 59, 64],
    }
}

struct Studio {
    folder: tempfile::TempDir,
    synth: Synth,
}

impl Studio {
    fn open() -> Self {
        let folder = tempfile::tempdir().expect("a temporary folder");
        let synth = Synth::find(Path::new(SOUND_FONT), folder.path()).unwrap_or_else(|error| panic!("{error}"));
        Self { folder, synth }
    }

    fn play(&self, part: &Part, planted: &[Planted], guitar: Guitar) -> (Performance, Onsets, Vec<f32>) {
        assert!(self.folder.path().is_dir());
        let onsets = self.synth.calibrate_on(guitar.engine, guitar.program).unwrap_or_else(|error| panic!("{error}"));
        let style = Style { bias_ms: 0.0, sweep_ms: 9.0, level_ms: 80.0 };
        let done = perform(part, 1, 0.5, style, planted, &onsets, &mut Dice::new(7));
        let sound =
            self.synth.sound(&done, guitar, &onsets, 13 * RATE as usize).unwrap_or_else(|error| panic!("{error}"));
        (done, onsets, sound)
    }
}

fn guitars() -> impl Iterator<Item = Guitar> {
    let engines = [Engine::Fluid, Engine::Samples];
    let both = move |program| engines.map(|engine| Guitar { engine, program, strings: 6 });
    [Program::Steel, Program::Nylon].into_iter().flat_map(both)
}

fn heard_s(struck: &Struck, onsets: &Onsets) -> Option<f64> {
    struck.notes.iter().map(|note| onsets.heard_s(note.tell_ms, note.key)).min_by(f64::total_cmp)
}

/// The first sample above 3 % of the loudest one nearby, in seconds, looked for around `at_s`.
fn rise_s(sound: &[f32], at_s: f64) -> f64 {
    #[expect(clippy::cast_possible_truncation, clippy::cast_sign_loss, reason = "a dozen seconds")]
    let from = ((at_s - 0.05) * f64::from(RATE)) as u32;
    let near = &sound[from as usize..(from + RATE / 5) as usize];
    let peak = near.iter().fold(0.0_f32, |peak, sample| peak.max(sample.abs()));
    let rise = (0_u32..).zip(near).find(|(_, sample)| sample.abs() > 0.03 * peak).map_or(0, |(index, _)| index);
    f64::from(from + rise) / f64::from(RATE)
}

#[test]
fn every_stroke_is_heard_when_the_truth_says() {
    let studio = Studio::open();
    for guitar in guitars() {
        for action in [Action::Strum, Action::Bass, Action::Chuck] {
            let (done, onsets, sound) = studio.play(&lonely_strokes(action), &[], guitar);
            for struck in &done.struck {
                let truth_s = heard_s(struck, &onsets).expect("none is missed");
                let off_ms = (rise_s(&sound, truth_s) - truth_s) * 1000.0;
                assert!(off_ms.abs() < 2.0, "{guitar:?} {action:?} {}: {off_ms:.2} ms off", struck.stroke);
            }
        }
    }
}

#[test]
fn a_missed_stroke_is_silent_and_an_extra_one_is_not() {
    let studio = Studio::open();
    let planted = [(3, Mistake::Missed), (6, Mistake::Extra)];
    let planted = planted.map(|(stroke, mistake)| Planted { pass: 0, stroke, mistake });
    for guitar in guitars() {
        let (_, _, sound) = studio.play(&lonely_strokes(Action::Strum), &planted, guitar);
        let loudest = |from_s: u32, from_ms: u32| {
            let from = (from_s * RATE + from_ms * RATE / 1000) as usize;
            sound[from..from + RATE as usize / 10].iter().fold(0.0_f32, |peak, sample| peak.max(sample.abs()))
        };
        // The part begins at 0.5 s; a stroke rings until 0.7 s after it was due.
        assert!(loudest(4, 600) > 0.02, "{guitar:?}: the stroke before");
        assert!(loudest(3, 600) < 1e-4, "{guitar:?}: the missed one");
        let (before, after) = (loudest(6, 850), loudest(7, 10));
        assert!(after > 1.2 * before, "{guitar:?}: the extra one: {before} then {after}");
    }
}

#[test]
fn a_seed_gives_the_same_samples_again() {
    let studio = Studio::open();
    for guitar in guitars().filter(|guitar| guitar.program == Program::Nylon) {
        let (_, _, first) = studio.play(&lonely_strokes(Action::Strum), &[], guitar);
        let (_, _, again) = studio.play(&lonely_strokes(Action::Strum), &[], guitar);
        assert!(first == again, "{guitar:?}: two runs differ");
    }
}
