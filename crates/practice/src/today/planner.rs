//! Which items there are, and how the minutes of playing are dealt out to them.

use super::changes::{hardest, holding_back};
use super::extras::section_of;
use super::item::{Item, Run, WarmUp, What, Why};
use super::request::{SongToday, TodayRequest};
use super::standing::{PATH, Standing, whole_minutes};
use crate::policy::SessionEnd;
use crate::step::Step;

/// The least that is worth doing of a section, in minutes.
const SECTION_LEAST: u16 = 3;
/// The least of a section besides the first, in minutes.
const ROTATE_LEAST: u16 = 4;
/// The most of one section at a time, in minutes, however long its passes are.
const SECTION_MOST: u16 = 15;
/// Least and most of a change drill, in minutes.
const CHANGE: (u16, u16) = (2, 4);
/// A change drill when nothing else can be played, in minutes.
const CHANGE_ALONE: u16 = 5;
/// The most of a replay, in minutes.
const REPLAY_MOST: u16 = 3;

/// An item that may be taken in.
pub(super) struct Slot {
    pub(super) what: What,
    pub(super) why: Why,
    pub(super) least: u16,
    pub(super) most: u16,
}

pub(super) struct Planner<'a> {
    pub(super) request: &'a TodayRequest,
    /// Sections that may be played, the one with most to gain first.
    pub(super) pool: Vec<Standing<'a>>,
    /// Minutes of playing to deal out.
    pub(super) playing: u16,
    /// Whether no section rests: only then the song as a whole may be played.
    nothing_rests: bool,
}

/// The slots taken in, by their place in the plan.
#[derive(Default)]
struct Taken {
    warm_up: Option<Item>,
    rechecks: Vec<Item>,
    main: Option<Item>,
    change: Option<Item>,
    rotate: Option<Item>,
    run: Option<Item>,
    replay: Option<Item>,
    left: u16,
}

/// What the main item is.
#[derive(Clone, Copy, PartialEq, Eq)]
enum Main {
    /// A step of the whole song.
    Song,
    /// The shapes or the changes themselves.
    EarlyStep,
    /// A later step before the ladder.
    LaterStep,
    /// The ladder, or a section that stands.
    Ladder,
}

impl Main {
    fn of(what: &What) -> Self {
        match what {
            What::Song(_) => Self::Song,
            What::Step { step: Step::Shapes | Step::Changes, .. } => Self::EarlyStep,
            What::Step { .. } => Self::LaterStep,
            _ => Self::Ladder,
        }
    }
}

impl Taken {
    /// Deals out what is left, first to the main item, up to the most each may have.
    fn grow(&mut self, most_of_main: u16, most_of_rotate: u16) {
        let growing =
            [(&mut self.main, most_of_main), (&mut self.change, CHANGE.1), (&mut self.rotate, most_of_rotate)];
        for (item, most) in growing {
            let Some(item) = item else { continue };
            let more = most.saturating_sub(item.minutes).min(self.left);
            item.minutes += more;
            self.left -= more;
        }
    }

    fn take(&mut self, slot: Slot) -> Option<Item> {
        let left = self.left.checked_sub(slot.least)?;
        self.left = left;
        Some(Item { what: slot.what, minutes: slot.least, why: slot.why })
    }

    fn take_slot(&mut self, slot: Option<Slot>) -> Option<Item> {
        self.take(slot?)
    }
}

impl<'a> Planner<'a> {
    pub(super) fn new(request: &'a TodayRequest, playing: u16) -> Self {
        let all = request.sections.iter().map(|section| Standing::new(section, request));
        let mut pool: Vec<Standing<'a>> = all.filter(|standing| !standing.rests(request)).collect();
        // What is begun is brought on before anything new is begun, and what stands waits longest.
        let class = |standing: &Standing<'_>| match (standing.stands(), standing.is_begun()) {
            (true, _) => 2,
            (false, false) => 1,
            (false, true) => 0,
        };
        pool.sort_by(|a, b| {
            let by_gain = || b.gain().total_cmp(&a.gain()).then_with(|| b.days(request).cmp(&a.days(request)));
            class(a).cmp(&class(b)).then_with(by_gain)
        });
        let nothing_rests = pool.len() == request.sections.len();
        Self { request, pool, playing, nothing_rests }
    }

    pub(super) fn items(&self) -> Vec<Item> {
        let Some(main) = self.main() else { return self.changes_alone() };
        let most_of_main = main.most;
        let mut taken = self.take_all(main);
        taken.grow(most_of_main, self.pool.get(1).map_or(0, |other| self.rotation(other, 0).most));
        let Taken { warm_up, rechecks, main, change, rotate, run, replay, left } = taken;
        let mut work: Vec<Item> = [main, change, rotate].into_iter().flatten().collect();
        self.spend(left, &mut work);
        let passes = self.passes_since_run(&work);
        let (run, too_early) = run.into_iter().partition::<Vec<Item>, _>(|_| self.is_run_due(passes));
        self.spend(too_early.iter().map(|run| run.minutes).sum(), &mut work);
        let run = run.into_iter().map(|run| Item { why: Why::NowAndThen { passes }, ..run });
        [warm_up.into_iter().collect(), rechecks, work, run.chain(replay).collect()].concat()
    }

    /// The least of each slot, the most needed first, as long as there is time.
    fn take_all(&self, main: Slot) -> Taken {
        let mut taken = Taken { left: self.playing, ..Taken::default() };
        let kind = Main::of(&main.what);
        let most_of_main = main.most;
        taken.main = taken.take(main);
        let first = &self.pool[0];
        let mut rechecks = self.rechecks().into_iter();
        let recheck = taken.take_slot(rechecks.next());
        taken.rechecks.extend(recheck);
        taken.warm_up = taken.take_slot(self.warm_up());
        if kind == Main::Ladder || kind == Main::LaterStep {
            let drill = holding_back(self.request, first);
            let slot = drill.map(|(what, why)| Slot { what, why, least: CHANGE.0, most: CHANGE.1 });
            taken.change = taken.take_slot(slot);
        }
        // A section is not replayed right after it was worked on.
        let main_is_first = kind != Main::Song && self.first_learned() == Some(first.section());
        if !main_is_first {
            taken.replay = taken.take_slot(self.replay());
        }
        for slot in rechecks {
            let recheck = taken.take(slot);
            taken.rechecks.extend(recheck);
        }
        if kind == Main::Song {
            return taken;
        }
        let passes = self.passes(most_of_main.min(self.playing));
        taken.run = taken.take_slot(self.run(self.request.passes_since_run.saturating_add(passes)));
        // A beginner finishes the steps of one section before another is begun.
        let other = self.pool.get(1).filter(|other| kind == Main::Ladder || other.is_begun());
        taken.rotate = taken.take_slot(other.map(|other| self.rotation(other, 0)));
        if main_is_first && taken.rotate.is_some() {
            taken.replay = taken.take_slot(self.replay());
        }
        taken
    }

    /// Everything rests: each change once, and what is left is left.
    fn changes_alone(&self) -> Vec<Item> {
        let mut left = self.playing;
        let mut items = Vec::new();
        for what in hardest(self.request) {
            let minutes = CHANGE_ALONE.min(left);
            if minutes == 0 {
                break;
            }
            left -= minutes;
            items.push(Item { what, minutes, why: Why::SectionsRest });
        }
        items
    }

    fn main(&self) -> Option<Slot> {
        let first = self.pool.first()?;
        if let Some(song) = self.song_step() {
            return Some(song);
        }
        let (what, why) = self.work(first, 0, true);
        let most = self.most(first, &what);
        let slot = Slot { what, why, least: SECTION_LEAST.min(self.playing), most };
        Some(slot)
    }

    /// The song's next step, where all sections stand and there is time for the whole of it.
    fn song_step(&self) -> Option<Slot> {
        let SongToday::MayBePlayed { seconds } = self.request.song else { return None };
        if !self.nothing_rests || !self.pool.iter().all(Standing::stands) {
            return None;
        }
        let ahead = |step: &Step| self.pool.iter().any(|standing| standing.today.steps.of(*step).is_none());
        let step = [Step::PlayAlong, Step::Sing].into_iter().find(ahead)?;
        let once = whole_minutes(f64::from(seconds));
        let (what, why) = (What::Song(step), Why::SectionsStand { sections: self.pool.len() });
        (once <= self.playing).then_some(Slot { what, why, least: once, most: once.saturating_mul(3) })
    }

    /// The `nth` work on a section in this plan, from 0.
    pub(super) fn work(&self, standing: &Standing<'_>, nth: usize, main: bool) -> (What, Why) {
        let section = standing.section();
        let step = standing.ahead.get(nth).copied().unwrap_or(Step::Climb);
        let what = match step {
            _ if !main || standing.stands() => What::Rotate { section, step },
            Step::Climb => What::Climb { section },
            _ => What::Step { section, step },
        };
        (what, self.why(standing, step, nth, main))
    }

    fn why(&self, standing: &Standing<'_>, step: Step, nth: usize, main: bool) -> Why {
        let before = PATH.into_iter().rev().find(|before| *before < step);
        let next_step = before.filter(|_| nth > 0 || main && step != Step::Climb);
        let (times, rungs_left) = (standing.today.times, standing.rungs_left());
        let nothing_begun = || self.request.sections.iter().all(|of| !Standing::new(of, self.request).is_begun());
        match next_step {
            _ if standing.stands() => Why::KeepUp { days: standing.days(self.request) },
            None if !standing.is_begun() && nothing_begun() && main => Why::FirstOfAll { times },
            None if !standing.is_begun() => Why::NewSection { times },
            Some(after) => Why::NextStep { after },
            None if main => {
                let (known, original) = (standing.known.last().copied(), standing.ladder.last());
                Why::MostToGain { known, original, rungs_left, times }
            }
            None => Why::Rotation { days: standing.days(self.request), rungs_left },
        }
    }

    /// The most minutes of a piece of work at a time. A climb ends where the section would be told to rest.
    pub(super) fn most(&self, standing: &Standing<'_>, what: &What) -> u16 {
        match what {
            What::Step { step, .. } | What::Rotate { step, .. } if *step != Step::Climb => match step {
                Step::OneStroke | Step::OneChord => 4,
                _ => 5,
            },
            _ => {
                let passes = u16::from(self.request.policy.rest_after_passes.max(1));
                standing.minutes(passes, standing.wanted()).clamp(SECTION_LEAST, SECTION_MOST)
            }
        }
    }

    pub(super) fn rotation(&self, standing: &Standing<'_>, nth: usize) -> Slot {
        let (what, why) = self.work(standing, nth, false);
        let most = self.most(standing, &what);
        Slot { what, why, least: ROTATE_LEAST.min(most), most }
    }

    fn warm_up(&self) -> Option<Slot> {
        let minutes = match self.playing {
            ..15 => 1,
            15..30 => 2,
            _ => 3,
        };
        let may =
            |standing: &&Standing<'_>| !standing.known.is_empty() || standing.today.steps.of(Step::OneStroke).is_some();
        // Of equals the first: `max_by_key` would take the last.
        let best = self.pool.iter().filter(may).rev().max_by_key(|standing| standing.known.len())?;
        // The only rung that is known may wait to be held: it is not played before it is checked.
        let how = if best.known.len() > 1 { WarmUp::Slow(best.known[0]) } else { WarmUp::OneStroke };
        let why = Why::EasyAndKnown { known: best.known.len(), of: best.ladder.rungs().len() };
        Some(Slot { what: What::WarmUp { section: best.section(), how }, why, least: minutes, most: minutes })
    }

    /// The rungs that wait to be held, that of the section with most to gain first.
    fn rechecks(&self) -> Vec<Slot> {
        let slot = |standing: &Standing<'_>| {
            let rung = standing.waits_to_be_held(self.request)?;
            let last = standing.today.climb.as_ref()?.rungs.get(&rung)?.last_played;
            let days = self.request.now.day(self.request.zone).0 - last.day(self.request.zone).0;
            let minutes = standing.minutes(1, rung);
            let what = What::Recheck { section: standing.section(), rung };
            Some(Slot { what, why: Why::WaitsToBeHeld { rung, days }, least: minutes, most: minutes })
        };
        self.pool.iter().filter_map(slot).collect()
    }

    pub(super) fn run(&self, passes: u16) -> Option<Slot> {
        if !self.is_run_due(passes) {
            return None;
        }
        let may = |standing: &&Standing<'_>| standing.ahead.iter().all(|step| *step == Step::Climb);
        let standing = self.pool.iter().find(may)?;
        let why = Why::NowAndThen { passes };
        let (what, minutes) = match self.request.song {
            // A whole song is run through where it leaves time for work.
            SongToday::MayBePlayed { seconds }
                if self.nothing_rests && whole_minutes(f64::from(seconds)) <= self.playing / 4 =>
            {
                (Run::Whole, whole_minutes(f64::from(seconds)))
            }
            _ => (Run::Section(standing.section()), standing.minutes(1, standing.ladder.last())),
        };
        Some(Slot { what: What::RunAtTempo(what), why, least: minutes, most: minutes })
    }

    /// Whether so many passes since the last run make it time for one.
    fn is_run_due(&self, passes: u16) -> bool {
        let every = u16::from(self.request.policy.run_every_passes);
        every > 0 && passes >= every
    }

    /// Passes since the last run, after this work: about as many as fit into its minutes.
    pub(super) fn passes_since_run(&self, work: &[Item]) -> u16 {
        let last_run = work.iter().rposition(|item| matches!(item.what, What::RunAtTempo(_)));
        let before = if last_run.is_some() { 0 } else { self.request.passes_since_run };
        let since = work.iter().skip(last_run.map_or(0, |at| at + 1)).filter(|item| section_of(&item.what).is_some());
        before.saturating_add(self.passes(since.map(|item| item.minutes).sum()))
    }

    /// About how many passes fit into so many minutes, by those of the section with most to gain.
    fn passes(&self, minutes: u16) -> u16 {
        let passes = self.pool.first().map_or(0.0, |first| f64::from(minutes) * 60.0 / first.pass_s(first.wanted()));
        #[expect(clippy::cast_possible_truncation, clippy::cast_sign_loss, reason = "a cast of floats saturates")]
        let whole = passes as u16;
        whole
    }

    fn first_learned(&self) -> Option<usize> {
        self.request.first_learned.or_else(|| self.pool.first().map(Standing::section))
    }

    fn replay(&self) -> Option<Slot> {
        if self.request.policy.session_end == SessionEnd::Anywhere {
            return None;
        }
        let first = self.pool.iter().find(|standing| Some(standing.section()) == self.first_learned())?;
        let rung = *first.known.last()?;
        let minutes = first.minutes(1, rung).min(REPLAY_MOST);
        let what = What::ReplayFirst { section: first.section(), rung };
        Some(Slot { what, why: Why::LearnedFirst, least: minutes, most: minutes })
    }
}
