//! Four muted strokes by the sound fonts' guitars: how often they start a pass; and how often takes of anything else do.
//!
//! `cargo run -p sixrung-takes --example start_strokes -- 50 [FOLDER...]`: so many tries on each guitar, quiet and in a
//! room, then every WAV file of the folders.

use std::path::{Path, PathBuf};

use sixrung_lesson::{Action, Direction, Dynamic};
use sixrung_listen::{Listener, StartEar};
use sixrung_takes::{
    Asked, Condition, Dice, Engine, Error, Guitar, Onsets, Part, Program, RATE, SOUND_FONT, Style, Synth, perform,
    record,
};

/// Silence before the first stroke and after the last, in seconds.
const LEAD_S: f64 = 2.0;
const TAIL_S: f64 = 1.0;
/// Strokes lie so far apart, in seconds: 60 to 190 a minute.
const GAP_S: (f64, f64) = (0.32, 1.0);
const OPEN: [u8; 6] = [40, 45, 50, 55, 59, 64];

fn main() -> Result<(), Error> {
    let mut args = std::env::args().skip(1);
    let tries: u64 = args.next().and_then(|count| count.parse().ok()).unwrap_or(20);
    let synth = Synth::find(Path::new(SOUND_FONT), &std::env::temp_dir())?;
    for engine in [Engine::Fluid, Engine::Samples] {
        for program in [Program::Steel, Program::Nylon] {
            let onsets = synth.calibrate_on(engine, program)?;
            let guitar = Guitar { engine, program, strings: OPEN.len() };
            for condition in [Condition::Quiet, Condition::Room] {
                let mut started = 0;
                for seed in 0..tries {
                    let sound = four(guitar, condition, seed, &synth, &onsets)?;
                    started += usize::from(hear(&sound, RATE).len() == 1);
                }
                println!("{} {} {}: {started} of {tries}", engine.name(), program.name(), condition.name());
            }
        }
    }
    for folder in args {
        hear_folder(Path::new(&folder));
    }
    Ok(())
}

/// Four strokes on stopped strings.
fn four(guitar: Guitar, condition: Condition, seed: u64, synth: &Synth, onsets: &Onsets) -> Result<Vec<f32>, Error> {
    let mut dice = Dice::branch(seed, "start strokes");
    let slot_s = dice.between(GAP_S.0, GAP_S.1);
    let asked = |slot: u32| Asked {
        at_s: f64::from(slot) * slot_s,
        bar: 0,
        slot,
        slot_s,
        action: Action::Chuck,
        direction: Direction::Down,
        dynamic: Dynamic::Plain,
        chord: None,
    };
    let pass_s = 4.0 * slot_s;
    let asked = (0..4).map(asked).collect();
    let part = Part { asked, stops_s: Vec::new(), pass_s, chords: Vec::new(), open: OPEN.to_vec() };
    let style = Style { bias_ms: 0.0, ..Style::draw(60.0, &mut dice) };
    let done = perform(&part, 1, LEAD_S, style, &[], onsets, &mut dice);
    let frame = |seconds: f64| (seconds * f64::from(RATE)) as usize;
    let dry = synth.sound(&done, guitar, onsets, frame(LEAD_S + pass_s + TAIL_S))?;
    Ok(record(&dry, frame(LEAD_S)..frame(LEAD_S + pass_s), condition, &mut dice))
}

/// When something was started, in seconds.
fn hear(sound: &[f32], rate: u32) -> Vec<f64> {
    let Some(mut listener) = Listener::new(rate) else { return Vec::new() };
    let mut ear = StartEar::new();
    let blocks = (0_u64..).step_by(1024).zip(sound.chunks(1024));
    blocks.filter_map(|(frame, block)| ear.take_in(listener.feed(frame, block))).collect()
}

fn hear_folder(folder: &Path) {
    let entries = std::fs::read_dir(folder).expect("the folder").flatten();
    let mut takes: Vec<PathBuf> = entries.map(|entry| entry.path()).collect();
    takes.retain(|path| path.extension().is_some_and(|ending| ending == "wav"));
    takes.sort();
    let (mut minutes, mut started) = (0.0, 0);
    for path in &takes {
        let mut reader = hound::WavReader::open(path).expect("a take");
        let rate = reader.spec().sample_rate;
        let sound: Vec<f32> =
            reader.samples::<i16>().map(|sample| f32::from(sample.expect("16 bits")) / 32768.0).collect();
        minutes += sound.len() as f64 / f64::from(rate) / 60.0;
        for at_s in hear(&sound, rate) {
            println!("{} started at {at_s:.2} s", path.display());
            started += 1;
        }
    }
    println!("{}: {started} started in {} takes, {minutes:.1} minutes", folder.display(), takes.len());
}
