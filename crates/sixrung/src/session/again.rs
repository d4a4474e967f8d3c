//! The worst bar of the last pass heard again: the player, the lesson's part, or both at once.
//!
//! The sound lies in [`super::Last`], so that it goes when the last pass leaves the sheet.

use std::sync::Arc;

use sixrung_audio::{Decibels, Instrument, Render, RenderOptions, Report, slowed};
use sixrung_lesson::{Tempo, Tick};
use sixrung_listen::{ChordFinding, Finding, PassVerdict, StrokeFinding};
use sixrung_timeline::{Between, Clicks, Event, EventKind, Request, TempoGrid, Timeline, compile};

use super::input::{Effect, Now};
use super::{Doing, Session, Stage, project};
use crate::recording::Recording;
use crate::stand::{HearAgain, HearAgainView, Pause, Voice};

/// So much before the bar and after it is heard too, in seconds, faded in and out: an early stroke, a last sound.
const BEFORE_S: f64 = 0.25;
const AFTER_S: f64 = 0.4;
const FADE_IN_S: f64 = 0.02;
const FADE_OUT_S: f64 = 0.3;
/// The player is made as loud as the lesson's part, but no louder than by this: 36 dB.
const MOST_GAIN: f32 = 63.0;

/// What is kept of the last pass to be heard again.
#[derive(Clone, Debug)]
pub(super) struct Kept {
    recording: Arc<Recording>,
    /// The worst bar, as an index into the score's bars.
    bar: usize,
    tempo: Tempo,
    /// When strokes were heard, in seconds from bar 1 beat 1.
    attacks_s: Vec<f64>,
}

/// What is heard again.
#[derive(Clone, Debug, Default)]
pub(super) struct Again {
    /// Under which id it plays, and who.
    playing: Option<(u64, Voice)>,
    /// Who was heard last.
    last: Option<Voice>,
    slowly: bool,
}

impl Session {
    /// Keeps the sound of the pass just judged, if there is something to hear in it.
    pub(super) fn keep_sound(&mut self, recording: Option<Arc<Recording>>, tempo: Tempo) {
        self.again.last = None;
        let (Some(stage), Some(last), Some(recording)) = (&self.stage, &mut self.last, recording) else { return };
        let Some(begins_s) = project::begins_s(stage, &last.verdict).filter(|_| last.result.plot.is_some()) else {
            return;
        };
        let heard = last.verdict.strokes.iter().filter_map(|stroke| stroke.heard_s);
        let attacks_s = heard.chain(last.verdict.extras_s.iter().copied()).map(|at_s| at_s - begins_s).collect();
        last.kept = worst_bar(stage, &last.verdict, last.result.plot.as_ref().and_then(|plot| plot.worst_bar))
            .map(|bar| Kept { recording, bar, tempo, attacks_s });
    }

    /// The bar that can be heard again.
    pub(super) fn hear_again_view(&self) -> Option<HearAgainView> {
        let kept = self.last.as_ref()?.kept.as_ref()?;
        let bar = self.stage.as_ref()?.score.bars.get(kept.bar)?.number + 1;
        Some(HearAgainView { bar, playing: self.again.playing.map(|(_, voice)| voice), slowly: self.again.slowly })
    }

    /// Whether something is heard again just now.
    pub(super) fn hears_again(&self) -> bool {
        self.again.playing.is_some()
    }

    /// Nothing is heard again any more; whoever calls it silences.
    pub(super) fn end_again(&mut self) -> bool {
        self.again.playing.take().is_some()
    }

    /// Takes in the performer's report if it is about what is heard again.
    pub(super) fn again_report(&mut self, report: &Report) -> bool {
        let (Report::Finished { id, .. } | Report::Refused { id }) = report else { return false };
        let is_over = self.again.playing.is_some_and(|(playing, _)| playing == *id);
        is_over && self.end_again()
    }

    pub(super) fn hear_again(&mut self, wish: HearAgain, now: Now, effects: &mut Vec<Effect>) {
        let voice = match wish {
            HearAgain::Slowly => {
                self.again.slowly = !self.again.slowly;
                let Some((_, playing)) = self.again.playing else { return };
                playing
            }
            HearAgain::Voice(voice) => voice,
            HearAgain::InTurn => match self.again.last {
                None | Some(Voice::Both) => Voice::You,
                Some(Voice::You) => Voice::Lesson,
                Some(Voice::Lesson) => Voice::Both,
            },
        };
        // Within a pass nothing else is played; in the rest between two, practice waits.
        match self.doing {
            Doing::Playing if self.is_resting(now) => self.halt(Doing::Paused(Pause::Asked), effects),
            Doing::Idle | Doing::Paused(_) => {}
            Doing::Playing | Doing::Marking { .. } => return,
        }
        let kept = self.last.as_ref().and_then(|last| last.kept.as_ref());
        let (Some(stage), Some(kept)) = (&self.stage, kept) else { return };
        let Some(sound) = sound(stage, kept, voice, self.again.slowly, self.sound.rate) else { return };
        self.ids += 1;
        (self.again.playing, self.again.last) = (Some((self.ids, voice)), Some(voice));
        effects.push(Effect::PlayRecording(self.ids, sound));
    }
}

/// The bar the plot calls the worst, or the one with most that was not as asked.
fn worst_bar(stage: &Stage, verdict: &PassVerdict, said: Option<u32>) -> Option<usize> {
    let bars = &stage.score.bars;
    let said = said.and_then(|number| bars.iter().position(|bar| bar.number + 1 == number));
    let trouble = |stroke: &StrokeFinding| {
        let timing = match stroke.finding {
            Finding::InTime => 0,
            Finding::Early | Finding::Late => 2,
            Finding::Missed => 3,
        };
        timing + u32::from(stroke.chord == ChordFinding::Wrong) * 3 + u32::from(!stroke.strings.is_empty())
    };
    let of_bar = |bar: usize| verdict.strokes.iter().filter(|stroke| stroke.bar == bar).map(trouble).sum::<u32>();
    // Of equally good ones the first.
    said.or_else(|| (0..bars.len()).rev().max_by_key(|bar| of_bar(*bar)))
}

/// What is to be played, at `rate` frames a second.
fn sound(stage: &Stage, kept: &Kept, voice: Voice, slowly: bool, rate: u32) -> Option<Vec<f32>> {
    let bar = stage.score.bars.get(kept.bar).filter(|_| rate > 0)?;
    let grid = TempoGrid::new(rate, kept.tempo, stage.lesson.beat.ticks());
    let from_s = grid.seconds(bar.start) - BEFORE_S;
    let to_s = grid.seconds(Tick(bar.start.0 + bar.meter.bar().0)) + AFTER_S;
    let length = frames(to_s - from_s, rate);
    let mut you = kept.recording.cut(from_s, rate, length);
    if slowly {
        let attacks: Vec<usize> =
            kept.attacks_s.iter().filter(|at_s| **at_s > from_s).map(|at_s| frames(at_s - from_s, rate)).collect();
        you = slowed(&you, rate, &attacks);
    }
    let times = if slowly { 2 } else { 1 };
    let tempo = Tempo::from_milli_bpm(kept.tempo.milli_bpm() / times)?;
    let mut lesson = lesson_part(stage, kept.bar, tempo, rate, BEFORE_S * f64::from(times))?;
    lesson.resize(you.len(), 0.0);
    let louder = (level(&lesson) / level(&you).max(1e-9)).min(MOST_GAIN);
    you.iter_mut().for_each(|sample| *sample *= louder);
    let mut sound = match voice {
        Voice::You => you,
        Voice::Lesson => lesson,
        Voice::Both => you.iter().zip(&lesson).map(|(you, lesson)| 0.7 * (you + lesson)).collect(),
    };
    fade(&mut sound, rate);
    Some(sound)
}

/// The lesson's part from `before_s` before a bar on, mono: the bar before is played too, since its strings ring on.
fn lesson_part(stage: &Stage, bar: usize, tempo: Tempo, rate: u32, before_s: f64) -> Option<Vec<f32>> {
    let bars = &stage.score.bars;
    let (first, wanted) = (bars.get(bar.saturating_sub(1))?.start, bars.get(bar)?);
    let end = wanted.start.0 + wanted.meter.bar().0;
    let request = Request {
        id: 0,
        rate,
        tempo,
        count_in_bars: 0,
        between: Between::Seamless,
        passes: Some(1),
        clicks: Clicks::default(),
        backing: false,
    };
    let whole = compile(&stage.lesson, &stage.score, &request).ok()?.timeline;
    let ticks = first.0 + whole.pass_at.0..end + whole.pass_at.0;
    let inside = |event: &&Event| ticks.contains(&event.at.0) && !matches!(event.kind, EventKind::Click(_));
    let moved = |event: &Event| Event { at: Tick(event.at.0 - ticks.start), ..*event };
    let cycle = Tick(end - first.0);
    let part = Timeline {
        cycle,
        cycle_events: whole.cycle_events.iter().filter(inside).map(moved).collect(),
        intro: Tick::ZERO,
        intro_events: Box::default(),
        pass_at: Tick::ZERO,
        pass: cycle,
        ..whole
    };
    let grid = part.grid;
    let instrument = Instrument::new(stage.lesson.tuning.open()).unwrap_or_else(Instrument::guitar);
    let options = RenderOptions {
        kit: instrument.into(),
        click: Decibels::SILENCE,
        tail_s: 2.0 * AFTER_S,
        ..RenderOptions::default()
    };
    let stereo = Render::new(part, &options).ok()?.samples();
    let mono = stereo.chunks_exact(2).map(|pair| f32::midpoint(pair[0], pair[1]));
    let starts_s = grid.seconds(Tick(wanted.start.0 - first.0)) - before_s;
    // The first bar has nothing before it.
    let silence = vec![0.0; frames((-starts_s).max(0.0), rate)];
    Some(silence.into_iter().chain(mono.skip(frames(starts_s.max(0.0), rate))).collect())
}

#[expect(clippy::cast_possible_truncation, clippy::cast_sign_loss, reason = "seconds of frames, never negative")]
fn frames(seconds: f64, rate: u32) -> usize {
    (seconds * f64::from(rate)).round() as usize
}

/// Root mean square.
#[expect(clippy::cast_precision_loss, reason = "seconds of frames")]
fn level(samples: &[f32]) -> f32 {
    (samples.iter().map(|sample| sample * sample).sum::<f32>() / samples.len().max(1) as f32).sqrt()
}

#[expect(clippy::cast_precision_loss, reason = "a share of a second")]
fn fade(sound: &mut [f32], rate: u32) {
    let (rise, fall) = (frames(FADE_IN_S, rate).max(1), frames(FADE_OUT_S, rate).max(1));
    let length = sound.len();
    for (index, sample) in sound.iter_mut().enumerate() {
        let (before, after) = (index as f32 / rise as f32, (length - index) as f32 / fall as f32);
        *sample *= before.min(after).min(1.0);
    }
}
