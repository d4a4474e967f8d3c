//! Whole processes: start, load, render to a file.

use std::fs;
use std::path::Path;
use std::process::{Command, Stdio};

use sixrung_audio::{Decibels, Render, RenderOptions};

use crate::cost::middle;
use crate::score::{RATE, midi, timeline};

const ROUNDS: usize = 3;

/// Renders the strokes and writes them as 32-bit floats to standard output's file: what the process beside fluidsynth
/// does.
pub(crate) fn render(seconds: &str) {
    let seconds: u32 = seconds.parse().expect("whole seconds");
    let options = RenderOptions { click: Decibels::SILENCE, tail_s: 1.0, ..RenderOptions::default() };
    let sound = Render::new(timeline(Some(seconds.div_ceil(2))), &options).expect("it ends").samples();
    let bytes: Vec<u8> = sound.into_iter().flat_map(f32::to_le_bytes).collect();
    fs::write("/dev/stdout", bytes).expect("the sound can be written");
}

/// fluidsynth on a MIDI file of the same strokes, and ourselves.
pub(crate) fn side_by_side(font: Option<&Path>, seconds: u32) {
    let seconds = 6 * seconds;
    let folder = std::env::temp_dir().join(format!("sixrung-speed-{}", std::process::id()));
    fs::create_dir_all(&folder).expect("a folder for the renderings");
    let (score, sound) = (folder.join("strums.mid"), folder.join("strums.raw"));
    fs::write(&score, midi(seconds)).expect("the MIDI file can be written");
    println!("\n| whole process, {seconds} s of the same strokes | CPU s | ns/frame |\n|---|---|---|");
    let row = |name: &str, command: &dyn Fn() -> Command| {
        let mut costs = Vec::new();
        for _ in 0..ROUNDS {
            let before = children_s();
            let status = command().stdin(Stdio::null()).stderr(Stdio::null()).status();
            if !status.is_ok_and(|status| status.success()) {
                return println!("| {name} | could not be run | |");
            }
            costs.push(children_s() - before);
        }
        let cost = middle(&mut costs);
        println!("| {name} | {cost:.2} | {:.1} |", cost * 1e9 / f64::from(seconds * RATE));
    };
    row("ours", &|| {
        let mut command = Command::new(std::env::current_exe().expect("this program has a path"));
        command.arg("--render").arg(seconds.to_string());
        command.stdout(fs::File::create(&sound).expect("the rendering can be written"));
        command
    });
    if let Some(font) = font {
        row("fluidsynth, effects off", &|| {
            let mut command = Command::new("fluidsynth");
            command.args(["-ni", "-q", "-R", "0", "-C", "0", "-r"]).arg(RATE.to_string());
            command.args(["-T", "raw", "-O", "float", "-F"]).args([&sound, font, &score]).stdout(Stdio::null());
            command
        });
    }
    fs::remove_dir_all(&folder).expect("the renderings can be removed");
}

/// CPU seconds of the processes this one has waited for, user and system: fields 16 and 17 of proc(5)'s stat, in
/// hundredths of a second.
fn children_s() -> f64 {
    let stat = fs::read_to_string("/proc/self/stat").expect("Linux");
    let after_name = stat.rsplit(')').next().expect("it names the program");
    let field = |number: usize| after_name.split_whitespace().nth(number - 3).and_then(|text| text.parse().ok());
    let ticks: f64 = field(16).unwrap_or(0.0) + field(17).unwrap_or(0.0);
    ticks / 100.0
}
