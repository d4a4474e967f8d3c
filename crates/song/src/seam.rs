//! The two ends of a slowed passage: played once between a count-in and a rest, or round and round.

use crate::slow::Slowed;

/// Frames a loop goes on beyond its end: the next round may begin a frame later than the last one's length says, as
/// the timeline rounds each by itself.
const SPARE: usize = 8;

/// A passage played once: faded in over what lies before it, faded out over what lies after. Says where it begins.
#[must_use]
#[expect(clippy::cast_precision_loss, reason = "shares")]
pub fn once(mut slowed: Slowed) -> (usize, Box<[[f32; 2]]>) {
    let (lead, ends) = (slowed.lead, slowed.lead + slowed.pass);
    for (index, frame) in slowed.frames.iter_mut().enumerate().take(lead) {
        let gain = (index as f32 + 1.0) / (lead as f32 + 1.0);
        *frame = frame.map(|sample| sample * gain);
    }
    let tail = slowed.frames.len().saturating_sub(ends);
    for (index, frame) in slowed.frames.iter_mut().skip(ends).enumerate() {
        let gain = 1.0 - (index as f32 + 1.0) / (tail as f32 + 1.0);
        *frame = frame.map(|sample| sample * gain * gain);
    }
    (lead, slowed.frames.into_boxed_slice())
}

/// A passage played round and round: its last moment turns, at equal power, into what lies before its beginning, so
/// that the next round goes on from there sample by sample.
#[must_use]
#[expect(clippy::cast_precision_loss, reason = "shares")]
pub fn looped(slowed: &Slowed) -> Box<[[f32; 2]]> {
    let Slowed { frames, lead, pass } = slowed;
    let fade = (*lead).min(*pass);
    let mut round: Vec<[f32; 2]> = frames.iter().skip(*lead).take(*pass).copied().collect();
    let ends = round.len() - fade;
    for (index, frame) in round.iter_mut().skip(ends).enumerate() {
        let share = (index as f32 + 1.0) / (fade as f32 + 1.0) * std::f32::consts::FRAC_PI_2;
        let before = frames[lead - fade + index];
        *frame = [0, 1].map(|side| frame[side] * share.cos() + before[side] * share.sin());
    }
    round.extend(frames.iter().skip(*lead).take(SPARE.min(*pass)).copied());
    round.into_boxed_slice()
}
