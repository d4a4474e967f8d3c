//! `sixrung calibrate`: measures the round trip of the devices the window would use, and keeps it.

use std::io::Write;
use std::time::{Duration, Instant};

use serde::Serialize;
use sixrung_devices::{InputReader, Sound, Status};
use sixrung_journal::{DevicePair, Measured as How, RoundTrip};
use sixrung_listen::{Measurement, NotMeasured, Reason};

use super::args::Calibrate;
use super::fault::Fault;
use super::judge_json::cure;
use super::unprinted;
use crate::app::{data_folder, moment, zone};
use crate::measuring::{Measure, Measured, Measuring};
use crate::say;
use crate::studio::{Keeper, devices};

/// Devices are waited for so long, and the microphone's sound after the last of ours.
const PATIENCE: Duration = Duration::from_secs(8);
/// A stream's time stamps settle in its first seconds: by 1 ms in ten, measured through a sound server.
const SETTLE: Duration = Duration::from_secs(5);
/// How long to sleep when the microphone gave nothing.
const NAP: Duration = Duration::from_millis(4);

#[derive(Serialize)]
struct CalibratedJson {
    how: &'static str,
    round_trip_ms: f64,
    spread_ms: f64,
    agreed: usize,
    asked: usize,
    above_noise_db: Option<f64>,
    highest_hz: Option<f64>,
    output: String,
    input: String,
    rate_hz: u32,
    buffer_frames: u32,
    kept: bool,
}

#[derive(Serialize)]
struct CheckedJson {
    passed: bool,
    found: Vec<&'static str>,
    cures: Vec<&'static str>,
}

/// Exit code 0 when it was measured, or the check found nothing; 10 when the check found something.
pub(super) fn calibrate(args: &Calibrate, out: &mut dyn Write, err: &mut dyn Write) -> Result<u8, Fault> {
    let measure = match (args.tap, args.check) {
        (true, _) => Measure::TapAlong,
        (_, true) => Measure::Strums,
        _ => Measure::Loopback,
    };
    let folder = args.data.clone().or_else(data_folder).ok_or_else(|| {
        Fault::error("there is no home folder to keep the journal in").hint("name one with --data DIR")
    })?;
    let (keeper, _) = Keeper::open(&folder, moment(), zone());
    let mut sound = Sound::open(devices(&keeper.settings()));
    let reader = sound.take_reader().expect("the first to ask");
    let pair = opened(&sound)?;
    // Words for the player go where they are read at once.
    drop(writeln!(err, "{}", say::before(measure)));
    match measured(&sound, reader, measure)? {
        Measured::Strums(found) => told(args, &found, out),
        Measured::Loopback(found) => {
            let found = found.map_err(|why| refused(measure, why))?;
            let more = (Some(found.above_noise_db), Some(found.highest_hz));
            kept(args, &keeper, pair, How::Loopback, found.trip, more, out)
        }
        Measured::TapAlong(found) => {
            let found = found.map_err(|why| refused(measure, why))?;
            kept(args, &keeper, pair, How::TapAlong, found, (None, None), out)
        }
    }
}

/// Waits until both devices run.
fn opened(sound: &Sound) -> Result<DevicePair, Fault> {
    let asked = Instant::now();
    loop {
        let Status { output, input, .. } = sound.status();
        if let (Some(output), Some(input)) = (output.opened(), input.opened())
            && !output.id.is_empty()
            && output.note.is_none()
        {
            return Ok(DevicePair {
                output: output.id.clone(),
                input: input.id.clone(),
                rate_hz: output.rate,
                buffer_frames: output.buffer,
            });
        }
        if asked.elapsed() > PATIENCE {
            let what = if input.opened().is_none() { "no microphone can be opened" } else { "no sound can go out" };
            return Err(Fault::error(what).hint("`sixrung devices` lists what there is; choose on the sound page"));
        }
        std::thread::sleep(NAP);
    }
}

/// Plays and listens.
fn measured(sound: &Sound, mut reader: InputReader, measure: Measure) -> Result<Measured, Fault> {
    let mut block = [0.0; 1024];
    let settle = Instant::now();
    while settle.elapsed() < SETTLE {
        while reader.read_played(&mut block).is_some() {}
        while reader.read(&mut block).is_some() {}
        std::thread::sleep(NAP);
    }
    let mut measuring = Measuring::new(measure);
    let rate = sound.status().output.opened().map_or(48_000, |opened| opened.rate);
    sound.play(measure.source(rate, 1.0));
    let limit = Duration::from_secs_f64(measure.length_s()) + PATIENCE;
    let began = Instant::now();
    while began.elapsed() < limit {
        while let Some(played) = reader.read_played(&mut block) {
            measuring.played(&played);
        }
        while let Some(chunk) = reader.read(&mut block) {
            measuring.take_in(&chunk, &block[..chunk.frames]);
        }
        if let Some(measured) = measuring.done() {
            return Ok(measured);
        }
        std::thread::sleep(NAP);
    }
    Err(Fault::error("the microphone gave no sound to the end")
        .hint("close other programs that use it, then try again"))
}

fn refused(measure: Measure, why: NotMeasured) -> Fault {
    Fault::error(say::not_measured(measure, why)).hint(say::measure_hint(measure, why))
}

fn kept(
    args: &Calibrate,
    keeper: &Keeper,
    pair: DevicePair,
    how: How,
    found: Measurement,
    (above_noise_db, highest_hz): (Option<f64>, Option<f64>),
    out: &mut dyn Write,
) -> Result<u8, Fault> {
    let trip = RoundTrip { ms: found.ms, spread_ms: found.spread_ms, how, measured: moment() };
    keeper.set_round_trip(pair.clone(), trip);
    let json = CalibratedJson {
        how: if how == How::Loopback { "loopback" } else { "tap_along" },
        round_trip_ms: found.ms,
        spread_ms: found.spread_ms,
        agreed: found.agreed,
        asked: found.asked,
        above_noise_db,
        highest_hz,
        output: pair.output,
        input: pair.input,
        rate_hz: pair.rate_hz,
        buffer_frames: pair.buffer_frames,
        kept: keeper.keeps(),
    };
    let printed = if args.json {
        serde_json::to_writer(&mut *out, &json).map_err(std::io::Error::from).and_then(|()| writeln!(out))
    } else {
        writeln!(out, "{}", say::measured(how, &found))
    };
    printed.map_err(|error| unprinted(&error))?;
    Ok(0)
}

fn told(args: &Calibrate, found: &[Reason], out: &mut dyn Write) -> Result<u8, Fault> {
    let printed = if args.json {
        let json = CheckedJson {
            passed: found.is_empty(),
            found: found.iter().map(|found| say::reason(*found)).collect(),
            cures: found.iter().map(|found| cure(*found)).collect(),
        };
        serde_json::to_writer(&mut *out, &json).map_err(std::io::Error::from).and_then(|()| writeln!(out))
    } else if found.is_empty() {
        writeln!(out, "nothing stands in the way of your guitar's sound")
    } else {
        found.iter().try_for_each(|found| writeln!(out, "{}\nhint: {}", say::reason(*found), cure(*found)))
    };
    printed.map_err(|error| unprinted(&error))?;
    Ok(if found.is_empty() { 0 } else { 10 })
}
