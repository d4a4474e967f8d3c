//! From the call's words to a lesson, a score and a tempo.

use sixrung_lesson::{Arrangement, Lesson, Score, Stretch, Tempo, layout, read};

use super::args::What;
use super::fault::Fault;
use crate::library::Source;

/// What a command is about.
pub(super) struct Chosen {
    pub(super) lesson: Lesson,
    pub(super) score: Score,
    pub(super) tempo: Tempo,
}

/// Reads, chooses and lays out.
pub(super) fn choose(what: &What) -> Result<Chosen, Fault> {
    let lesson = open(&what.lesson)?;
    let tempo = tempo(what, &lesson)?;
    let arrangement = arrangement(what.arrangement.as_deref(), &lesson)?;
    let stretch = stretch(what, &lesson)?;
    let score = layout(&lesson, &stretch, &arrangement).map_err(|error| Fault::usage(error.to_string()))?;
    Ok(Chosen { lesson, score, tempo })
}

/// Reads a lesson that can be played.
pub(super) fn open(argument: &str) -> Result<Lesson, Fault> {
    let text = Source::from_argument(argument)
        .text()
        .map_err(|unreadable| Fault::error(unreadable.message).hint(unreadable.hint))?;
    read(&text).map(|read| read.lesson).map_err(|findings| {
        let shown: Vec<_> = findings.iter().map(|finding| format!("{argument}:{finding}")).collect();
        Fault::error(format!("{argument} can't be played\n{}", shown.join("\n")))
            .hint(format!("mend these, then try `sixrung check {argument}`"))
    })
}

fn tempo(what: &What, lesson: &Lesson) -> Result<Tempo, Fault> {
    let asked = match (what.bpm, what.percent) {
        (Some(bpm), _) => bpm,
        (None, Some(100.0)) => lesson.tempo.bpm(),
        (None, Some(percent)) => (lesson.tempo.bpm() * percent / 100.0).round(),
        (None, None) => lesson.tempo.bpm(),
    };
    Tempo::from_bpm(asked).ok_or_else(|| {
        Fault::usage(format!("{asked} beats a minute is no tempo to practise at")).hint("give 10 to 400 beats a minute")
    })
}

/// The arrangement of this name; the lesson's first without one.
pub(super) fn arrangement(name: Option<&str>, lesson: &Lesson) -> Result<Arrangement, Fault> {
    let Some(name) = name else {
        return Ok(lesson.arrangements.first().cloned().unwrap_or_default());
    };
    lesson.arrangement(name).cloned().ok_or_else(|| {
        let names: Vec<_> = lesson.arrangements.iter().map(|arrangement| arrangement.name.as_str()).collect();
        Fault::usage(format!("no arrangement is called {name:?}")).hint(format!("it has: {}", names.join(", ")))
    })
}

fn stretch(what: &What, lesson: &Lesson) -> Result<Stretch, Fault> {
    let Some(name) = &what.section else { return Ok(Stretch::Whole) };
    let found = lesson.sections.iter().find(|section| section.name.eq_ignore_ascii_case(name));
    let Some(section) = found.map(|section| section.name.clone()) else {
        let names: Vec<_> = lesson.sections.iter().map(|section| section.name.as_str()).collect();
        return Err(
            Fault::usage(format!("no section is called {name:?}")).hint(format!("it has: {}", names.join(", ")))
        );
    };
    let Some(bars) = &what.bars else { return Ok(Stretch::Section(section)) };
    let (first, last) = bars.split_once('-').unwrap_or((bars, bars));
    match (first.trim().parse::<u32>(), last.trim().parse::<u32>()) {
        (Ok(first), Ok(last)) if first >= 1 && first <= last => {
            Ok(Stretch::Bars { section, first: first - 1, end: last })
        }
        _ => Err(Fault::usage(format!("{bars:?} is no range of bars")).hint("give for example --bars 3-4")),
    }
}
