//! `sixrung render`: the sound of a lesson as a WAV file, by the code that plays it live.

use std::io::Write;

use serde::Serialize;
use sixrung_audio::{Decibels, Instrument, RenderOptions};
use sixrung_exchange::wav::{Format, WavError, Writer};
use sixrung_timeline::{Between, Request, compile, default_count_in_bars};

use super::args::{Part, Render};
use super::fault::Fault;
use super::unprinted;
use super::what::{Chosen, choose};

/// Frames made at once.
const BLOCK: usize = 4096;

#[derive(Serialize)]
struct Rendered {
    out: String,
    rate: u32,
    frames: u64,
    seconds: f64,
    bpm: f64,
    passes: u32,
    starts_at_s: f64,
}

/// Exit code 0 when the file was written.
pub(super) fn render(args: &Render, out: &mut dyn Write) -> Result<u8, Fault> {
    let chosen = choose(&args.what)?;
    let timeline = timeline(args, &chosen)?;
    let grid = timeline.grid;
    let starts_at_s = grid.seconds(timeline.intro + timeline.pass_at);
    let level = |part| if args.parts.contains(&part) { Decibels::UNITY } else { Decibels::SILENCE };
    let tuning = chosen.lesson.tuning.open();
    let options = RenderOptions {
        instrument: Instrument::new(tuning).unwrap_or_else(Instrument::guitar),
        click: level(Part::Click),
        guitar: level(Part::Strum),
        ..RenderOptions::default()
    };
    let mut performance =
        sixrung_audio::Render::new(timeline, &options).map_err(|error| Fault::error(error.to_string()))?;
    let mut frames = 0;
    crate::files::write_whole(&args.out, |file| {
        let mut wav = Writer::new(file, grid.rate(), Format::Float32)?;
        let mut block = vec![0.0; 2 * BLOCK];
        loop {
            let made = performance.next_block(&mut block);
            if made == 0 {
                break;
            }
            wav.write(&block[..2 * made])?;
            frames += made as u64;
        }
        wav.finish()
    })
    .map_err(|error: WavError| {
        Fault::error(format!("{}: {error}", args.out.display()))
            .hint("is the folder there, may it be written to, and has the disk room?")
    })?;
    let rendered = Rendered {
        out: args.out.display().to_string(),
        rate: grid.rate(),
        frames,
        #[expect(clippy::cast_precision_loss, reason = "a length for reading")]
        seconds: frames as f64 / f64::from(grid.rate()),
        bpm: chosen.tempo.bpm(),
        passes: args.what.passes,
        starts_at_s,
    };
    print(args, &rendered, out).map_err(|error| unprinted(&error))?;
    Ok(0)
}

fn timeline(args: &Render, chosen: &Chosen) -> Result<sixrung_timeline::Timeline, Fault> {
    let meter = chosen.score.bars.first().map_or(chosen.lesson.meter, |bar| bar.meter);
    let default = default_count_in_bars(meter, chosen.tempo, chosen.lesson.beat.ticks());
    let request = Request {
        id: 0,
        rate: args.rate,
        tempo: chosen.tempo,
        count_in_bars: if args.count_in { chosen.lesson.count_in_bars.unwrap_or(default) } else { 0 },
        between: Between::Seamless,
        passes: Some(args.what.passes),
    };
    compile(&chosen.lesson, &chosen.score, &request)
        .map(|plan| plan.timeline)
        .map_err(|error| Fault::usage(error.to_string()))
}

fn print(args: &Render, rendered: &Rendered, out: &mut dyn Write) -> std::io::Result<()> {
    if args.json {
        serde_json::to_writer(&mut *out, rendered)?;
        return writeln!(out);
    }
    writeln!(
        out,
        "{}: {:.2} s at {} bpm, {} frames a second; bar 1 beat 1 at {:.3} s",
        rendered.out, rendered.seconds, rendered.bpm, rendered.rate, rendered.starts_at_s
    )
}
