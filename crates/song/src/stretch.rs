//! Longer or shorter at the same pitch, or another pitch at the same length: behind a trait, so that what does it can
//! be exchanged, and is held to the same tests.

use std::fmt;

use timestretch::{
    DurationRatio, Parameters, PitchRatio, PreparedSession, ProcessStatus, RatioConstraint, SessionConfig,
    SessionError, SourceAccess,
};

/// Told the share done, 0 to 1; says whether to go on.
pub type Progress<'a> = dyn FnMut(f32) -> bool + 'a;

/// What is to be done to a sound.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Stretch {
    /// So many times as long.
    pub times: f64,
    /// So many semitones higher.
    pub semitones: f64,
}

/// Why a sound can't be stretched.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum StretchError {
    /// Outside a quarter and eight times as long, an octave down and up, or 32 to 192 kHz.
    Range(Stretch, u32),
    /// The progress said to stop.
    Cancelled,
    /// The stretcher itself gave up: its own word.
    Failed(SessionError),
}

impl fmt::Display for StretchError {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Self::Range(stretch, rate) => write!(
                f,
                "{:.2} times as long, {:+.0} semitones, {rate} frames a second can't be made\nhint: a quarter to eight \
                 times, at most 12 semitones, 32 to 192 kHz",
                stretch.times, stretch.semitones
            ),
            Self::Cancelled => f.write_str("stopped before the end"),
            Self::Failed(why) => write!(f, "the recording can't be slowed: {why}\nhint: try it without a pitch shift"),
        }
    }
}

impl std::error::Error for StretchError {}

/// Something that stretches.
pub trait Stretcher {
    /// Stereo at `rate` frames a second, `times` as long, to the frame, everything in it at `times` its place to within
    /// 0.1 ms.
    ///
    /// # Errors
    /// When the figures are out of range, the progress said to stop, or it can't be done.
    fn stretch(
        &self,
        sound: &[[f32; 2]],
        rate: u32,
        stretch: Stretch,
        progress: &mut Progress<'_>,
    ) -> Result<Vec<[f32; 2]>, StretchError>;
}

/// The phase vocoder of the `timestretch` crate, which keeps the duration and lets the pitch give way by what its hops
/// can't hold.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub struct PhaseVocoder;

impl Stretcher for PhaseVocoder {
    fn stretch(
        &self,
        sound: &[[f32; 2]],
        rate: u32,
        stretch: Stretch,
        progress: &mut Progress<'_>,
    ) -> Result<Vec<[f32; 2]>, StretchError> {
        let out_of_range = StretchError::Range(stretch, rate);
        if !(0.25..=8.0).contains(&stretch.times) || !(-12.0..=12.0).contains(&stretch.semitones) {
            return Err(out_of_range);
        }
        if sound.is_empty() || (unchanged(stretch.times, 1.0) && unchanged(stretch.semitones, 0.0)) {
            return Ok(sound.to_vec());
        }
        let parameters = Parameters {
            tempo: DurationRatio::new(stretch.times).map_err(|_| out_of_range)?.tempo(),
            pitch: PitchRatio::from_semitones(stretch.semitones).map_err(|_| out_of_range)?,
            constraint: RatioConstraint::PreserveDuration,
        };
        let config = SessionConfig {
            source_sample_rate: rate,
            output_sample_rate: rate,
            channels: 2,
            source_access: SourceAccess::Seekable,
            source_frames: Some(sound.len() as u64),
            parameters,
            ..SessionConfig::default()
        };
        run(sound, config, progress)
    }
}

fn unchanged(value: f64, neutral: f64) -> bool {
    (value - neutral).abs() < 1e-9
}

/// Feeds the whole sound through a session and collects what comes out.
#[expect(
    clippy::cast_precision_loss,
    clippy::cast_possible_truncation,
    clippy::cast_sign_loss,
    reason = "a share, and places in memory"
)]
fn run(sound: &[[f32; 2]], config: SessionConfig, progress: &mut Progress<'_>) -> Result<Vec<[f32; 2]>, StretchError> {
    let failed = StretchError::Failed;
    let length = sound.len() as f64 / config.parameters.tempo.get();
    let mut session = PreparedSession::new(config).map_err(failed)?.activate();
    let mut out = Vec::with_capacity(length as usize + 1);
    let mut block = vec![[0.0_f32; 2]; 1024];
    while !session.finished() {
        match session.advance(32).status {
            ProcessStatus::Fault => return Err(failed(session.fault().unwrap_or(SessionError::InvalidState))),
            ProcessStatus::NeedSource => {
                let request = session.source_request().ok_or(failed(SessionError::InvalidState))?;
                let start = (request.start_frame as usize).min(sound.len());
                let end = (start + request.frames).min(sound.len());
                if !progress(start as f32 / sound.len() as f32) {
                    return Err(StretchError::Cancelled);
                }
                if start == end {
                    session.finish_input().map_err(failed)?;
                } else {
                    session.supply(request, sound[start..end].as_flattened()).map_err(failed)?;
                }
            }
            _ => {}
        }
        let stamp = session.read_output(block.as_flattened_mut()).map_err(failed)?;
        out.extend_from_slice(&block[..stamp.frames]);
        session.acknowledge(stamp.consumed(stamp.frames).map_err(failed)?).map_err(failed)?;
    }
    Ok(out)
}
