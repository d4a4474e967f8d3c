//! What systems and rooms do to a recorded guitar, done to a take after it was made.
//!
//! Each is our own writing of the kind of processing its name says, of no product's; how strongly is drawn. Levels are
//! measured over the stretch in which the guitar is played.

mod band;
mod delay;
mod level;
mod spectral;

use std::ops::Range;

use crate::dice::Dice;
use crate::echo::reverberate;
use crate::level::{db, rms};
use crate::noises::{add_noise, rumble};

/// A kind of damage.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, clap::ValueEnum)]
pub enum Degradation {
    /// Noise suppression made for speech: what sounds steadily is taken for noise, and between sounds all is cut off.
    Suppression,
    /// Automatic gain: what is soft is made as loud as what is loud.
    Gain,
    /// Echo cancelling: while we play, the microphone is turned down. Only of takes with our own playback.
    Echo,
    /// A telephone's band, 300 to 3,400 Hz, in eight bits.
    Narrow,
    /// An overdriven input, turned down afterwards as often as not.
    Clipped,
    /// A microphone at the other end of the room: reverberation, and noise 0 to 6 dB under the guitar.
    Far,
    /// A delay that jumps by 20 to 70 ms every few seconds.
    Wandering,
}

impl Degradation {
    /// All of them.
    pub const ALL: [Self; 7] =
        [Self::Suppression, Self::Gain, Self::Echo, Self::Narrow, Self::Clipped, Self::Far, Self::Wandering];

    /// Its name in truths and on the command line.
    #[must_use]
    pub const fn name(self) -> &'static str {
        match self {
            Self::Suppression => "suppression",
            Self::Gain => "gain",
            Self::Echo => "echo",
            Self::Narrow => "narrow",
            Self::Clipped => "clipped",
            Self::Far => "far",
            Self::Wandering => "wandering",
        }
    }

    /// Does it to a take, `played` beside it, in which the guitar is played over `playing`, in frames. `None` where it
    /// needs our own playback and there is none.
    #[must_use]
    pub fn apply(
        self,
        take: &[f32],
        played: Option<&[f32]>,
        playing: &Range<usize>,
        dice: &mut Dice,
    ) -> Option<Vec<f32>> {
        Some(match self {
            Self::Suppression => spectral::suppress(take, dice),
            Self::Gain => level::level(take, dice),
            Self::Echo => spectral::cancel(take, played?, playing, dice),
            Self::Narrow => band::telephone(take),
            Self::Clipped => level::overdrive(take, playing, dice),
            Self::Far => far(take, playing, dice),
            Self::Wandering => delay::wander(take, dice),
        })
    }
}

/// Two rooms one after the other, the second with nothing direct to speak of, and noise.
fn far(take: &[f32], playing: &Range<usize>, dice: &mut Dice) -> Vec<f32> {
    let once = reverberate(take, dice);
    let mut sound: Vec<f32> = reverberate(&once, dice).iter().zip(take).map(|(wet, dry)| wet - 0.7 * dry).collect();
    let loud = rms(&sound[playing.start.min(sound.len())..playing.end.min(sound.len())]);
    let noise = rumble(sound.len(), dice);
    add_noise(&mut sound, &noise, loud * db(-dice.between(0.0, 6.0)));
    let gain = db(-dice.between(15.0, 30.0));
    sound.iter_mut().for_each(|sample| *sample *= gain);
    sound
}
