//! The stand as the session sees it at one instant.

use std::sync::Arc;

use sixrung_listen::{Reason, Verdict};
use sixrung_practice::Climb;
use sixrung_timeline::Cursor;

use super::input::Now;
use super::stage::Stage;
use super::{Doing, Session, project};
use crate::say;
use crate::stand::{BarStrip, HearingState, HearingView, Phase, PlaceView, ResultView, StandView};

impl Session {
    /// Everything on the stand.
    #[must_use]
    pub fn view(&self, now: Now) -> StandView {
        let mut view = StandView {
            look: self.settings.look,
            keys: self.settings.keys.clone(),
            pedals: self.settings.pedals.clone(),
            hearing: self.hearing_now(),
            strokes_start: self.strokes_start(now),
            volumes: self.settings.volumes,
            minutes_playing: (self.seconds_before + self.care.sitting().played_s()) / 60,
            is_new: self.is_new && self.next_purpose(now).listens(),
            listens: self.listens(),
            today: self.today_view(),
            notes: self.notes.clone(),
            ..StandView::default()
        };
        let (Some(stage), Some(climb)) = (&self.stage, &self.climb) else { return view };
        let cursor = self.run.as_ref().and_then(|run| run.cursor(now.frame));
        view.place = place(stage);
        view.phase = self.phase(cursor);
        view.goes_on_in_s = self.goes_on_in_s(cursor);
        view.ladder = project::ladder(climb, stage.step);
        view.path = self.path_view();
        self.music(stage, climb, cursor, &mut view);
        let shows_result = matches!(view.phase, Phase::Idle | Phase::Between | Phase::Paused(_));
        if let Some(last) = self.last.as_ref().filter(|_| shows_result) {
            view.result = Some(ResultView { hear: self.hear_again_view(), ..last.result.clone() });
            view.proposal.clone_from(&last.proposal);
            let worst = last.result.plot.as_ref().and_then(|plot| plot.worst_bar);
            let worst = worst.and_then(|number| stage.score.bars.iter().position(|bar| bar.number + 1 == number));
            view.map = project::map(stage, None, worst);
        }
        view
    }

    /// The level, and in a word what it means: without a microphone, or after a pass in which nothing was heard, it says
    /// so.
    fn hearing_now(&self) -> HearingView {
        let silent = Verdict::NotJudged(Reason::Silence);
        let heard_nothing = self.last.as_ref().is_some_and(|last| last.verdict.verdict == silent);
        match self.hearing.state {
            _ if !self.sound.input => HearingView::default(),
            HearingState::Listening if heard_nothing => HearingView { state: HearingState::CannotHear, ..self.hearing },
            _ => self.hearing,
        }
    }

    fn phase(&self, cursor: Option<Cursor>) -> Phase {
        if self.asks_hands() && self.doing != Doing::Playing {
            return Phase::AskHands;
        }
        match (&self.doing, cursor) {
            (Doing::Idle, _) => Phase::Idle,
            (Doing::Marking { .. }, _) => Phase::SelfMark,
            (Doing::Paused(why), _) => Phase::Paused(*why),
            (Doing::Playing, Some(Cursor::CountIn { beat, of, .. })) => Phase::CountIn { beat, of },
            (Doing::Playing, _) if self.run.as_ref().is_some_and(|run| run.purpose.listens()) => Phase::ListenFirst,
            (Doing::Playing, Some(Cursor::Rest { .. } | Cursor::Finished)) => Phase::Between,
            (Doing::Playing, Some(Cursor::Pass { .. }) | None) => Phase::Playing,
        }
    }

    /// Whether what sounds, or follows it, is only to be listened to.
    fn listens(&self) -> bool {
        let run = self.next.as_ref().or(self.run.as_ref()).filter(|_| self.doing == Doing::Playing);
        run.is_some_and(|run| run.purpose.listens())
    }

    /// Whole seconds until the rest between two passes ends, a begun one counted.
    fn goes_on_in_s(&self, cursor: Option<Cursor>) -> Option<u32> {
        let Some(Cursor::Rest { left, .. }) = cursor.filter(|_| self.doing == Doing::Playing) else { return None };
        let rate = u64::from(self.run.as_ref()?.rate());
        u32::try_from(left.0.div_ceil(rate.max(1))).ok()
    }

    /// Chords, bar, words and map: where the pass is, or its beginning.
    fn music(&self, stage: &Stage, climb: &Climb, cursor: Option<Cursor>, view: &mut StandView) {
        let tick = match cursor {
            Some(Cursor::Pass { tick, .. }) => Some(tick),
            _ => None,
        };
        let at = tick.unwrap_or(0.0);
        let bar = stage.bar_at(at);
        view.chords = project::chords(stage, at, self.tempo_playing().unwrap_or_else(|| climb.at()));
        view.words = project::words(stage, tick);
        view.map = project::map(stage, tick.map(|_| bar), None);
        view.bar = stage.strips.get(bar).cloned();
        view.next_bar = stage.strips.get((bar + 1) % stage.strips.len().max(1)).cloned();
        if let (Some(tick), Some(placed), Some(strip)) = (tick, stage.score.bars.get(bar), &view.bar) {
            let length = f64::from(placed.meter.bar().0);
            #[expect(clippy::cast_possible_truncation, reason = "a fraction of a bar, for drawing")]
            let share = ((tick - f64::from(placed.start.0)) / length) as f32;
            view.cursor = Some(share);
            view.sounding = sounding(strip, share);
        }
    }
}

/// The slot under the cursor, where something is struck in it.
fn sounding(strip: &Arc<BarStrip>, share: f32) -> Option<usize> {
    strip.slots.iter().position(|slot| slot.action.sounds() && (slot.at..slot.at + slot.width).contains(&share))
}

fn place(stage: &Stage) -> PlaceView {
    let first = stage.score.bars.first().map(|bar| bar.number + 1);
    let last = stage.score.bars.last().map(|bar| bar.number + 1);
    let section = stage.section_name();
    PlaceView {
        title: stage.lesson.title.clone(),
        bars: section.is_some().then(|| first.zip(last)).flatten(),
        section: section.unwrap_or_else(|| crate::text::WHOLE_PIECE.to_owned()),
        arrangement: arrangement_line(stage),
    }
}

/// For example `easy, Bm7 for Bm, capo 3`.
pub(super) fn arrangement_line(stage: &Stage) -> String {
    let mut parts = vec![stage.arrangement.name.clone()];
    if stage.arrangement.stand_ins {
        let changed = stage.lesson.shapes.iter().filter_map(|shape| {
            let stand_in = shape.stand_in.as_ref()?;
            Some(format!("{} for {}", say::chord_name(stand_in), say::chord_name(&shape.name)))
        });
        parts.extend(changed);
    }
    if stage.score.capo > 0 {
        parts.push(format!("capo {}", stage.score.capo));
    }
    parts.join(", ")
}
