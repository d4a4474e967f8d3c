//! The program's own playback: click and strummed part, as `sixrung render` makes them.

use sixrung_audio::{Instrument, Render, RenderOptions};
use sixrung_timeline::{Between, Clicks, Request, Timeline, compile, default_count_in_bars};

use crate::error::Error;
use crate::part::Piece;
use crate::synth::RATE;

/// What the program plays beside the player, count-in first.
#[derive(Clone, Debug)]
pub(crate) struct Playback {
    timeline: Timeline,
    options: RenderOptions,
    /// Length of the count-in, in seconds.
    pub(crate) count_in_s: f64,
}

impl Playback {
    /// Compiles it: the lesson's own count-in, or the default one, then `passes` on each other's heels.
    ///
    /// # Errors
    /// As [`crate::Part::of`].
    pub(crate) fn of(piece: &Piece<'_>, passes: usize) -> Result<Self, Error> {
        let lesson = piece.lesson;
        let score = piece.score()?;
        let meter = score.bars.first().map_or(lesson.meter, |bar| bar.meter);
        let default = default_count_in_bars(meter, piece.tempo, lesson.beat.ticks());
        let request = Request {
            id: 0,
            rate: RATE,
            tempo: piece.tempo,
            count_in_bars: lesson.count_in_bars.unwrap_or(default).max(1),
            between: Between::Seamless,
            passes: u32::try_from(passes).ok(),
            clicks: Clicks::default(),
            backing: false,
        };
        let plan = compile(lesson, &score, &request).map_err(|error| Error::Lesson(error.to_string()))?;
        let timeline = plan.timeline;
        let count_in_s = timeline.grid.seconds(timeline.intro + timeline.pass_at);
        let instrument = Instrument::new(lesson.tuning.open()).unwrap_or_else(Instrument::guitar);
        Ok(Self { timeline, options: RenderOptions { kit: instrument.into(), ..RenderOptions::default() }, count_in_s })
    }

    /// Renders `frames` frames in which the first pass begins at `starts_at_s`; mixed to one channel.
    ///
    /// # Errors
    /// The timeline can't be rendered.
    pub(crate) fn render(&self, starts_at_s: f64, frames: usize) -> Result<Vec<f32>, Error> {
        let mut render =
            Render::new(self.timeline.clone(), &self.options).map_err(|error| Error::Lesson(error.to_string()))?;
        #[expect(clippy::cast_possible_truncation, clippy::cast_sign_loss, reason = "takes last minutes, from 0 on")]
        let before = ((starts_at_s - self.count_in_s).max(0.0) * f64::from(RATE)).round() as usize;
        let mut sound = vec![0.0; before];
        let mut block = vec![0.0; 8192];
        while sound.len() < frames {
            let made = render.next_block(&mut block);
            if made == 0 {
                break;
            }
            sound.extend(block[..2 * made].chunks_exact(2).map(|frame| f32::midpoint(frame[0], frame[1])));
        }
        sound.resize(frames, 0.0);
        Ok(sound)
    }
}
