//! What lies between the guitar and the recording.

use crate::dice::Dice;
use crate::echo::{loudspeaker, reverberate};
use crate::level::{db, rms};
use crate::noises::{add_hum, add_noise, add_thumps, hiss, rumble};

/// Where, and beside what, a take was recorded.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, clap::ValueEnum)]
pub enum Condition {
    /// Close, dry, with no more than a preamplifier's hiss.
    Quiet,
    /// Across a small room: reverberation, mains hum, thumps on the floor, noise 25 dB under the guitar.
    Room,
    /// Close; the program's own playback comes back by a loudspeaker, 10 dB under the guitar. The player waits for the
    /// count-in.
    Own,
    /// Close; the player sings, 6 dB under the guitar.
    Sing6,
    /// Close; the player sings as loud as the guitar.
    Sing0,
}

impl Condition {
    /// All of them.
    pub const ALL: [Self; 5] = [Self::Quiet, Self::Room, Self::Own, Self::Sing6, Self::Sing0];

    /// Its name in truths and on the command line.
    #[must_use]
    pub const fn name(self) -> &'static str {
        match self {
            Self::Quiet => "quiet",
            Self::Room => "room",
            Self::Own => "own",
            Self::Sing6 => "sing6",
            Self::Sing0 => "sing0",
        }
    }

    /// What sounds beside the guitar, and how far under it in decibels.
    #[must_use]
    pub const fn beside(self) -> Option<(Beside, f64)> {
        match self {
            Self::Quiet | Self::Room => None,
            Self::Own => Some((Beside::Playback, 10.0)),
            Self::Sing6 => Some((Beside::Voice, 6.0)),
            Self::Sing0 => Some((Beside::Voice, 0.0)),
        }
    }
}

/// What can sound beside the guitar.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Beside {
    /// The program's own click and strummed part.
    Playback,
    /// The player's voice.
    Voice,
}

/// Records `guitar` alone: as [`record_beside`], with nothing beside it.
#[must_use]
pub fn record(guitar: &[f32], playing: std::ops::Range<usize>, condition: Condition, dice: &mut Dice) -> Vec<f32> {
    let mut walls = Dice::new(dice.bits());
    record_beside(guitar, &[], playing, condition, &mut walls, dice)
}

/// Records `guitar`: colours it, adds noise and what sounds `beside` it, sets its level to a peak of −12 to −3 dB full
/// scale. Levels are measured over `playing`, in frames. The room and the gain come from `walls`, the noise from `dice`.
#[must_use]
pub fn record_beside(
    guitar: &[f32],
    beside: &[f32],
    playing: std::ops::Range<usize>,
    condition: Condition,
    walls: &mut Dice,
    dice: &mut Dice,
) -> Vec<f32> {
    let mut sound = if condition == Condition::Room { reverberate(guitar, walls) } else { guitar.to_vec() };
    let frames = sound.len();
    let playing = playing.start.min(frames)..playing.end.min(frames);
    let loud = rms(&sound[playing.clone()]);
    match condition.beside() {
        Some((what, under_db)) => {
            let other = if what == Beside::Playback { loudspeaker(beside, walls) } else { beside.to_vec() };
            let gain = loud * db(-under_db) / rms(other.get(playing).unwrap_or(&[])).max(1e-9);
            for (sample, other) in sound.iter_mut().zip(other) {
                *sample += gain * other;
            }
            add_noise(&mut sound, &hiss(frames, dice), loud * db(dice.between(-60.0, -40.0)));
        }
        None if condition == Condition::Room => {
            add_noise(&mut sound, &rumble(frames, dice), loud * db(-25.0));
            add_hum(&mut sound, loud * db(dice.between(-38.0, -30.0)), dice);
            add_thumps(&mut sound, loud, dice);
        }
        None => add_noise(&mut sound, &hiss(frames, dice), loud * db(-60.0)),
    }
    let peak = sound.iter().fold(1e-9_f32, |peak, sample| peak.max(sample.abs()));
    let gain = db(walls.between(-12.0, -3.0)) / peak;
    for sample in &mut sound {
        *sample *= gain;
    }
    sound
}
