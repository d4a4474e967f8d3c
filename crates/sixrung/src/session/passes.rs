//! What follows from a pass: the climb moves, the journal keeps it, the next pass may be at another tempo.

use std::sync::Arc;

use sixrung_audio::Report;
use sixrung_lesson::Level;
use sixrung_listen::{PassVerdict, Verdict};
use sixrung_practice::today::TodayInput;
use sixrung_practice::{
    CareInput, Effect as ClimbEffect, Input as ClimbInput, Marked, Pass, Proposal as Proposed, Step,
};

use super::input::{Effect, Now, Order, PassDone};
use super::run::{Purpose, Run};
use super::{Doing, Last, Session, Stage, marked_verdict, marker, project};
use crate::recording::Recording;
use crate::say;
use crate::stand::{Intent, Note, Pause, Proposal, ResultView};
use crate::text;

impl Session {
    pub(super) fn report(&mut self, report: &Report, effects: &mut Vec<Effect>) {
        if self.again_report(report) {
            return;
        }
        if let Some(next) = &mut self.next {
            let begun = next.report(report);
            if begun || next.started.is_some() {
                self.run = self.next.take();
                if begun {
                    self.listen(effects);
                }
                return;
            }
        }
        let Some(run) = &mut self.run else { return };
        if run.report(report) {
            self.listen(effects);
        } else if let Report::Finished { id, .. } = report
            && *id == run.id
        {
            self.doing = Doing::Idle;
            let was_heard = self.run.take().is_some_and(|run| run.purpose == Purpose::ListenThenPractise);
            if was_heard {
                self.go_on_with(Purpose::Practise, effects);
            }
        }
    }

    /// A cycle has begun: the last pass leaves the sheet, the coming one is listened to.
    fn listen(&mut self, effects: &mut Vec<Effect>) {
        self.last = None;
        let Some(run) = &self.run else { return };
        let Some((plan, clicks_s)) = run.pass_plan().filter(|_| self.sound.input) else { return };
        if run.purpose.listens() {
            let (from_s, to_s) = (plan.starts_s, plan.starts_s + plan.length_s);
            return effects.push(Effect::OnlyWeSound { from_s, to_s });
        }
        self.ids += 1;
        self.waiting.push((self.ids, run.tempo, run.pass_seconds()));
        let mut criterion = self.stage.as_ref().map(|stage| stage.lesson.criterion).unwrap_or_default();
        criterion.level = self.level();
        let latency_s = self.sound.round_trip_ms.map(|ms| ms / 1000.0);
        effects.push(Effect::Listen(Order { id: self.ids, plan, clicks_s, criterion, latency_s }));
    }

    /// Without a microphone the pass ends here and waits for the player's mark. Called each frame.
    pub fn pass_over(&mut self, now: Now) -> Vec<Effect> {
        let mut effects = Vec::new();
        // Time alone ends a break, and nothing else.
        if self.doing == Doing::Paused(Pause::Break) {
            self.today_update(TodayInput::Tick, now, &mut effects);
        }
        let unheard = marker(self.sound) == Marked::ByPlayer
            && self.doing == Doing::Playing
            && self.run.as_ref().is_some_and(|run| run.purpose == Purpose::Practise);
        let played = self.run.as_ref().map(|run| (run.tempo, run.pass_seconds()));
        if let Some((tempo, seconds)) = played.filter(|_| unheard && self.is_resting(now)) {
            self.halt(Doing::Marking { tempo, seconds }, &mut effects);
        }
        effects
    }

    /// The player says whether the pass was clean.
    pub(super) fn mark(&mut self, verdict: Verdict, now: Now, effects: &mut Vec<Effect>) {
        let Doing::Marking { tempo, seconds } = self.doing else { return };
        self.doing = Doing::Paused(Pause::Asked);
        self.pass_done(tempo, seconds, marked_verdict(verdict), Marked::ByPlayer, now, effects);
    }

    /// The ear has judged a pass.
    pub(super) fn judged(
        &mut self,
        order: u64,
        mut verdict: PassVerdict,
        recording: Option<Arc<Recording>>,
        now: Now,
        effects: &mut Vec<Effect>,
    ) {
        let Some(index) = self.waiting.iter().position(|(id, ..)| *id == order) else { return };
        let (_, tempo, seconds) = self.waiting.swap_remove(index);
        if let (Some(objection), Verdict::Clean | Verdict::NotClean) = (self.sound.objection, verdict.verdict) {
            verdict.verdict = Verdict::NotJudged(objection);
        }
        let item = self.today_at();
        self.pass_done(tempo, seconds, verdict, Marked::Heard, now, effects);
        // What was played belongs to what is still on the stand.
        if item == self.today_at() {
            self.keep_sound(recording, tempo);
        }
    }

    fn pass_done(
        &mut self,
        tempo: sixrung_lesson::Tempo,
        seconds: f64,
        verdict: PassVerdict,
        marked: Marked,
        now: Now,
        effects: &mut Vec<Effect>,
    ) {
        let (key, is_run, level) = (self.key(), self.runs_at_tempo(), self.level());
        self.is_new &= matches!(verdict.verdict, Verdict::NotJudged(_));
        let (Some(stage), Some(climb), Some(key)) = (&self.stage, &mut self.climb, key) else { return };
        let pass = Pass { tempo, verdict: verdict.verdict, marked };
        let is_climb = stage.step == Step::Climb;
        let led_to = if is_climb { climb.update(ClimbInput::Pass(pass), now.moment) } else { Vec::new() };
        let result = if is_run { run_result() } else { project::result(stage, &verdict, marked, &led_to) };
        let climbed = led_to.iter().any(|effect| matches!(effect, ClimbEffect::Climbed { .. }));
        let arrived = led_to.iter().any(|effect| matches!(effect, ClimbEffect::Arrived));
        // A newcomer's few bars are left at the first rung climbed, others at the top of the ladder.
        let all_bars = stage.bars.is_some() && !self.offered_all_bars && (arrived || climbed && self.few_bars);
        let proposal = if all_bars { Some(all_bars_again()) } else { proposal(stage, &verdict, &led_to) };
        self.offered_all_bars |= all_bars;
        effects.push(Effect::Record(Box::new(PassDone {
            at: now.moment,
            key,
            title: stage.lesson.title.clone(),
            step: stage.step,
            tempo,
            seconds,
            verdict: verdict.clone(),
            marked,
            level,
            climb: is_climb.then(|| climb.state().clone()),
        })));
        if let Some((text, hint)) = say::tune_first(&verdict) {
            self.notes.retain(|old| old.hint != hint);
            self.note(Note { text, hint });
        }
        let (outcome, judged) = (verdict.verdict, verdict.clone());
        self.last = Some(Last { result, verdict, proposal, kept: None });
        self.offer_drill(&judged);
        let done = self.step_played(outcome, marked, (tempo, &led_to), now, effects);
        self.offer_chords(outcome, marked, effects);
        #[expect(clippy::cast_possible_truncation, clippy::cast_sign_loss, reason = "minutes of playing")]
        let played = CareInput::Played { seconds: seconds.round() as u32 };
        self.care(played, now, effects);
        self.today_pass(outcome, (seconds, &led_to), done, now, effects);
        self.go_on(tempo, &led_to, now, effects);
    }

    /// Rests where the climb says so; else lets the next pass come, at the climb's tempo.
    fn go_on(&mut self, played: sixrung_lesson::Tempo, led_to: &[ClimbEffect], now: Now, effects: &mut Vec<Effect>) {
        let rest = led_to.iter().find_map(|effect| match effect {
            ClimbEffect::RestSection(why) => Some(*why),
            _ => None,
        });
        if let Some(why) = rest {
            self.note(Note { text: say::rest(why), hint: "choose another section, or go on with Space".to_owned() });
            if self.doing == Doing::Playing {
                self.halt(Doing::Paused(Pause::Rest), effects);
            }
            return;
        }
        // Something is offered: wait for the player's answer.
        if self.doing == Doing::Playing && self.last.as_ref().is_some_and(|last| last.proposal.is_some()) {
            return self.halt(Doing::Paused(Pause::Asked), effects);
        }
        let Some(tempo) = self.climb.as_ref().map(sixrung_practice::Climb::at) else { return };
        if self.doing == Doing::Playing && tempo != played {
            self.play_next(self.next_purpose(now), tempo, effects);
        }
    }

    /// Lets the next pass come at this tempo, and as things are set now.
    pub(super) fn play_next(&mut self, purpose: Purpose, tempo: sixrung_lesson::Tempo, effects: &mut Vec<Effect>) {
        let Some(stage) = &self.stage else { return };
        self.ids += 1;
        let purpose = (self.ids, purpose);
        if let Some(next) = Run::new(stage, tempo, self.sound.rate, purpose, self.settings.click.clicks) {
            effects.push(Effect::PlayNext(Box::new(next.plan.timeline.clone())));
            self.next = Some(next);
        }
    }

    /// The running stretch once more, from the end of its cycle on, at the same tempo.
    pub(super) fn renew(&mut self, effects: &mut Vec<Effect>) {
        let playing = self.run.as_ref().filter(|run| run.purpose == Purpose::Practise && self.doing == Doing::Playing);
        if let (Some(tempo), None) = (playing.map(|run| run.tempo), &self.next) {
            self.play_next(Purpose::Practise, tempo, effects);
        }
    }

    /// The timing window in force: what an assignment asks for, else what the player wants, else the lesson's.
    #[must_use]
    pub fn level(&self) -> Level {
        let asked = self.stage.as_ref().and_then(Stage::asked_level);
        let lesson = self.stage.as_ref().map(|stage| stage.lesson.criterion.level);
        asked.or(self.settings.level).or(lesson).unwrap_or_default()
    }
}

/// A run at the original tempo is not judged.
fn run_result() -> ResultView {
    ResultView {
        headline: text::today::RUN_HEADLINE.to_owned(),
        detail: text::today::RUN_DETAIL.to_owned(),
        ..ResultView::default()
    }
}

/// After a few bars were climbed, all of them.
fn all_bars_again() -> Proposal {
    Proposal {
        because: vec![text::BARS_CLIMBED.to_owned()],
        label: text::pages::ALL_BARS.to_owned(),
        change: None,
        intent: Box::new(Intent::AllBars),
    }
}

/// The first thing offered that this lesson can do.
fn proposal(stage: &super::Stage, verdict: &PassVerdict, led_to: &[ClimbEffect]) -> Option<Proposal> {
    let offered = led_to.iter().find_map(|effect| match effect {
        ClimbEffect::Propose(offered) => Some(offered),
        _ => None,
    })?;
    offered.iter().find_map(|offer| match offer {
        Proposed::LoopWorstBars => loop_bars(stage, verdict),
        Proposed::HalfRung(tempo) => Some(Proposal {
            because: vec!["The step up is a large one.".to_owned()],
            label: format!("Put in a rung at {}", project::bpm(*tempo)),
            change: None,
            intent: Box::new(Intent::TakeProposal),
        }),
        Proposed::StandIn => {
            let easy = stage.lesson.arrangements.iter().position(|arrangement| arrangement.stand_ins)?;
            (!stage.arrangement.stand_ins).then(|| Proposal {
                because: vec!["An easier shape can stand in for now.".to_owned()],
                label: "Take the easier shapes".to_owned(),
                change: None,
                intent: Box::new(Intent::ChooseArrangement(easy)),
            })
        }
    })
}

fn loop_bars(stage: &super::Stage, verdict: &PassVerdict) -> Option<Proposal> {
    let worst = sixrung_practice::worst_bars(verdict)?;
    if stage.section_name().is_none() || worst.len() >= stage.score.bars.len() {
        return None;
    }
    let first = stage.bars.as_ref().map_or(0, |bars| bars.start);
    let bars = worst.start + first..worst.end + first;
    let label = if bars.len() == 1 {
        format!("Loop bar {}", bars.start + 1)
    } else {
        format!("Loop bars {} and {}", bars.start + 1, bars.end)
    };
    let because = vec!["Most of the trouble is here: play it by itself for a while.".to_owned()];
    Some(Proposal { because, label, change: None, intent: Box::new(Intent::ChooseBars(bars)) })
}
