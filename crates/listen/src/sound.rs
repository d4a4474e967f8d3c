//! The sound of one pass at the listener's working rate, kept until its verdict: chords and strings are heard in it.

/// A stretch of one channel. Made once a pass with room for all of it.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct PassSound {
    /// Samples a second, 8,000 to 16,000.
    pub rate: f64,
    /// When the first sample was, in seconds on the clock of the pass's strokes.
    pub starts_s: f64,
    /// The samples.
    pub samples: Vec<f32>,
}

impl PassSound {
    /// Room for `seconds` of sound without another allocation, at any working rate.
    pub(crate) fn with_room(seconds: f64) -> Self {
        #[expect(clippy::cast_possible_truncation, clippy::cast_sign_loss, reason = "minutes at most")]
        let samples = (seconds * 16_000.0).clamp(0.0, 1e8) as usize;
        Self { samples: Vec::with_capacity(samples), ..Self::default() }
    }

    /// Appends samples of which the first was at `at_s`. A jump in time is filled with silence; what lies before the
    /// end of what is kept is dropped.
    pub(crate) fn append(&mut self, at_s: f64, rate: f64, samples: &[f32]) {
        if self.samples.is_empty() {
            (self.rate, self.starts_s) = (rate, at_s);
        }
        #[expect(clippy::cast_possible_truncation, reason = "minutes at most")]
        let at = ((at_s - self.starts_s) * self.rate).round() as i64;
        let missing = at - i64::try_from(self.samples.len()).unwrap_or(i64::MAX);
        let room = self.samples.capacity() - self.samples.len();
        let silence = usize::try_from(missing).unwrap_or(0).min(room);
        self.samples.extend(std::iter::repeat_n(0.0, silence));
        let known = usize::try_from(-missing).unwrap_or(0).min(samples.len());
        let room = self.samples.capacity() - self.samples.len();
        self.samples.extend(samples[known..].iter().take(room));
    }

    /// Appends the part of `samples`, of which the first was at `at_s`, that lies from one time to another.
    pub(crate) fn append_between(&mut self, at_s: f64, rate: f64, samples: &[f32], (from_s, to_s): (f64, f64)) {
        #[expect(clippy::cast_possible_truncation, clippy::cast_sign_loss, reason = "clamped to the block")]
        let index = |time_s: f64| (((time_s - at_s) * rate).max(0.0) as usize).min(samples.len());
        let (first, last) = (index(from_s), index(to_s));
        if first < last {
            #[expect(clippy::cast_precision_loss, reason = "a block")]
            self.append(at_s + first as f64 / rate, rate, &samples[first..last]);
        }
    }

    /// Drops what lies before a time, keeping its room.
    pub(crate) fn forget_before(&mut self, at_s: f64) {
        #[expect(clippy::cast_possible_truncation, clippy::cast_sign_loss, reason = "clamped to what is kept")]
        let first = (((at_s - self.starts_s) * self.rate).floor().max(0.0) as usize).min(self.samples.len());
        self.samples.drain(..first);
        #[expect(clippy::cast_precision_loss, reason = "minutes at most")]
        let dropped_s = first as f64 / self.rate.max(1.0);
        self.starts_s += dropped_s;
    }

    /// When what is kept ends, in seconds.
    pub(crate) fn ends_s(&self) -> f64 {
        #[expect(clippy::cast_precision_loss, reason = "minutes at most")]
        let length = self.samples.len() as f64;
        self.starts_s + length / self.rate.max(1.0)
    }

    /// The samples from one time to another, cut to what is kept.
    #[must_use]
    pub fn between(&self, from_s: f64, to_s: f64) -> &[f32] {
        #[expect(clippy::cast_possible_truncation, clippy::cast_sign_loss, reason = "clamped to what is kept")]
        let index = |at_s: f64| ((at_s - self.starts_s) * self.rate).round().max(0.0) as usize;
        let to = index(to_s).min(self.samples.len());
        &self.samples[index(from_s).min(to)..to]
    }
}

#[cfg(test)]
mod tests {
    use super::PassSound;

    #[test]
    fn a_jump_is_silence_and_what_is_known_is_not_kept_twice() {
        let mut sound = PassSound::with_room(1.0);
        sound.append(10.0, 10.0, &[1.0, 2.0]);
        sound.append(10.4, 10.0, &[5.0]);
        sound.append(10.4, 10.0, &[6.0, 7.0]);
        assert_eq!(sound.samples, [1.0, 2.0, 0.0, 0.0, 5.0, 7.0]);
        assert_eq!(sound.between(10.1, 10.5), [2.0, 0.0, 0.0, 5.0]);
        assert_eq!(sound.between(0.0, 10.1), [1.0]);
        assert!(sound.between(11.0, 12.0).is_empty());
    }

    #[test]
    fn what_is_forgotten_leaves_its_room_and_the_rest_where_it_was() {
        let mut sound = PassSound::with_room(1.0);
        sound.append(10.0, 10.0, &[1.0, 2.0, 3.0, 4.0]);
        let room = sound.samples.capacity();
        sound.forget_before(10.25);
        assert_eq!((sound.between(10.2, 10.4), sound.samples.capacity()), (&[3.0, 4.0][..], room));
        sound.forget_before(99.0);
        assert!(sound.samples.is_empty());
    }

    #[test]
    fn more_than_there_is_room_for_is_dropped() {
        let mut sound = PassSound::with_room(0.001);
        let room = sound.samples.capacity();
        sound.append(0.0, 8000.0, &vec![1.0; room + 5]);
        assert_eq!((sound.samples.len(), sound.samples.capacity()), (room, room));
    }
}
