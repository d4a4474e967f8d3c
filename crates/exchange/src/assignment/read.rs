//! From a text to an assignment, or to the first thing that is wrong with it.

use ron::value::RawValue;
use serde::Deserialize;
use sixrung_lesson::{Level, Tempo, content_hash, did_you_mean, read as read_lesson};
use sixrung_practice::{Date, Policy};

use super::check::{Wrong, checked};
use super::policy::PolicyForm;
use super::write::level_word;
use super::{Assignment, FORM, Task};
use crate::paper::{Line, LineError, Refusal, Source, bare, hash_text};

type Raw<'t> = Option<&'t RawValue>;

/// The fields as written, unread, so that each can be told with its place.
#[derive(Deserialize)]
#[serde(rename = "Assignment", deny_unknown_fields)]
struct AssignmentForm<'t> {
    #[serde(borrow, default, deserialize_with = "bare")]
    version: Raw<'t>,
    #[serde(borrow, default, deserialize_with = "bare")]
    learner: Raw<'t>,
    #[serde(borrow, default, deserialize_with = "bare")]
    arrangement: Raw<'t>,
    #[serde(borrow, default, deserialize_with = "bare")]
    sections: Raw<'t>,
    #[serde(borrow, default, deserialize_with = "bare")]
    start: Raw<'t>,
    #[serde(borrow, default, deserialize_with = "bare")]
    goal: Raw<'t>,
    #[serde(borrow, default, deserialize_with = "bare")]
    clean: Raw<'t>,
    #[serde(borrow, default, deserialize_with = "bare")]
    policy: Raw<'t>,
    #[serde(borrow, default, deserialize_with = "bare")]
    days: Raw<'t>,
    #[serde(borrow, default, deserialize_with = "bare")]
    minutes: Raw<'t>,
    #[serde(borrow, default, deserialize_with = "bare")]
    from: Raw<'t>,
    #[serde(borrow, default, deserialize_with = "bare")]
    due: Raw<'t>,
    #[serde(borrow, default, deserialize_with = "bare")]
    focus: Raw<'t>,
    #[serde(borrow, default, deserialize_with = "bare")]
    stop_on: Raw<'t>,
    #[serde(borrow, default, deserialize_with = "bare")]
    lesson_hash: Raw<'t>,
    #[serde(borrow, default, deserialize_with = "bare")]
    lesson: Raw<'t>,
}

#[derive(Deserialize)]
#[serde(rename = "clean", deny_unknown_fields)]
struct CleanForm<'t> {
    #[serde(borrow, default, deserialize_with = "bare")]
    level: Raw<'t>,
    #[serde(borrow, default, deserialize_with = "bare")]
    faults: Raw<'t>,
}

impl Assignment {
    /// Reads an assignment from the bytes of its file.
    ///
    /// # Errors
    /// The first thing that is wrong, with its place: a newer version, no such file, a lesson that can't be played (with
    /// all that is wrong with it), a name that is not in the lesson, a number out of its range.
    pub fn read(bytes: &[u8]) -> Result<Self, Refusal> {
        let source = Source::new(bytes, &FORM)?;
        let form: AssignmentForm<'_> = source.parse(source.text())?;
        need(source, form.version, "version")?;
        let (text, hash) = lesson_text(source, &form)?;
        let lesson = read_lesson(text.as_bytes()).map_err(|findings| {
            let hint = "the teacher mends the lesson, then makes the assignment again with `sixrung assign`";
            let at = form.lesson.map_or(source.text(), written);
            Refusal { findings, ..source.refuse(at, "the lesson in it can't be played", hint) }
        })?;
        let task = task(source, &form, &Policy::of(&lesson.lesson.ladder))?;
        let task = checked(task, &lesson.lesson).map_err(|wrong| refuse(source, &form, wrong))?;
        Ok(Self { text, hash, lesson: lesson.lesson, task })
    }
}

/// The lesson's text, as its hash says it was.
fn lesson_text(source: Source<'_>, form: &AssignmentForm<'_>) -> Result<(String, u64), Refusal> {
    let raw = need(source, form.lesson, "lesson")?;
    let text: String = value(source, raw, "lesson is a text in quotes", "copy the lesson's text whole")?;
    let hash_raw = need(source, form.lesson_hash, "lesson_hash")?;
    let written_hash: String = value(source, hash_raw, "lesson_hash is a text in quotes", "write it in quotes")?;
    let hash_of = |text: &str| hash_text(content_hash(text.as_bytes()));
    if hash_of(&text) == written_hash {
        let hash = content_hash(text.as_bytes());
        return Ok((text, hash));
    }
    // Mail programs write line ends their own way: not another lesson.
    let unix = text.replace("\r\n", "\n");
    for other in [unix.replace('\n', "\r\n"), unix] {
        if hash_of(&other) == written_hash {
            let hash = content_hash(other.as_bytes());
            return Ok((other, hash));
        }
    }
    let message = format!("the lesson in it is not the one it was made with: its hash is {}", hash_of(&text));
    let hint = format!("if it was changed on purpose, write lesson_hash: \"{}\"", hash_of(&text));
    Err(source.refuse(written(hash_raw), message, hint))
}

fn task(source: Source<'_>, form: &AssignmentForm<'_>, usual: &Policy) -> Result<Task, Refusal> {
    let clean: Option<CleanForm<'_>> = form.clean.map(|raw| source.parse(written(raw))).transpose()?;
    let (level, faults) = clean.map_or((None, None), |clean| (clean.level, clean.faults));
    let policy: Option<PolicyForm> = form.policy.map(|raw| source.parse(written(raw))).transpose()?;
    let names = |raw| value::<Vec<String>>(source, raw, "sections are texts in [ ]", "write [\"…\", \"…\"]");
    Ok(Task {
        learner: line(source, form.learner, "learner")?,
        arrangement: text(source, form.arrangement, "arrangement")?,
        sections: form.sections.map(names).transpose()?.unwrap_or_default(),
        start: tempo(source, form.start, "start")?,
        goal: tempo(source, form.goal, "goal")?,
        level: level_of(source, level)?,
        faults: whole(source, faults, "faults")?,
        policy: policy.map(|policy| policy.over(usual)),
        days: whole(source, form.days, "days")?,
        minutes: whole(source, form.minutes, "minutes")?,
        from: date(source, form.from, "from")?,
        due: date(source, form.due, "due")?,
        focus: line(source, form.focus, "focus")?,
        stop_on: line(source, form.stop_on, "stop_on")?,
    })
}

/// What does not fit the lesson, with the place where it is written.
fn refuse(source: Source<'_>, form: &AssignmentForm<'_>, wrong: Wrong) -> Refusal {
    let raw = match wrong.field {
        "arrangement" => form.arrangement,
        "sections" => form.sections,
        "start" => form.start,
        "goal" => form.goal,
        "policy" => form.policy,
        "faults" => form.clean,
        "days" => form.days,
        "minutes" => form.minutes,
        "due" => form.due,
        _ => None,
    };
    let mut at = raw.map_or(source.text(), written);
    if let Some(value) = &wrong.value {
        // The last of a value written twice is the one too many.
        at = at.rfind(value).map_or(at, |offset| &at[offset..]);
    }
    source.refuse(at, wrong.message, wrong.hint)
}

/// As it is written, without blanks and comments around.
fn written(raw: &RawValue) -> &str {
    raw.trim().get_ron()
}

fn need<'t>(source: Source<'_>, raw: Raw<'t>, name: &str) -> Result<&'t RawValue, Refusal> {
    raw.ok_or_else(|| source.refuse(source.head(), format!("an assignment needs {name}"), format!("add {name}: …")))
}

fn value<'t, T: Deserialize<'t>>(
    source: Source<'_>,
    raw: &'t RawValue,
    wanted: &str,
    hint: &str,
) -> Result<T, Refusal> {
    raw.into_rust().map_err(|_| {
        let found = match written(raw) {
            short if short.len() <= 32 && !short.contains('\n') => short,
            _ => "something else",
        };
        source.refuse(written(raw), format!("{wanted}; found {found}"), hint)
    })
}

fn text(source: Source<'_>, raw: Raw<'_>, name: &str) -> Result<Option<String>, Refusal> {
    let wanted = format!("{name} is a text in quotes");
    raw.map(|raw| value(source, raw, &wanted, &format!("write {name}: \"…\""))).transpose()
}

fn line(source: Source<'_>, raw: Raw<'_>, name: &str) -> Result<Option<Line>, Refusal> {
    let (Some(text), Some(raw)) = (text(source, raw, name)?, raw) else { return Ok(None) };
    let refused = |error: LineError| {
        source.refuse(written(raw), format!("{name} {error}"), "one short sentence will do, or leave it out")
    };
    Line::new(&text).map(Some).map_err(refused)
}

fn whole(source: Source<'_>, raw: Raw<'_>, name: &str) -> Result<Option<u16>, Refusal> {
    let Some(raw) = raw else { return Ok(None) };
    let wanted = format!("{name} are a whole number");
    let hint = "write it without quotes or point, as in 5";
    let found: i64 = value(source, raw, &wanted, hint)?;
    let refused = |_| source.refuse(written(raw), format!("{name} are a number of few digits; found {found}"), hint);
    u16::try_from(found).map(Some).map_err(refused)
}

fn tempo(source: Source<'_>, raw: Raw<'_>, name: &str) -> Result<Option<Tempo>, Refusal> {
    let Some(raw) = raw else { return Ok(None) };
    let wanted = format!("the {name} is a tempo in beats a minute");
    let bpm: f64 = value(source, raw, &wanted, "write it without quotes, as in 96 or 72.5")?;
    let refused = || {
        let message = format!("the {name} is 10 to 400 beats a minute; found {bpm}");
        source.refuse(written(raw), message, "write a tempo in the lesson's beats a minute")
    };
    Tempo::from_bpm(bpm).map(Some).ok_or_else(refused)
}

fn date(source: Source<'_>, raw: Raw<'_>, name: &str) -> Result<Option<Date>, Refusal> {
    let (Some(text), Some(raw)) = (text(source, raw, name)?, raw) else { return Ok(None) };
    let refused = |_| {
        let hint = "write it year-month-day, as in \"2031-01-28\"";
        source.refuse(written(raw), format!("{name} is no date: {text}"), hint)
    };
    text.parse().map(Some).map_err(refused)
}

fn level_of(source: Source<'_>, raw: Raw<'_>) -> Result<Option<Level>, Refusal> {
    const LEVELS: [Level; 3] = [Level::Beginner, Level::Improver, Level::Advanced];
    let (Some(text), Some(raw)) = (text(source, raw, "level")?, raw) else { return Ok(None) };
    let refused = || {
        let hint = did_you_mean(&text, &LEVELS.map(level_word), "");
        source.refuse(written(raw), format!("{text:?} is not a level"), hint)
    };
    LEVELS.into_iter().find(|level| level_word(*level) == text).map(Some).ok_or_else(refused)
}
