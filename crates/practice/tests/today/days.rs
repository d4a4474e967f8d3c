//! Requests for a plan, and plans as readable lines.

use sixrung_lesson::{LadderRules, Tempo};
use sixrung_practice::today::{
    ChangeToday, Item, MeasuredChange, Run, SectionToday, SongToday, TodayPlan, TodayRequest, WarmUp, What, Why,
};
use sixrung_practice::{
    BreakRules, Climb, ClimbState, Done, Input, Ladder, Marked, Moment, Pass, Policy, Step, StepsDone, UtcOffset,
    Verdict,
};

pub(crate) const HOUR: i64 = 3600;
pub(crate) const DAY: i64 = 24 * HOUR;
/// A morning at 08:00.
pub(crate) const NOW: Moment = Moment(100 * DAY + 8 * HOUR);

fn bpm(bpm: f64) -> Tempo {
    Tempo::from_bpm(bpm).expect("tests use tempi in range")
}

/// 76 84 93 103 114 126.
fn ladder() -> Ladder {
    Ladder::new(&LadderRules::default(), bpm(126.0))
}

/// A section of eight bars, played `times` times, never opened.
pub(crate) fn section(section: usize, times: u16) -> SectionToday {
    let steps = StepsDone::default();
    SectionToday { section, ladder: ladder(), climb: None, beats: 32.0, times, steps, rest: None }
}

/// The same with its first `known` rungs climbed `ago_h` hours before now, by real passes.
pub(crate) fn climbed(index: usize, times: u16, known: usize, ago_h: i64) -> SectionToday {
    let end = NOW.0 - ago_h * HOUR;
    SectionToday { climb: Some(climb_of(known, end)), ..section(index, times) }
}

fn climb_of(known: usize, end: i64) -> ClimbState {
    let mut climb = Climb::new(ladder(), Policy::default(), UtcOffset::default());
    let passes = i64::try_from(known).expect("few") * 3;
    for pass in 0..passes {
        let input = Input::Pass(Pass { tempo: climb.at(), verdict: Verdict::Clean, marked: Marked::Heard });
        climb.update(input, Moment(end - 30 * (passes - 1 - pass)));
    }
    climb.state().clone()
}

pub(crate) fn done_till(section: SectionToday, last: Step) -> SectionToday {
    let steps = Step::ALL.into_iter().filter(|step| *step <= last);
    let steps = StepsDone(steps.map(|step| (step, (Done::Heard, NOW))).collect());
    SectionToday { steps, ..section }
}

pub(crate) fn change(from: &str, into: &str, difficulty: f64, sections: &[(usize, u16)]) -> ChangeToday {
    let (from, into) = (from.to_owned(), into.to_owned());
    ChangeToday { from, into, difficulty, measured: None, sections: sections.to_vec() }
}

pub(crate) fn measured(median_s: f64, fits: f64) -> Option<MeasuredChange> {
    Some(MeasuredChange { median_s, count: 12, fits: bpm(fits) })
}

pub(crate) fn request(minutes: u16, sections: Vec<SectionToday>) -> TodayRequest {
    TodayRequest {
        minutes,
        now: NOW,
        zone: UtcOffset::default(),
        policy: Policy::default(),
        breaks: BreakRules::default(),
        since_break_s: 0,
        sections,
        changes: Vec::new(),
        first_learned: None,
        song: SongToday::NotYet,
        passes_since_run: 0,
    }
}

/// The plan, one line an item: minutes, what, why.
pub(crate) fn lines(plan: &TodayPlan) -> Vec<String> {
    plan.items.iter().map(line).collect()
}

pub(crate) fn line(item: &Item) -> String {
    format!("{} {}: {}", item.minutes, what(&item.what), why(&item.why))
}

pub(crate) fn what(what: &What) -> String {
    match what {
        What::WarmUp { section, how: WarmUp::OneStroke } => format!("warm up {section} one stroke"),
        What::WarmUp { section, how: WarmUp::Slow(rung) } => format!("warm up {section} at {}", rung.bpm()),
        What::Recheck { section, rung } => format!("recheck {section} at {}", rung.bpm()),
        What::Climb { section } => format!("climb {section}"),
        What::Step { section, step } => format!("step {section} {step:?}"),
        What::Song(step) => format!("song {step:?}"),
        What::Change { from, into } => format!("change {from}-{into}"),
        What::Rotate { section, step } => format!("rotate {section} {step:?}"),
        What::RunAtTempo(Run::Whole) => "run whole".to_owned(),
        What::RunAtTempo(Run::Section(section)) => format!("run {section}"),
        What::ReplayFirst { section, rung } => format!("replay {section} at {}", rung.bpm()),
        What::Break => "break".to_owned(),
    }
}

fn why(why: &Why) -> String {
    let days = |days: &Option<i64>| days.map_or("never".to_owned(), |days| format!("{days}d"));
    match why {
        Why::EasyAndKnown { known, of } => format!("known {known} of {of}"),
        Why::WaitsToBeHeld { rung, days } => format!("waits at {} {days}d", rung.bpm()),
        Why::MostToGain { known, original, rungs_left, times } => {
            let known = known.map_or("nothing".to_owned(), |known| known.bpm().to_string());
            format!("most to gain {known} to {} {rungs_left} left x{times}", original.bpm())
        }
        Why::FirstOfAll { times } => format!("first of all x{times}"),
        Why::NextStep { after } => format!("after {after:?}"),
        Why::SectionsStand { sections } => format!("{sections} stand"),
        Why::ChangeTooSlow { section, median_s, count, fits, needs } => {
            format!("{median_s} s of {count} fits {} needs {} in {section}", fits.bpm(), needs.bpm())
        }
        Why::ChangeNotMeasured { section, times } => format!("not measured x{times} in {section}"),
        Why::SectionsRest => "sections rest".to_owned(),
        Why::Rotation { days: since, rungs_left } => format!("rotation {} {rungs_left} left", days(since)),
        Why::NewSection { times } => format!("new x{times}"),
        Why::KeepUp { days: since } => format!("keep up {}", days(since)),
        Why::Again { minutes } => format!("again after {minutes}"),
        Why::NowAndThen { passes } => format!("now and then {passes}"),
        Why::LearnedFirst => "learned first".to_owned(),
        Why::PlayedLong { minutes } => format!("played {minutes}"),
    }
}
