//! A month of practice, headless, through the program's own session and plans: a seeded learner by the numbers takes
//! today's plan every day for twenty days. The learner is a model with made-up parameters (see the learners' own
//! documentation); what is held here is what the program does with it.
//!
//! `cargo test -p sixrung-tests --test month -- --nocapture` prints what was done each day and why.

use std::collections::BTreeMap;

use sixrung::session::PassDone;
use sixrung::stand::{Intent, Page, Pause, Phase, TodayWish};
use sixrung::text::today as text;
use sixrung_learners::{Chance, Learner, Traits, judged};
use sixrung_lesson::Tempo;
use sixrung_practice::{Done, Felt, Moment, Policy, Step, Verdict};
use sixrung_tests::script::Script;

const LESSON: &str = include_str!("../../assets/lessons/lantern-on-the-quay.lesson.ron");
/// A Monday evening.
const BEGIN: Moment = Moment(1_795_456_800);
const DAYS: i64 = 20;
const DAY_S: i64 = 86_400;
const HOLDS_AFTER_S: i64 = 12 * 3600;

/// One evening after the other.
struct Month {
    script: Script,
    learner: Learner,
    chance: Chance,
    /// When each rung of each section was last played, as the passes tell it.
    last_played: BTreeMap<(String, Tempo), Moment>,
    /// Passes checked so far.
    checked: usize,
    table: Vec<String>,
}

impl Month {
    fn begin(seed: u64) -> Self {
        let learner = Learner::new(Traits::draw(&mut Chance::new(seed, 0)));
        let chance = Chance::new(seed, 1);
        let script = Script::begin(LESSON, BEGIN);
        Self { script, learner, chance, last_played: BTreeMap::new(), checked: 0, table: Vec::new() }
    }

    /// An evening of so many minutes.
    fn day(&mut self, day: i64, minutes: u16) {
        let moment = self.script.now().moment.0;
        self.script.wait(BEGIN.0 + day * DAY_S - moment);
        if day > 0 {
            self.learner.sleep(8.0);
        }
        self.script.wish(Intent::Today(TodayWish::Minutes(minutes)));
        let lesson = self.script.session().stage().expect("open").lesson().clone();
        let run = self.script.session().today().expect("planned");
        let planned: u16 = run.items().map(|item| item.minutes).sum();
        assert!(planned <= minutes, "day {day}: {planned} of {minutes}");
        let items: Vec<String> = run
            .items()
            .map(|item| {
                format!("{} min {} ({})", item.minutes, text::what(&item.what, &lesson), text::why(&item.why, &lesson))
            })
            .collect();
        let before = self.script.passes.len();
        self.script.wish(Intent::Today(TodayWish::Start));
        let mut rounds = 0;
        while self.script.session().today().is_some() {
            self.act();
            rounds += 1;
            assert!(rounds < 400, "day {day} comes to an end: {:?}", self.script.session().today());
        }
        self.script.wish(Intent::Stop);
        let passes = &self.script.passes[before..];
        let clean = passes.iter().filter(|pass| pass.verdict.verdict == Verdict::Clean).count();
        let row = format!(
            "| {} | {} | {} | {clean} of {} | {} |",
            day + 1,
            minutes,
            items.join("; "),
            passes.len(),
            self.standing()
        );
        self.table.push(row);
    }

    /// Whatever the program asks for now.
    fn act(&mut self) {
        for wish in std::mem::take(&mut self.script.wishes) {
            match wish {
                // Shapes and changes have no passes: a few minutes, and they stand.
                Intent::OpenPage(Page::Shapes) => return self.drill(Step::Shapes),
                Intent::OpenPage(Page::Changes) => return self.drill(Step::Changes),
                _ => {}
            }
        }
        match self.script.view().phase {
            Phase::AskHands => self.script.wish(Intent::Feel(Felt::Fine)),
            Phase::Paused(Pause::Break) => self.script.wait(60),
            Phase::Idle | Phase::Paused(_) => {
                self.script.wait(5);
                self.script.wish(Intent::Forward);
            }
            _ => self.pass(),
        }
    }

    fn drill(&mut self, step: Step) {
        for _ in 0..6 {
            self.script.wait(30);
            self.script.take(sixrung::session::Input::Drilled { seconds: 30 });
        }
        let is_on = self.script.session().today().and_then(sixrung_practice::today::TodayRun::current).is_some();
        if is_on {
            self.script.wish(Intent::MarkStep(step, Done::Heard));
        }
    }

    fn pass(&mut self) {
        let Some(tempo) = self.script.session().climb().map(sixrung_practice::Climb::at) else { return };
        let section = self.script.view().place.section;
        let (learner, chance) = (&mut self.learner, &mut self.chance);
        let played = self.script.judged(|order| {
            let played = learner.pass(&section, tempo, &order.plan, chance);
            judged(&order.plan, &played, &order.criterion)
        });
        if played.is_none() {
            self.script.wait(5);
            return self.script.wish(Intent::Forward);
        }
        self.learner.rest(10.0);
        self.check();
    }

    /// The invariants, at every pass.
    fn check(&mut self) {
        let lesson = self.script.session().stage().expect("open").lesson().clone();
        let ladder = sixrung_practice::Ladder::new(&lesson.ladder, lesson.tempo);
        for index in self.checked..self.script.passes.len() {
            let pass = self.script.passes[index].clone();
            assert!(pass.tempo <= ladder.last(), "never above the original tempo");
            assert!(pass.tempo >= ladder.first(), "never below the first rung");
            let Some(climb) = &pass.climb else { continue };
            assert!((ladder.first()..=ladder.last()).contains(&climb.at));
            let section = format!("{:?}", pass.key.stretch);
            let last = self.last_played.insert((section, pass.tempo), pass.at);
            let held_now = climb.rungs.get(&pass.tempo).and_then(|rung| rung.held).filter(|held| held.at == pass.at);
            if held_now.is_some() {
                let since = last.map(|last| pass.at.since(last)).expect("a rung that is held was played before");
                assert!(since >= HOLDS_AFTER_S, "held after {since} s");
                assert_eq!(pass.verdict.verdict, Verdict::Clean);
            }
            assert!(climb.tally.passes <= Policy::default().rest_after_passes + 1, "a section rests after ten passes");
        }
        self.checked = self.script.passes.len();
    }

    /// The fastest known rung of each section.
    fn standing(&self) -> String {
        let lesson = self.script.session().stage().expect("open").lesson().clone();
        let of = |name: &String| {
            let climb = self.script.climb(name)?;
            let known =
                climb.rungs.iter().filter(|(_, rung)| rung.known).map(|(tempo, _)| tempo.bpm()).fold(0.0, f64::max);
            let held = climb
                .rungs
                .iter()
                .filter(|(_, rung)| rung.held.is_some())
                .map(|(tempo, _)| tempo.bpm())
                .fold(0.0, f64::max);
            Some(format!("{name} {known:.0} (held {held:.0})"))
        };
        lesson.sections.iter().filter_map(|section| of(&section.name)).collect::<Vec<_>>().join(", ")
    }
}

#[test]
fn twenty_days_of_a_seeded_learner_lead_to_the_original_tempo_by_the_rules() {
    let mut month = Month::begin(11);
    for day in 0..DAYS {
        // Mostly twenty minutes; on Sundays there is time.
        month.day(day, if day % 7 == 6 { 60 } else { 20 });
    }
    println!("| day | minutes | the plan, and why | clean passes | fastest known rung (held) |\n|---|---|---|---|---|");
    month.table.iter().for_each(|row| println!("{row}"));
    let script = &month.script;
    let lesson = script.session().stage().expect("open").lesson().clone();
    for section in ["Verse", "Chorus"] {
        let climb = script.climb(section).expect("it was climbed");
        assert!(climb.rungs.get(&lesson.tempo).is_some_and(|rung| rung.known), "{section} reached the original tempo");
    }
    let whole: Vec<&PassDone> = script.passes.iter().filter(|pass| pass.step == Step::PlayAlong).collect();
    assert!(whole.iter().any(|pass| pass.tempo == lesson.tempo), "the song was played along at its tempo");
    // Breaks: never longer than fifty minutes and one pass without five minutes' pause.
    let mut since = 0.0;
    for pair in script.passes.windows(2) {
        let pause = pair[1].at.since(pair[0].at) - pair[1].seconds.ceil() as i64;
        since = if pause >= 300 { 0.0 } else { since + pair[0].seconds };
        assert!(since <= 50.0 * 60.0 + 120.0, "{since}");
    }
}

#[test]
fn the_same_learner_has_the_same_month() {
    let run = || {
        let mut month = Month::begin(5);
        (0..3).for_each(|day| month.day(day, 20));
        month.table
    };
    assert_eq!(run(), run());
}

#[test]
fn pain_stops_the_day_and_only_a_deliberate_word_goes_on() {
    let mut month = Month::begin(3);
    let script = &mut month.script;
    script.wish(Intent::Forward);
    script.wish(Intent::SayHands);
    assert_eq!(script.view().phase, Phase::AskHands);
    script.wish(Intent::Back);
    assert_eq!(script.view().phase, Phase::Paused(Pause::Hurts));
    assert_eq!(script.felt.last().map(|(felt, _)| *felt), Some(Felt::Pain));
    // Neither the pedal nor the next day goes on by itself.
    script.wish(Intent::Forward);
    assert_eq!(script.view().phase, Phase::Paused(Pause::Hurts));
    script.wait(DAY_S);
    script.wish(Intent::Forward);
    assert_eq!(script.view().phase, Phase::Paused(Pause::HurtBefore));
    script.wish(Intent::PlayAnyway);
    script.wish(Intent::Forward);
    assert!(matches!(script.view().phase, Phase::CountIn { .. }));
}
