//! Whether what is asked fits the lesson.

use std::fmt;
use std::ops::RangeInclusive;

use sixrung_lesson::{Lesson, Tempo, did_you_mean};
use sixrung_practice::Policy;
use sixrung_practice::today::TodayRequest;

use super::task::Task;

/// On so many days at most: two months. A design choice of ours.
const DAYS: RangeInclusive<u16> = 1..=60;
/// As many faults as a lesson may allow.
const FAULTS: RangeInclusive<u16> = 0..=999;

/// Something asked that does not fit.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Wrong {
    /// The field of the task, as the file has it.
    pub field: &'static str,
    /// The value meant, where the field has several.
    pub value: Option<String>,
    /// What: lower case, no final period.
    pub message: String,
    /// What would be right.
    pub hint: String,
}

impl fmt::Display for Wrong {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(f, "{}\nhint: {}", self.message, self.hint)
    }
}

impl std::error::Error for Wrong {}

fn wrong(field: &'static str, message: String, hint: impl Into<String>) -> Wrong {
    Wrong { field, value: None, message, hint: hint.into() }
}

/// The task, its sections in the lesson's order.
pub(super) fn checked(mut task: Task, lesson: &Lesson) -> Result<Task, Wrong> {
    arrangement(&task, lesson)?;
    sections(&mut task, lesson)?;
    tempi(&task, lesson)?;
    if let Some(policy) = &task.policy {
        let out_of_range = |error: sixrung_practice::OutOfRange| Wrong {
            value: Some(error.setting.to_owned()),
            ..wrong("policy", error.to_string(), "give a number in that range, or leave it out")
        };
        policy.checked().map_err(out_of_range)?;
        // What the lesson and the usual rules say anyway is not fixed.
        task.policy = Some(*policy).filter(|policy| *policy != Policy::of(&lesson.ladder));
    }
    within("faults", task.faults, FAULTS)?;
    within("days", task.days, DAYS)?;
    within("minutes", task.minutes, TodayRequest::MINUTES)?;
    if let (Some(from), Some(due)) = (task.from, task.due)
        && due < from
    {
        return Err(wrong("due", format!("it is due on {due}, before it begins on {from}"), "give a later day"));
    }
    Ok(task)
}

fn arrangement(task: &Task, lesson: &Lesson) -> Result<(), Wrong> {
    let Some(name) = &task.arrangement else { return Ok(()) };
    if lesson.arrangement(name).is_some() {
        return Ok(());
    }
    let names: Vec<&str> = lesson.arrangements.iter().map(|arrangement| arrangement.name.as_str()).collect();
    let hint = did_you_mean(name, &names, "the lesson has none");
    Err(wrong("arrangement", format!("the lesson has no arrangement {name:?}"), hint))
}

fn sections(task: &mut Task, lesson: &Lesson) -> Result<(), Wrong> {
    let place = |name: &String| lesson.sections.iter().position(|section| section.name == *name);
    for (index, name) in task.sections.iter().enumerate() {
        let (message, hint) = if place(name).is_none() {
            let names: Vec<&str> = lesson.sections.iter().map(|section| section.name.as_str()).collect();
            (format!("the lesson has no section {name:?}"), did_you_mean(name, &names, "the lesson has none"))
        } else if task.sections[..index].contains(name) {
            (format!("section {name:?} is asked for twice"), "keep one of the two".to_owned())
        } else {
            continue;
        };
        return Err(Wrong { value: Some(name.clone()), ..wrong("sections", message, hint) });
    }
    task.sections.sort_by_key(place);
    Ok(())
}

fn tempi(task: &Task, lesson: &Lesson) -> Result<(), Wrong> {
    let original = lesson.tempo;
    for (field, tempo) in [("start", task.start), ("goal", task.goal)] {
        if let Some(tempo) = tempo
            && tempo > original
        {
            let message = format!("the {field}, {}, is above the lesson's tempo, {}", bpm(tempo), bpm(original));
            return Err(wrong(field, message, format!("give {} or less", bpm(original))));
        }
    }
    if let (Some(start), Some(goal)) = (task.start, task.goal)
        && start > goal
    {
        let message = format!("the start, {}, is above the goal, {}", bpm(start), bpm(goal));
        return Err(wrong("start", message, "start slower, or set the goal higher"));
    }
    Ok(())
}

fn within(field: &'static str, found: Option<u16>, range: RangeInclusive<u16>) -> Result<(), Wrong> {
    let Some(found) = found.filter(|found| !range.contains(found)) else { return Ok(()) };
    let (least, most) = range.into_inner();
    Err(wrong(field, format!("{field} are {least} to {most}; found {found}"), "give a number in that range"))
}

/// A tempo as it is printed.
fn bpm(tempo: Tempo) -> String {
    format!("{}", tempo.bpm())
}
