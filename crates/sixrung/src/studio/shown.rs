//! What the listening thread tells the window of level and pitch: only what would look different, and not too often.

use std::time::{Duration, Instant};

use sixrung_listen::{LearnProgress, Sounding};

use crate::draw::meter::lit;
use crate::stand::{HearingState, HearingView};

/// The level meter moves at most this often.
const LEVEL_EVERY: Duration = Duration::from_millis(80);
/// The tuner's needle moves at most this often: as fast as a needle is read, and no faster.
const NEEDLE_EVERY: Duration = Duration::from_millis(40);

/// Counted strokes are told again so often: a page just opened knows nothing of what was told before.
const STROKES_AGAIN: Duration = Duration::from_millis(300);

/// What level meter, tuner and the page of chords show.
#[derive(Default)]
pub(super) struct Shown {
    level: Lately<(u16, HearingState)>,
    needle: Lately<Sounding>,
    chords: Lately<LearnProgress>,
}

impl Shown {
    /// Whether the level meter would look different.
    pub(super) fn is_level_news(&mut self, level: &HearingView) -> bool {
        self.level.is_news((lit(level.level), level.state), LEVEL_EVERY)
    }

    /// Whether the needle would.
    pub(super) fn is_needle_news(&mut self, sounding: Sounding) -> bool {
        self.needle.is_news(sounding, NEEDLE_EVERY)
    }

    /// Whether the rings that count strokes would.
    pub(super) fn is_stroke_news(&mut self, progress: LearnProgress) -> bool {
        self.chords.is_news(progress, Duration::ZERO) || self.chords.is_older_than(STROKES_AGAIN)
    }
}

/// The last thing told, and when.
struct Lately<T>(Option<(T, Instant)>);

impl<T> Default for Lately<T> {
    fn default() -> Self {
        Self(None)
    }
}

impl<T: PartialEq> Lately<T> {
    /// Whether it was told so long ago; then it counts as told now.
    fn is_older_than(&mut self, age: Duration) -> bool {
        let Some((_, told)) = self.0.as_mut().filter(|(_, told)| told.elapsed() >= age) else { return false };
        *told = Instant::now();
        true
    }

    fn is_news(&mut self, now: T, every: Duration) -> bool {
        let news = self.0.as_ref().is_none_or(|(last, told)| *last != now && told.elapsed() >= every);
        if news {
            self.0 = Some((now, Instant::now()));
        }
        news
    }
}
