//! How loud a timeline's music is, so that every lesson and every rung is heard alike.

use ebur128::{EbuR128, Mode};
use sixrung_timeline::{TempoGrid, Tick, Timeline};

use crate::kit::Kit;
use crate::render::{Render, RenderOptions};
use crate::units::Decibels;

/// The integrated loudness (EBU R 128, ITU-R BS.1770) that the guitar of a timeline is brought to, in LUFS.
pub const MUSIC_LUFS: f64 = -18.0;

/// At most so much is changed, in decibels: more is no strumming, but a single stroke in silence.
const MOST_DB: f64 = 9.0;
/// It is played through at this rate at most: above 8 kHz a guitar has nothing that counts in loudness.
const RATE: u32 = 16_000;
/// At most so much of a pass is played through, in seconds.
const LONGEST_S: f64 = 240.0;
/// It is played through so much softer, in decibels, that the limiter has nothing to do.
const SOFTER_DB: f32 = 15.0;

/// The gain that brings the strings of a timeline to [`MUSIC_LUFS`]; none where nothing is to be heard.
pub(crate) fn level(timeline: &Timeline, kit: &Kit) -> Decibels {
    let loud = loudness(timeline, kit).filter(|loud| loud.is_finite());
    #[expect(clippy::cast_possible_truncation, reason = "a few decibels")]
    loud.map_or(Decibels::UNITY, |loud| Decibels((MUSIC_LUFS - loud).clamp(-MOST_DB, MOST_DB) as f32))
}

/// The integrated loudness of one pass's strings, in LUFS.
fn loudness(timeline: &Timeline, kit: &Kit) -> Option<f64> {
    let rate = timeline.grid.rate().min(RATE);
    let grid = TempoGrid::new(rate, timeline.grid.tempo(), timeline.grid.beat());
    let end = timeline.pass_at + timeline.pass;
    let pass = timeline.cycle_events.iter().filter(|event| timeline.pass_at <= event.at && event.at < end);
    let alone = Timeline {
        grid,
        intro: Tick::ZERO,
        intro_events: Box::default(),
        cycle: timeline.pass,
        cycle_events: pass.map(|event| sixrung_timeline::Event { at: event.at - timeline.pass_at, ..*event }).collect(),
        pass_at: Tick::ZERO,
        passes: Some(1),
        ..*timeline
    };
    let silent = Decibels::SILENCE;
    let options = RenderOptions {
        kit: kit.clone(),
        click: silent,
        bass: silent,
        brushes: silent,
        master: Decibels(-SOFTER_DB),
        tail_s: 0.0,
        ..RenderOptions::default()
    };
    let mut render = Render::new(alone, &options).ok()?;
    let mut meter = EbuR128::new(2, rate, Mode::I).ok()?;
    let mut block = vec![0.0; 2 * 4096];
    let mut left_s = LONGEST_S;
    while left_s > 0.0 {
        let made = render.next_block(&mut block);
        if made == 0 {
            break;
        }
        meter.add_frames_f32(&block[..2 * made]).ok()?;
        #[expect(clippy::cast_precision_loss, reason = "a block")]
        let made_s = made as f64 / f64::from(rate);
        left_s -= made_s;
    }
    meter.loudness_global().ok().map(|loud| loud + f64::from(SOFTER_DB))
}
