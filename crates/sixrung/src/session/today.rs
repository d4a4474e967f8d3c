//! Today: a plan for the minutes there are, and the way through it. The session puts each item on the stand; the plan
//! itself is made by [`sixrung_practice::today::plan`].

use sixrung_lesson::{Arrangement, Lesson, Stretch, layout, section_bars};
use sixrung_practice::today::{
    ChangeToday, Item, Outcome, Rest, Run, SectionToday, SongToday, TodayEvent, TodayInput, TodayPlan, TodayRequest,
    TodayRun, WarmUp, What,
};
use sixrung_practice::{
    BreakRules, CareInput, ClimbState, Effect as ClimbEffect, Input as ClimbInput, Ladder, Moment, Move, Policy, Step,
    StepsDone, UtcOffset, Verdict,
};

use super::input::{ClimbKey, Effect, Now};
use super::lesson_changes::section_with;
use super::{Doing, Session};
use crate::stand::{ChangesWish, Intent, Note, Page, Pause, SectionChoice, TodayView, TodayWish};
use crate::text::today as text;

/// What is known of one section: its climb, the steps done.
pub type Standing = (Option<ClimbState>, StepsDone);

/// What was played before a plan is made, that no journal keeps.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct PlayedToday {
    /// Sections told to rest, by their place in the lesson, the newest last.
    pub rests: Vec<(usize, Rest)>,
    /// Passes since the last run at the original tempo.
    pub since_run: u16,
    /// Seconds played since the last break.
    pub since_break_s: u32,
}

/// What a plan is made from, of a lesson and what is known of it. `find` looks a path up; `changes` are the lesson's
/// changes with what is known of them.
#[must_use]
pub fn today_request(
    lesson: &Lesson,
    arrangement: &Arrangement,
    (minutes, now, zone): (u16, Moment, UtcOffset),
    find: impl Fn(&Stretch) -> Standing,
    changes: Vec<ChangeToday>,
    played: &PlayedToday,
) -> TodayRequest {
    let ladder = Ladder::new(&lesson.ladder, lesson.tempo);
    let beat = f64::from(lesson.beat.ticks().0);
    // What is done with the whole piece is done for each of its sections.
    let (_, song_steps) = find(&Stretch::Whole);
    let sections: Vec<SectionToday> = lesson
        .sections
        .iter()
        .enumerate()
        .filter(|(_, section)| section_bars(lesson, &section.name, arrangement).is_ok_and(|bars| bars >= LEAST_BARS))
        .map(|(index, section)| {
            let stretch = Stretch::Section(section.name.clone());
            let (climb, mut steps) = find(&stretch);
            for (step, (done, at)) in &song_steps.0 {
                steps.set(*step, *done, *at);
            }
            let length = layout(lesson, &stretch, arrangement).map_or(0.0, |score| f64::from(score.length.0));
            let times = lesson.form.iter().filter(|name| **name == section.name).count();
            SectionToday {
                section: index,
                ladder: ladder.clone(),
                climb,
                beats: length / beat,
                times: u16::try_from(times).unwrap_or(u16::MAX).max(1),
                steps,
                rest: played.rests.iter().rev().find(|(section, _)| *section == index).map(|(_, rest)| *rest),
            }
        })
        .collect();
    let first_played = |section: &SectionToday| {
        section.climb.as_ref().and_then(|climb| climb.rungs.values().map(|rung| rung.last_played).min())
    };
    let first_learned = sections.iter().filter_map(|section| Some((first_played(section)?, section.section))).min();
    let is_begun = sections.iter().any(|section| section.climb.as_ref().is_some_and(|climb| !climb.rungs.is_empty()));
    let beats: f64 = layout(lesson, &Stretch::Whole, arrangement).map_or(0.0, |score| f64::from(score.length.0)) / beat;
    #[expect(clippy::cast_possible_truncation, clippy::cast_sign_loss, reason = "a song lasts minutes")]
    let seconds = (beats * 60.0 / lesson.tempo.bpm()).ceil() as u32;
    TodayRequest {
        minutes,
        now,
        zone,
        policy: Policy::of(&lesson.ladder),
        breaks: BreakRules::default(),
        since_break_s: played.since_break_s,
        sections,
        changes,
        first_learned: first_learned.map(|(_, section)| section),
        song: if is_begun { SongToday::MayBePlayed { seconds } } else { SongToday::NotYet },
        passes_since_run: played.since_run,
    }
}

/// A section of fewer bars (a last chord, a stop) is played with the song, and needs no path of its own: a design choice
/// of ours.
const LEAST_BARS: u32 = 2;

/// What the session knows of today.
#[derive(Clone, Debug, Default)]
pub(super) struct Today {
    /// Minutes last asked for.
    minutes: u16,
    plan: Option<TodayRun>,
    /// Whether the player went to another step by hand since the item came onto the stand.
    pub(super) left: bool,
    played: PlayedToday,
}

impl Today {
    /// There is no plan any more.
    pub(super) fn drop_plan(&mut self) {
        self.plan = None;
    }
}

impl Session {
    /// So many seconds were played that are no pass.
    pub(super) fn drilled(&mut self, seconds: u32, now: Now, effects: &mut Vec<Effect>) {
        self.care(CareInput::Played { seconds }, now, effects);
        self.today_update(TodayInput::Played { seconds }, now, effects);
    }

    /// A wish about today.
    pub(super) fn today_wish(&mut self, wish: TodayWish, now: Now, effects: &mut Vec<Effect>) {
        match wish {
            TodayWish::Minutes(minutes) => {
                self.today.minutes = minutes;
                effects.push(Effect::PlanToday(minutes));
            }
            TodayWish::Start => {
                effects.push(Effect::Window(Intent::ClosePage));
                self.last = None;
                self.today_update(TodayInput::Start, now, effects);
            }
            TodayWish::Skip => self.today_update(TodayInput::Skip, now, effects),
            TodayWish::Remove(index) => self.today_update(TodayInput::Remove(index), now, effects),
            TodayWish::Earlier(index) if index > 0 => {
                self.today_update(TodayInput::Swap(index - 1, index), now, effects);
            }
            TodayWish::Earlier(_) => {}
            TodayWish::End => {
                self.today.plan = None;
                self.end_break();
            }
        }
    }

    /// A plan was made.
    pub(super) fn planned(&mut self, plan: TodayPlan) {
        self.today.plan = Some(TodayRun::new(plan));
        self.end_break();
    }

    /// A break of a plan that is no more is none.
    fn end_break(&mut self) {
        if self.doing == Doing::Paused(Pause::Break) {
            self.doing = Doing::Idle;
        }
    }

    /// The plan, to look at; `None` when there is none.
    #[must_use]
    pub fn today(&self) -> Option<&TodayRun> {
        self.today.plan.as_ref()
    }

    /// Minutes last asked for; 0 before any were.
    #[must_use]
    pub fn today_minutes(&self) -> u16 {
        self.today.minutes
    }

    /// What was played so far, for a plan.
    #[must_use]
    pub fn played_today(&self) -> PlayedToday {
        PlayedToday { since_break_s: self.care.sitting().since_break_s(), ..self.today.played.clone() }
    }

    /// What is on now.
    fn today_item(&self) -> Option<Item> {
        self.today.plan.as_ref()?.current().map(|current| current.item.clone())
    }

    /// Whether a pass now is one at the original tempo that is not judged.
    pub(super) fn runs_at_tempo(&self) -> bool {
        !self.today.left && self.today_item().is_some_and(|item| matches!(item.what, What::RunAtTempo(_)))
    }

    pub(super) fn today_update(&mut self, input: TodayInput, now: Now, effects: &mut Vec<Effect>) {
        let Some(run) = &mut self.today.plan else { return };
        let events = run.update(input, now.moment);
        for event in events {
            match event {
                TodayEvent::ItemOver { .. } | TodayEvent::Dropped { .. } => {}
                TodayEvent::Next { .. } => self.put_item_on_stand(now, effects),
                TodayEvent::BreakDue { minutes, .. } => {
                    self.halt(Doing::Paused(Pause::Break), effects);
                    self.last = None;
                    effects.push(Effect::Window(Intent::ClosePage));
                    self.note(Note { text: text::break_now(minutes), hint: text::BREAK_HINT.to_owned() });
                }
                TodayEvent::Done => {
                    self.today.plan = None;
                    if self.doing == Doing::Playing {
                        self.halt(Doing::Paused(Pause::Asked), effects);
                    }
                    self.note(Note { text: text::DONE.to_owned(), hint: text::DONE_HINT.to_owned() });
                }
            }
        }
    }

    /// A pass was played: what it says to the plan. `step_done` tells whether the step is done by it.
    pub(super) fn today_pass(
        &mut self,
        verdict: Verdict,
        (seconds, led_to): (f64, &[ClimbEffect]),
        step_done: bool,
        now: Now,
        effects: &mut Vec<Effect>,
    ) {
        let is_run = self.runs_at_tempo();
        self.today.played.since_run = if is_run { 0 } else { self.today.played.since_run.saturating_add(1) };
        let section = self.stage.as_ref().and_then(|stage| match stage.home {
            SectionChoice::Section(index) => Some(index),
            SectionChoice::Whole => None,
        });
        let rest = led_to.iter().find_map(|effect| match effect {
            ClimbEffect::RestSection(reason) => section.zip(Some(*reason)),
            _ => None,
        });
        if let Some((section, reason)) = rest {
            self.today.played.rests.push((section, Rest { since: now.moment, reason }));
        }
        #[expect(clippy::cast_possible_truncation, clippy::cast_sign_loss, reason = "a pass lasts minutes")]
        let seconds = seconds.round() as u32;
        if self.today.left {
            // Played by hand beside the plan: it takes the item's time, and says nothing of its aim.
            return self.today_update(TodayInput::Played { seconds }, now, effects);
        }
        let outcome = if is_run { Outcome::Unjudged } else { Outcome::from(verdict) };
        let before = self.today_at();
        self.today_update(TodayInput::Pass { outcome, seconds }, now, effects);
        if let Some((section, reason)) = rest {
            self.today_update(TodayInput::SectionRests { section, reason }, now, effects);
        }
        if step_done && before == self.today_at() {
            self.today_update(TodayInput::StepDone, now, effects);
        }
    }

    /// The player says that the step on the stand is done: whether a plan goes on from here.
    pub(super) fn today_step_done(&mut self, now: Now, effects: &mut Vec<Effect>) -> bool {
        if self.today.left || self.today_at().is_none() {
            return false;
        }
        let before = self.today_at();
        self.today_update(TodayInput::StepDone, now, effects);
        before != self.today_at()
    }

    pub(super) fn today_at(&self) -> Option<usize> {
        self.today.plan.as_ref()?.current().map(|current| current.index)
    }

    /// Whether the item that is on lies on a page of its own, with nothing of the stand to play.
    pub(super) fn today_page_item(&self) -> bool {
        let proposes = self.last.as_ref().is_some_and(|last| last.proposal.is_some());
        !proposes
            && !self.today.left
            && self.today_item().is_some_and(|item| {
                matches!(
                    item.what,
                    What::Change { .. }
                        | What::Step { step: Step::Shapes | Step::Changes, .. }
                        | What::Rotate { step: Step::Shapes | Step::Changes, .. }
                )
            })
    }

    /// The item that is on now comes onto the stand; it begins when the player does.
    pub(super) fn put_item_on_stand(&mut self, now: Now, effects: &mut Vec<Effect>) {
        let Some(item) = self.today_item() else { return };
        self.today.left = false;
        let keeps_result = self.last.clone();
        let (section, step, rung) = match &item.what {
            What::WarmUp { section, how: WarmUp::OneStroke } => (Some(*section), Step::OneStroke, None),
            What::WarmUp { section, how: WarmUp::Slow(rung) } => (Some(*section), Step::Slow, Some(*rung)),
            What::Recheck { section, rung } => (Some(*section), Step::Climb, Some(*rung)),
            What::Climb { section } => (Some(*section), Step::Climb, None),
            What::Step { section, step } | What::Rotate { section, step } => (Some(*section), *step, None),
            What::Song(step) => (None, *step, None),
            What::RunAtTempo(Run::Whole) => (None, Step::PlayAlong, None),
            What::RunAtTempo(Run::Section(section)) => {
                (Some(*section), Step::Slow, self.stage.as_ref().map(|stage| stage.lesson.tempo))
            }
            What::ReplayFirst { section, rung } => (Some(*section), Step::Slow, Some(*rung)),
            What::Change { from, into } => {
                self.stop(effects);
                if let Some(stage) = &self.stage {
                    let here = match stage.home {
                        SectionChoice::Section(index) => Some(index),
                        SectionChoice::Whole => None,
                    };
                    let section = section_with(&stage.lesson, &stage.arrangement, (from, into), here);
                    let (opened, arrangement) = (stage.opened(), stage.arrangement.clone());
                    let home = section.map_or(stage.home, SectionChoice::Section);
                    self.put_on_stand(&opened, (home, Step::Climb), None, arrangement, effects);
                }
                effects.push(Effect::Window(Intent::OpenPage(Page::Changes)));
                let pair = ChangesWish::Named(from.clone(), into.clone());
                return effects.push(Effect::Window(Intent::Changes(pair)));
            }
            What::Break => return,
        };
        let Some(stage) = &self.stage else { return };
        let home = section.map_or(stage.home, SectionChoice::Section);
        let (opened, arrangement) = (stage.opened(), stage.arrangement.clone());
        self.put_on_stand(&opened, (home, step), None, arrangement, effects);
        self.item_rung = rung;
        if matches!(step, Step::Shapes | Step::Changes) {
            self.choose_step(step, effects);
        } else {
            effects.push(Effect::Window(Intent::ClosePage));
            self.climb_to_item(now);
        }
        // What was just played is still to be read.
        self.last = keeps_result.map(|mut last| {
            // Its bars are not those on the map any more.
            if let Some(plot) = &mut last.result.plot {
                std::sync::Arc::make_mut(plot).worst_bar = None;
            }
            super::Last { proposal: None, kept: None, ..last }
        });
    }

    /// To the rung the item asks for: also when the climb was only now found.
    pub(super) fn climb_to_item(&mut self, now: Now) {
        let (Some(rung), Some(climb)) = (self.item_rung, &mut self.climb) else { return };
        if climb.ladder().has(rung) {
            climb.update(ClimbInput::Move(Move::To(rung)), now.moment);
        }
    }

    /// What is on, for the line above the sheet.
    pub(super) fn today_view(&self) -> Option<TodayView> {
        let run = self.today.plan.as_ref()?;
        let current = run.current()?;
        let lesson = &self.stage.as_ref()?.lesson;
        Some(TodayView {
            number: current.index + 1,
            of: run.items().count(),
            what: text::what(&current.item.what, lesson),
            why: text::why(&current.item.why, lesson),
            minutes_left: current.left_s.div_ceil(60),
        })
    }

    /// The path key of a section of the lesson on the stand, in this arrangement.
    #[must_use]
    pub fn section_key(&self, stretch: Stretch) -> Option<ClimbKey> {
        let stage = self.stage.as_ref()?;
        Some(ClimbKey { lesson: stage.hash, stretch, arrangement: stage.arrangement.name.clone() })
    }
}
