//! Raw sound on standard input (f32, little-endian, one channel) to what the tuner hears, a line each 10 ms:
//! seconds, string, cents, deviation in cents, `steady`; or seconds and `nothing` or `unclear`.
//!
//! `tuner RATE "E2 A2 D3 G3 B3 E4" [PINNED]`: names of the open strings, the index of the one listened for.

use std::io::{Read as _, Write as _};
use std::process::ExitCode;

use sixrung_lesson::{Pitch, Tuning};
use sixrung_listen::{Sounding, Tuner};

fn tuner() -> Option<(u32, Tuner)> {
    let words: Vec<String> = std::env::args().skip(1).collect();
    let rate = words.first()?.parse().ok()?;
    let open: Option<Vec<Pitch>> = words.get(1)?.split_whitespace().map(Pitch::parse).collect();
    let mut tuner = Tuner::new(rate, &Tuning::new(open?)?, 0)?;
    tuner.pin(words.get(2).and_then(|word| word.parse().ok()));
    Some((rate, tuner))
}

fn main() -> std::io::Result<ExitCode> {
    let Some((rate, mut tuner)) = tuner() else {
        eprintln!("usage: tuner RATE \"E2 A2 D3 G3 B3 E4\" [PINNED]");
        return Ok(ExitCode::from(2));
    };
    let mut bytes = Vec::new();
    std::io::stdin().read_to_end(&mut bytes)?;
    let samples: Vec<f32> = bytes.as_chunks::<4>().0.iter().copied().map(f32::from_le_bytes).collect();
    let mut out = std::io::BufWriter::new(std::io::stdout().lock());
    let mut frames = 0;
    for block in samples.chunks((rate / 100) as usize) {
        frames += block.len();
        #[expect(clippy::cast_precision_loss, reason = "minutes")]
        let at_s = frames as f64 / f64::from(rate);
        match tuner.feed(block) {
            Sounding::Nothing => writeln!(out, "{at_s:.4} nothing")?,
            Sounding::Unclear => writeln!(out, "{at_s:.4} unclear")?,
            Sounding::String(reading) => writeln!(
                out,
                "{at_s:.4} {} {:.4} {:.4} {}",
                reading.string,
                reading.cents,
                reading.deviation_cents,
                if reading.is_steady { "steady" } else { "" }
            )?,
        }
    }
    Ok(ExitCode::SUCCESS)
}
