//! Takes our own sound off the microphone's, sample by sample.

use super::path::{LARGEST_LAG_S, LARGEST_LEAD_S, LENGTH_S, OwnPath};
use super::played::Played;
use crate::sums::dot;

/// Convolves what is played with the path, in step with the microphone.
#[derive(Debug)]
pub(crate) struct Remover {
    played: Played,
    path: Option<OwnPath>,
    /// The path's taps, the last first: the sum is a plain one over the past.
    reversed: Vec<f32>,
    /// The last `length` samples of what is played, twice over, the newest `ahead` of the microphone.
    ring: Vec<f32>,
    at: usize,
    length: usize,
    ahead: usize,
    rate: f64,
    /// Samples in a row of which it is known what was played.
    known: usize,
}

impl Remover {
    /// For a listener's working rate, and playback at `rate` frames a second.
    #[expect(clippy::cast_possible_truncation, clippy::cast_sign_loss, reason = "seconds of samples")]
    pub(crate) fn new(working: f64, rate: u32) -> Self {
        let samples = |seconds: f64| (seconds * working).ceil() as usize;
        let ahead = samples(LARGEST_LEAD_S);
        let length = samples(LARGEST_LEAD_S + LARGEST_LAG_S + LENGTH_S) + 1;
        Self {
            played: Played::new(rate),
            path: None,
            reversed: Vec::with_capacity(samples(LENGTH_S)),
            ring: vec![0.0; 2 * length],
            at: 0,
            length,
            ahead,
            rate: working,
            known: 0,
        }
    }

    pub(crate) const fn played(&mut self) -> &mut Played {
        &mut self.played
    }

    pub(crate) const fn path(&self) -> Option<&OwnPath> {
        self.path.as_ref()
    }

    /// Takes off what comes along this path from now on; a path of another rate is none.
    pub(crate) fn set_path(&mut self, path: Option<OwnPath>) {
        self.path = path.filter(|path| (path.rate - self.rate).abs() < 1e-6 && self.window(path).is_some());
        self.reversed.clear();
        if let Some(path) = &self.path {
            self.reversed.extend(path.taps.iter().rev());
        }
    }

    /// What is played at `time_s` of the microphone's clock, and what is heard of it then: asked for each sample in
    /// turn. `None` where it is not known what was played.
    #[expect(clippy::cast_precision_loss, reason = "a few dozen")]
    pub(crate) fn next(&mut self, time_s: f64) -> Option<(f32, f32)> {
        let newest = self.played.at(time_s + self.ahead as f64 / self.rate);
        self.known = if newest.is_some() { self.known + 1 } else { 0 };
        self.ring[self.at] = newest.unwrap_or(0.0);
        self.ring[self.at + self.length] = newest.unwrap_or(0.0);
        self.at = (self.at + 1) % self.length;
        // Oldest first; the newest is the last of `length`.
        let past = &self.ring[self.at..self.at + self.length];
        let heard = self
            .path
            .as_ref()
            .and_then(|path| self.window(path))
            .map_or(0.0, |window| dot(&past[window], &self.reversed));
        (self.known > self.ahead).then(|| (past[self.length - 1 - self.ahead], heard))
    }

    /// Begins at another place of the microphone's clock: the next sample asked for is that of `time_s`.
    #[expect(clippy::cast_precision_loss, reason = "seconds of samples")]
    pub(crate) fn restart(&mut self, time_s: f64) {
        self.known = 0;
        for past in (1..=self.length).rev() {
            let _ = self.next(time_s - past as f64 / self.rate);
        }
    }

    /// Where the past lies that a path's taps meet, among the last `length` samples.
    fn window(&self, path: &OwnPath) -> Option<std::ops::Range<usize>> {
        let newest = i64::try_from(self.length - 1 - self.ahead).ok()? - path.lag;
        let end = usize::try_from(newest).ok()? + 1;
        (end <= self.length).then_some(end.checked_sub(path.taps.len())?..end)
    }
}
