//! `sixrung stretch`: a recording slower or faster at its pitch, or at another one, as the stand plays it.

use std::io::Write;

use serde::Serialize;
use sixrung_devices::decode_stereo;
use sixrung_exchange::wav::{Format, WavError, Writer};
use sixrung_song::{PhaseVocoder, Stretch as How, Stretcher as _, TARGET_LUFS, gain_to_target, resampled};

use super::args::Stretch;
use super::fault::Fault;
use super::unprinted;

/// What is written is no longer than this, in seconds: it is made in memory, half an hour takes 700 MB.
const LONGEST_S: f64 = 30.0 * 60.0;
/// Recordings below this rate are brought to [`USUAL_RATE`] first: the stretcher takes none.
const LOWEST_RATE: u32 = 32_000;
const USUAL_RATE: u32 = 48_000;

#[derive(Serialize)]
struct Stretched {
    out: String,
    rate: u32,
    frames: usize,
    seconds: f64,
    speed: f64,
    semitones: f64,
    gain_db: f32,
}

/// Exit code 0 when the file was written.
#[expect(clippy::cast_precision_loss, reason = "lengths for reading")]
pub(super) fn stretch(args: &Stretch, out: &mut dyn Write) -> Result<u8, Fault> {
    let times = 1.0 / args.speed;
    if !(0.25..=2.0).contains(&args.speed) || !(-12.0..=12.0).contains(&args.semitones) {
        return Err(
            Fault::usage("that speed or pitch can't be made").hint("--speed takes 0.25 to 2, --semitones -12 to 12")
        );
    }
    let recording = decode_stereo(&args.recording, &mut |_| true)
        .map_err(|error| Fault::error(error.message()).hint(error.hint()))?;
    let rate = if recording.rate < LOWEST_RATE { USUAL_RATE } else { recording.rate };
    let sound = resampled(&recording.frames, recording.rate, rate);
    let seconds = sound.len() as f64 * times / f64::from(rate);
    if seconds > LONGEST_S {
        return Err(Fault::error(format!("slowed so, it would last {:.0} minutes", seconds / 60.0))
            .hint("at most thirty minutes are made: cut the recording, or slow it less"));
    }
    let how = How { times, semitones: args.semitones };
    let mut slowed = PhaseVocoder.stretch(&sound, rate, how, &mut |_| true).map_err(|error| {
        let error = error.to_string();
        let (message, hint) = error.split_once("\nhint: ").unwrap_or((&error, ""));
        Fault::error(message).hint(hint)
    })?;
    let gain_db = if args.level { gain_to_target(&sound, rate).unwrap_or(0.0) } else { 0.0 };
    let gain = 10.0_f32.powf(gain_db / 20.0);
    slowed.as_flattened_mut().iter_mut().for_each(|sample| *sample *= gain);
    crate::files::write_whole(&args.out, |file| {
        let mut wav = Writer::new(file, rate, Format::Float32)?;
        wav.write(slowed.as_flattened())?;
        wav.finish()
    })
    .map_err(|error: WavError| {
        Fault::error(format!("{}: {error}", args.out.display()))
            .hint("is the folder there, may it be written to, and has the disk room?")
    })?;
    let made = Stretched {
        out: args.out.display().to_string(),
        rate,
        frames: slowed.len(),
        seconds: slowed.len() as f64 / f64::from(rate),
        speed: args.speed,
        semitones: args.semitones,
        gain_db,
    };
    print(args, &made, out).map_err(|error| unprinted(&error))?;
    Ok(0)
}

fn print(args: &Stretch, made: &Stretched, out: &mut dyn Write) -> std::io::Result<()> {
    if args.json {
        serde_json::to_writer(&mut *out, made)?;
        return writeln!(out);
    }
    writeln!(
        out,
        "{}: {:.2} s, {} frames a second, {} times as fast, {:+} semitones",
        made.out, made.seconds, made.rate, made.speed, made.semitones
    )?;
    if args.level {
        writeln!(out, "brought to {TARGET_LUFS} LUFS by {:+.1} dB", made.gain_db)?;
    }
    Ok(())
}
