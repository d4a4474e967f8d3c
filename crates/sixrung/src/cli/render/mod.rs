//! `sixrung render`: the sound of a lesson as a file, by the code that plays it live.

mod file;

use std::io::Write;
use std::path::{Path, PathBuf};

use ebur128::{EbuR128, Mode};
use serde::Serialize;
use sixrung_audio::{ClickSound, Decibels, Instrument, Kit, RenderOptions, Strings};
use sixrung_timeline::{
    Between, Clicks, Division, Feel, Request, Thinned, Timeline, compile_with, default_count_in_bars,
};

use self::file::Kind;
use super::args::{self, Click, Divide, Part, Render, Thin};
use super::fault::Fault;
use super::unprinted;
use super::what::{Chosen, choose};

#[derive(Serialize)]
struct Rendered {
    out: String,
    stems: Vec<String>,
    rate: u32,
    frames: u64,
    seconds: f64,
    bpm: f64,
    passes: u32,
    starts_at_s: f64,
    #[serde(skip_serializing_if = "Option::is_none")]
    loudness_lufs: Option<f64>,
    #[serde(skip_serializing_if = "Option::is_none")]
    true_peak_dbtp: Option<f64>,
}

/// Exit code 0 when every file was written.
pub(super) fn render(args: &Render, out: &mut dyn Write) -> Result<u8, Fault> {
    let kind = file::kind(&args.out, args.bits).map_err(Fault::usage)?;
    let chosen = choose(&args.what)?;
    let timeline = timeline(args, &chosen)?;
    let grid = timeline.grid;
    let starts_at_s = grid.seconds(timeline.intro + timeline.pass_at);
    let kit = kit(args, &chosen);
    let mut meter = if args.measure { EbuR128::new(2, grid.rate(), Mode::I | Mode::TRUE_PEAK).ok() } else { None };
    let frames = write(&args.out, kind, timeline.clone(), &options(args, &kit, &args.parts), meter.as_mut())?;
    let mut stems = Vec::new();
    if let Some(folder) = &args.stems {
        std::fs::create_dir_all(folder).map_err(|error| unwritten(folder, &error))?;
        for part in Part::ALL.into_iter().filter(|part| args.parts.contains(part)) {
            let path = stem(folder, part, &args.out);
            write(&path, kind, timeline.clone(), &options(args, &kit, &[part]), None)?;
            stems.push(path.display().to_string());
        }
    }
    let rendered = Rendered {
        out: args.out.display().to_string(),
        stems,
        rate: grid.rate(),
        frames,
        #[expect(clippy::cast_precision_loss, reason = "a length for reading")]
        seconds: frames as f64 / f64::from(grid.rate()),
        bpm: chosen.tempo.bpm(),
        passes: args.what.passes,
        starts_at_s,
        loudness_lufs: meter.as_ref().and_then(|meter| meter.loudness_global().ok()),
        true_peak_dbtp: meter.as_ref().and_then(true_peak_dbtp),
    };
    print(args, &rendered, out).map_err(|error| unprinted(&error))?;
    Ok(0)
}

fn true_peak_dbtp(meter: &EbuR128) -> Option<f64> {
    let peak = |channel| meter.true_peak(channel).ok();
    Some(20.0 * peak(0)?.max(peak(1)?).log10())
}

fn write(
    path: &Path,
    kind: Kind,
    timeline: Timeline,
    options: &RenderOptions,
    mut meter: Option<&mut EbuR128>,
) -> Result<u64, Fault> {
    let rate = timeline.grid.rate();
    let mut performance =
        sixrung_audio::Render::new(timeline, options).map_err(|error| Fault::error(error.to_string()))?;
    let next = |block: &mut [f32]| {
        let made = performance.next_block(block);
        if let Some(meter) = &mut meter {
            let taken = meter.add_frames_f32(&block[..2 * made]);
            debug_assert!(taken.is_ok(), "whole frames are always taken");
        }
        made
    };
    file::write(path, kind, rate, next).map_err(|error| unwritten(path, &error))
}

fn unwritten(path: &Path, why: &dyn std::fmt::Display) -> Fault {
    Fault::error(format!("{}: {why}", path.display()))
        .hint("is the folder there, may it be written to, and has the disk room?")
}

/// `DIR/bass.flac` beside a FLAC, and so on.
fn stem(folder: &Path, part: Part, beside: &Path) -> PathBuf {
    let ending = beside.extension().unwrap_or_else(|| "wav".as_ref());
    folder.join(part.name()).with_extension(ending)
}

fn options(args: &Render, kit: &Kit, parts: &[Part]) -> RenderOptions {
    let level = |part| if parts.contains(&part) { Decibels::UNITY } else { Decibels::SILENCE };
    RenderOptions {
        kit: kit.clone(),
        click: level(Part::Click),
        guitar: level(Part::Strum),
        bass: level(Part::Bass),
        brushes: level(Part::Brushes),
        levelled: !args.as_played,
        ..RenderOptions::default()
    }
}

fn kit(args: &Render, chosen: &Chosen) -> Kit {
    let moved = |pitch: &sixrung_lesson::Pitch| {
        let key = (i16::from(pitch.0) + i16::from(args.semitones)).clamp(0, 127);
        sixrung_lesson::Pitch(u8::try_from(key).expect("clamped"))
    };
    let open: Vec<_> = chosen.lesson.tuning.open().iter().map(moved).collect();
    let click = match args.click {
        Click::Wood => ClickSound::Wood,
        Click::Bell => ClickSound::Bell,
        Click::Tick => ClickSound::Tick,
    };
    let strings = match args.strings {
        args::Strings::Steel => Strings::Steel,
        args::Strings::Nylon => Strings::Nylon,
    };
    Kit { guitar: Instrument::new(&open).unwrap_or_else(Instrument::guitar).strung(strings), click }
}

fn timeline(args: &Render, chosen: &Chosen) -> Result<Timeline, Fault> {
    let meter = chosen.score.bars.first().map_or(chosen.lesson.meter, |bar| bar.meter);
    let default = default_count_in_bars(meter, chosen.tempo, chosen.lesson.beat.ticks());
    let request = Request {
        id: 0,
        rate: args.rate,
        tempo: chosen.tempo,
        count_in_bars: if args.count_in { chosen.lesson.count_in_bars.unwrap_or(default) } else { 0 },
        between: Between::Seamless,
        passes: Some(args.what.passes),
        clicks: clicks(args),
        backing: args.parts.iter().any(|part| matches!(part, Part::Bass | Part::Brushes)),
    };
    let feel = Feel { unevenness: f32::from(args.unevenness) / 100.0, seed: args.seed };
    let plan =
        compile_with(&chosen.lesson, &chosen.score, &request, feel).map_err(|error| Fault::usage(error.to_string()))?;
    Ok(plan.timeline.transposed(args.semitones))
}

fn clicks(args: &Render) -> Clicks {
    Clicks {
        thinned: match args.thin {
            None => Thinned::Not,
            Some(Thin::First) => Thinned::FirstOnly,
            Some(Thin::Even) => Thinned::EvenOnly,
            Some(Thin::SilentBars) => Thinned::SilentBars { heard: 1, silent: 1 },
        },
        division: match args.divide {
            None => Division::WhereSlow,
            Some(Divide::Two) => Division::Two,
            Some(Divide::Three) => Division::Three,
            Some(Divide::Four) => Division::Four,
        },
        even: args.even,
        count_rises: args.rising,
    }
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
    )?;
    if let (Some(lufs), Some(peak)) = (rendered.loudness_lufs, rendered.true_peak_dbtp) {
        writeln!(out, "{lufs:.1} LUFS, true peak {peak:.1} dBTP")?;
    }
    rendered.stems.iter().try_for_each(|stem| writeln!(out, "{stem}"))
}
