//! The beats proposed for a recording, one time in seconds a line: `cargo run -p sixrung --example beats -- FILE [BPM]`,
//! BPM being the tempo a lesson names. Scored beside another's by `tests/sound/beats.py`.

use std::path::Path;

use sixrung::song::Loaded;
use sixrung_lesson::Tempo;

fn main() {
    let mut args = std::env::args().skip(1);
    let Some(file) = args.next() else {
        eprintln!("error: no recording is named\nhint: beats FILE [BPM]");
        std::process::exit(2);
    };
    let near = args.next().and_then(|bpm| Tempo::from_bpm(bpm.parse().ok()?));
    match Loaded::read(Path::new(&file), near, &mut |_| true) {
        Ok(loaded) => {
            let found = loaded.found.unwrap_or_else(|| {
                eprintln!("error: {file}: there is no beat in it\nhint: tap along instead");
                std::process::exit(1);
            });
            eprintln!("{:.2} bpm, strength {:.2}", found.tempo.bpm(), found.strength);
            found.beats_s.iter().for_each(|beat| println!("{beat:.4}"));
        }
        Err(error) => {
            eprintln!("error: {error}");
            std::process::exit(1);
        }
    }
}
