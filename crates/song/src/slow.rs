//! One passage of a recording at one tempo: every beat on the frame where the timeline has it.
//!
//! Between two anchors the players' tempo is even, so each such stretch is slowed by one factor, with some of the
//! recording before and after it so that its edges sound as they should; the stretches are joined by a short fade that
//! ends just before the beat they meet on, where that beat's own attack covers it.

use std::fmt;

use sixrung_timeline::{FineFrames, TempoGrid, Tick};

use crate::map::BeatMap;
use crate::resample::resampled;
use crate::stretch::{PhaseVocoder, Progress, Stretch, StretchError, Stretcher};

/// A pass longer than this, in seconds, is not prepared: 8 minutes of stereo at 48 kHz take 184 MB.
pub const LONGEST_PASS_S: f64 = 8.0 * 60.0;

/// Heard before the passage, faded in, in seconds: an attack a little ahead of the beat is not cut.
const LEAD_S: f64 = 0.040;
/// Heard after it, faded out.
const TAIL_S: f64 = 0.250;
/// So much of the recording around a stretch is given to the stretcher, in seconds: several of its windows.
const AROUND_S: f64 = 0.35;
/// A joint's fade, in seconds, and how long before the beat it ends.
const JOINT_S: f64 = 0.012;
const BEFORE_BEAT_S: f64 = 0.002;

/// A stretch of the piece at a tempo.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Passage {
    /// Rate, tempo and beat of the timeline it is to be played with.
    pub grid: TempoGrid,
    /// Where it begins, from bar 1 of the piece.
    pub from: Tick,
    /// How long it is.
    pub length: Tick,
}

/// What is to be slowed.
#[derive(Clone, Copy)]
pub struct Job<'a> {
    /// The recording.
    pub sound: &'a [[f32; 2]],
    /// Its frames a second.
    pub rate: u32,
    /// Where its beats lie.
    pub map: &'a BeatMap,
    /// What is wanted of it.
    pub passage: Passage,
    /// So many semitones higher.
    pub semitones: f64,
}

/// Why a passage can't be slowed.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum SlowError {
    /// It would last so many seconds, longer than [`LONGEST_PASS_S`].
    TooLong(f64),
    /// Nothing of it lies in the recording.
    Outside,
    /// The stretcher's word.
    Stretch(StretchError),
}

impl fmt::Display for SlowError {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Self::TooLong(seconds) => write!(
                f,
                "slowed so, this would last {:.0} minutes, longer than the {:.0} that are kept in memory\nhint: play a \
                 section of it, or a faster rung",
                seconds / 60.0,
                LONGEST_PASS_S / 60.0
            ),
            Self::Outside => f.write_str("the recording does not reach here\nhint: does bar 1 lie where it is marked?"),
            Self::Stretch(error) => error.fmt(f),
        }
    }
}

impl std::error::Error for SlowError {}

impl From<StretchError> for SlowError {
    fn from(error: StretchError) -> Self {
        Self::Stretch(error)
    }
}

/// A passage, slowed: stereo at the grid's rate.
#[derive(Clone, Debug, PartialEq)]
pub struct Slowed {
    pub(crate) frames: Vec<[f32; 2]>,
    pub(crate) lead: usize,
    pub(crate) pass: usize,
}

impl Slowed {
    /// What is heard before the passage, the passage, and what is heard after it.
    #[must_use]
    pub fn frames(&self) -> &[[f32; 2]] {
        &self.frames
    }

    /// Frames before the passage.
    #[must_use]
    pub const fn lead(&self) -> usize {
        self.lead
    }

    /// Frames of the passage itself.
    #[must_use]
    pub const fn pass(&self) -> usize {
        self.pass
    }
}

/// Slows a passage. What lies outside the recording is silence.
///
/// # Errors
/// When the result would be too long, none of it lies in the recording, or the stretcher can't.
pub fn slow(job: &Job<'_>, progress: &mut Progress<'_>) -> Result<Slowed, SlowError> {
    slow_with(&PhaseVocoder, job, progress)
}

#[expect(
    clippy::cast_precision_loss,
    clippy::cast_possible_truncation,
    clippy::cast_sign_loss,
    reason = "places in memory, never negative"
)]
fn slow_with(stretcher: &dyn Stretcher, job: &Job<'_>, progress: &mut Progress<'_>) -> Result<Slowed, SlowError> {
    let grid = job.passage.grid;
    let seconds = grid.seconds(job.passage.length);
    if seconds > LONGEST_PASS_S {
        return Err(SlowError::TooLong(seconds));
    }
    let frames_of = |seconds: f64| (seconds * f64::from(grid.rate())).round() as i64;
    let (lead, tail) = (frames_of(LEAD_S), frames_of(TAIL_S));
    let corners = corners(job.map, &job.passage);
    let (first, last) = (corners[0], corners[corners.len() - 1]);
    let length_s = job.sound.len() as f64 / f64::from(job.rate.max(1));
    if last.recorded_s <= 0.0 || first.recorded_s >= length_s {
        return Err(SlowError::Outside);
    }
    let pass = last.frame;
    let mut frames = vec![[0.0_f32; 2]; (lead + pass + tail) as usize];
    let (joint, before_beat) = (frames_of(JOINT_S), frames_of(BEFORE_BEAT_S));
    let stretches = corners.len() - 1;
    for (index, pair) in corners.windows(2).enumerate() {
        let (from, to) = (pair[0], pair[1]);
        let begins = if index == 0 { -lead } else { from.frame - before_beat - joint };
        let ends = if index + 1 == stretches { pass + tail } else { to.frame };
        let share = |done: f32| {
            let (from, to) = (from.frame as f32, to.frame as f32);
            (from + (to - from) * done) / pass.max(1) as f32
        };
        let piece = piece(stretcher, job, (from, to), begins..ends, &mut |done| progress(share(done)))?;
        for (frame, new) in (begins..ends).zip(piece) {
            let Some(out) = frames.get_mut((frame + lead) as usize) else { continue };
            let weight = if index == 0 { 1.0 } else { ((frame - begins) as f32 / joint.max(1) as f32).clamp(0.0, 1.0) };
            *out = [0, 1].map(|side| out[side] + weight * (new[side] - out[side]));
        }
    }
    Ok(Slowed { frames, lead: lead as usize, pass: pass as usize })
}

/// A moment both in the recording and in the pass.
#[derive(Clone, Copy, Debug)]
struct Corner {
    recorded_s: f64,
    frame: i64,
}

/// The pass's ends and the anchors within it, by time.
#[expect(clippy::cast_possible_wrap, clippy::cast_precision_loss, reason = "frames of minutes")]
fn corners(map: &BeatMap, passage: &Passage) -> Vec<Corner> {
    let grid = passage.grid;
    let beat = i64::from(grid.beat().0);
    let (from, length) = (i64::from(passage.from.0), i64::from(passage.length.0));
    let corner = |tick: i64| {
        let recorded_s = map.at((from + tick) as f64 / beat as f64);
        let frame = grid.frame(FineFrames::default(), tick.unsigned_abs()).0 as i64;
        Corner { recorded_s, frame }
    };
    let inside = map.knots().iter().map(|knot| i64::from(knot.beat) * beat - from);
    let mut corners = vec![corner(0)];
    corners.extend(inside.filter(|tick| (1..length).contains(tick)).map(corner));
    corners.push(corner(length.max(1)));
    corners
}

/// The frames `wanted` of the pass, from a stretch of even tempo that runs from one corner to another.
#[expect(
    clippy::cast_precision_loss,
    clippy::cast_possible_truncation,
    clippy::cast_sign_loss,
    reason = "places in memory; what lies before the recording is silence"
)]
fn piece(
    stretcher: &dyn Stretcher,
    job: &Job<'_>,
    (from, to): (Corner, Corner),
    wanted: std::ops::Range<i64>,
    progress: &mut Progress<'_>,
) -> Result<Vec<[f32; 2]>, SlowError> {
    let out_rate = f64::from(job.passage.grid.rate());
    let times = (to.frame - from.frame) as f64 / ((to.recorded_s - from.recorded_s) * out_rate);
    // What is wanted, in the recording's time, with some more around it.
    let recorded = |frame: i64| from.recorded_s + (frame - from.frame) as f64 / out_rate / times;
    let (begins_s, ends_s) = (recorded(wanted.start) - AROUND_S, recorded(wanted.end) + AROUND_S);
    let rate = f64::from(job.rate);
    let begins = (begins_s * rate).floor() as i64;
    let ends = (ends_s * rate).ceil() as i64;
    let excerpt: Vec<[f32; 2]> = (begins..ends)
        .map(|place| usize::try_from(place).ok().and_then(|place| job.sound.get(place)).copied().unwrap_or_default())
        .collect();
    let excerpt = resampled(&excerpt, job.rate, job.passage.grid.rate());
    let stretch = Stretch { times, semitones: job.semitones };
    let slowed = stretcher.stretch(&excerpt, job.passage.grid.rate(), stretch, progress)?;
    let skipped = (recorded(wanted.start) - begins as f64 / rate) * out_rate * times;
    let skipped = skipped.round().max(0.0) as usize;
    Ok(slowed.into_iter().skip(skipped).take((wanted.end - wanted.start) as usize).collect())
}
