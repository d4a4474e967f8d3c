//! What sounds beside the guitar is as loud, as late and as silent as the truth says.

use std::f64::consts::TAU;
use std::path::Path;

use sixrung_lesson::Tempo;
use sixrung_takes::{Condition, Dice, Engine, Order, Piece, Program, RATE, SOUND_FONT, Synth, draft, record_beside};

const FRAMES: u32 = 4 * RATE;

fn tone(hertz: f64) -> impl Iterator<Item = f64> {
    (0..FRAMES).map(move |frame| (TAU * hertz * f64::from(frame) / f64::from(RATE)).sin())
}

/// How much of a tone is in a sound, whatever its phase.
fn height(sound: &[f32], hertz: f64) -> f64 {
    let along = |shift: f64| -> f64 {
        let turn = |frame: u32| (TAU * (hertz * f64::from(frame) / f64::from(RATE) + shift)).sin();
        (RATE..3 * RATE).map(|frame| f64::from(sound[frame as usize]) * turn(frame)).sum()
    };
    along(0.0).hypot(along(0.25))
}

#[test]
fn what_is_beside_the_guitar_is_so_many_decibels_under_it() {
    #[expect(clippy::cast_possible_truncation, reason = "samples are single precision")]
    let [guitar, other] = [440.0, 1000.0].map(|hertz| tone(hertz).map(|sample| sample as f32).collect::<Vec<_>>());
    for (condition, under_db) in [(Condition::Sing6, 6.0), (Condition::Sing0, 0.0), (Condition::Own, 10.0)] {
        let (mut walls, mut dice) = (Dice::new(1), Dice::new(2));
        let take = record_beside(&guitar, &other, 0..FRAMES as usize, condition, &mut walls, &mut dice);
        let measured_db = 20.0 * (height(&take, 440.0) / height(&take, 1000.0)).log10();
        assert!((measured_db - under_db).abs() < 0.3, "{condition:?}: {measured_db:.2} dB under");
    }
}

#[test]
fn our_own_playback_counts_in_alone_and_reaches_the_microphone_a_little_later() {
    let folder = tempfile::tempdir().expect("a temporary folder");
    let synth = Synth::find(Path::new(SOUND_FONT), folder.path()).unwrap_or_else(|error| panic!("{error}"));
    let text = include_bytes!("../lessons/even-eighths.lesson.ron");
    let lesson = sixrung_lesson::read(text).expect("nothing is wrong with it").lesson;
    let tempo = Tempo::from_bpm(96.0).expect("a tempo");
    let order = Order {
        piece: Piece { lesson: &lesson, section: "walk", arrangement: "plain", tempo },
        lesson_file: "even-eighths.lesson.ron",
        level: lesson.criterion.level,
        passes: 1,
        program: Program::Steel,
        engine: Engine::Samples,
        player: None,
        condition: Condition::Own,
        planted: Vec::new(),
        bias_ms: Some(0.0),
        lead_s: None,
        seed: 21,
    };
    let onsets = synth.calibrate_on(Engine::Samples, Program::Steel).unwrap_or_else(|error| panic!("{error}"));
    let draft = draft(&order, &synth, &onsets).unwrap_or_else(|error| panic!("{error}"));
    let recording = draft.record(&synth).unwrap_or_else(|error| panic!("{error}"));
    let played = recording.played.expect("the program played");
    assert_eq!(played.len(), recording.take.len());

    let first_s = |sound: &[f32], share: f32| {
        let peak = sound.iter().fold(0.0_f32, |peak, sample| peak.max(sample.abs()));
        let frame = sound.iter().position(|sample| sample.abs() > share * peak).expect("some sound");
        f64::from(u32::try_from(frame).expect("a few seconds")) / f64::from(RATE)
    };
    // One bar of four at 96 is 2.5 s; the first click stands at its start.
    let click_s = first_s(&played, 0.05);
    assert!((draft.truth.starts_at_s - 2.5 - click_s).abs() < 0.003, "{} and {click_s}", draft.truth.starts_at_s);
    // The player keeps silent until the pass: what the microphone hears before is the playback, 4 to 40 ms late.
    #[expect(clippy::cast_possible_truncation, clippy::cast_sign_loss, reason = "a few seconds of frames")]
    let before = &recording.take[..((draft.truth.starts_at_s - 0.1) * f64::from(RATE)) as usize];
    let late_s = first_s(before, 0.25) - click_s;
    assert!((0.003..0.045).contains(&late_s), "{late_s} s late");
}
