//! Words of looking back.

use sixrung_journal::PlayedPass;
use sixrung_lesson::Stretch;
use sixrung_practice::{Day, Marked, Moment, Step, UtcOffset, Verdict};

use crate::pages::SectionLine;

/// With no lesson open.
pub const EMPTY: &str = "Open a lesson, and I show how it went with you.";
/// Nothing played yet: what will be here, and what starts it.
pub const NOTHING: &str = "Nothing played yet: here will be your tempo over the days, the bars that give trouble, how long your \
                           changes take, and every pass. Esc leads to the stand; Space there starts the first.";
/// Above the plot of tempo.
pub const TEMPO: &str = "tempo by section";
/// What the marks on it mean.
pub const TEMPO_MARKS: &str = "ring: fastest clean pass of the day · dot: held, clean at first try a day later";
/// Above the bars.
pub const TROUBLE: &str = "where the trouble is, bar by bar";
/// What a mark in a bar means.
pub const TROUBLE_MARKS: &str = "one mark: late, missed or wrong in a tenth of the last 20 passes";
/// Above the changes.
pub const CHANGES: &str = "how long a change takes, and the tempo it fits";
/// Where no change was drilled.
pub const NO_CHANGES: &str = "No change drilled yet: the step “changes” measures them.";
/// Above the minutes.
pub const MINUTES: &str = "minutes played";
/// Above the list.
pub const PASSES: &str = "passes, strokes in time";
/// On to older ones.
pub const OLDER: &str = "older";
/// Back to newer ones.
pub const NEWER: &str = "newer";
/// Back from one pass to all.
pub const BACK: &str = "back to all passes";
/// Takes a pass out.
pub const TAKE_OUT: &str = "take this pass out";
/// Nothing was heard of a pass.
pub const NO_PLOT: &str = "Nothing was heard of this pass that could be drawn.";
/// Where it all lies.
pub const KEPT: &str = "every pass is kept here, on this computer only";
/// Writes tables for other programs.
pub const EXPORT: &str = "export as tables";
/// Writes a copy.
pub const BACK_UP: &str = "back up";
/// Above the players.
pub const PLAYERS: &str = "who plays";
/// In the field for one more.
pub const ANOTHER_PLAYER: &str = "another player’s name";
/// How sections are chosen.
pub const KEYS: &str = "arrows or a digit choose the section";
/// Heard where another chord was asked for.
pub const ANOTHER_CHORD: &str = "another chord";
/// Nothing can be kept.
pub const NO_JOURNAL: &str = "The journal could not be opened, so nothing can be shown.";

/// Above the plot of how close to the beat it was.
#[must_use]
pub fn offsets(section: &str) -> String {
    format!("{section}: how far from the beat, in ms")
}

/// For a reader of the screen.
#[must_use]
pub fn minutes_said(minutes: &[(i64, f32)]) -> String {
    let most = minutes.iter().map(|(_, minutes)| *minutes).fold(0.0, f32::max);
    format!("minutes played on {} days, {most:.0} at most", minutes.len())
}

/// Minutes in all, on so many days.
#[must_use]
pub fn minutes(minutes: f32, days: usize) -> String {
    match days {
        0 => "none yet".to_owned(),
        1 => format!("{minutes:.0} in all, on one day"),
        _ => format!("{minutes:.0} in all, on {days} days"),
    }
}

/// The times one can look back on.
#[must_use]
pub const fn span(days: Option<i64>) -> &'static str {
    match days {
        Some(28) => "the last four weeks",
        Some(_) => "the last three months",
        None => "everything kept",
    }
}

/// A link to another time.
#[must_use]
pub fn look_at(span: &str) -> String {
    format!("show {span}")
}

/// A section in a sentence.
#[must_use]
pub fn section(line: &SectionLine) -> String {
    let fastest = line.reached.iter().map(|(_, bpm)| *bpm).fold(0.0, f32::max);
    let held = line.held.iter().map(|(_, bpm)| *bpm).fold(0.0, f32::max);
    let mut words = match line.reached.last() {
        None => format!("{}: not clean in these days", line.name),
        Some((_, last)) => format!("{}: clean at {last:.0} last, at {fastest:.0} at most", line.name),
    };
    if held > 0.0 {
        words += &format!(", {held:.0} held");
    }
    words
}

/// How the bars of a section are, for a reader of the screen.
#[must_use]
pub fn trouble(line: &SectionLine) -> String {
    let bad = |(bar, share): (usize, &Option<f32>)| {
        share
            .filter(|share| *share >= 0.05)
            .map(|share| format!("bar {} in {:.0} of a hundred", bar + 1, share * 100.0))
    };
    let bars: Vec<_> = line.trouble.iter().enumerate().filter_map(bad).collect();
    match bars.as_slice() {
        [] => format!("{}: no bar stands out", line.name),
        bars => format!("{}: {}", line.name, bars.join(", ")),
    }
}

/// A day, for example `23 Nov`.
#[must_use]
pub fn day(day: Day) -> String {
    const MONTHS: [&str; 12] = ["Jan", "Feb", "Mar", "Apr", "May", "Jun", "Jul", "Aug", "Sep", "Oct", "Nov", "Dec"];
    let (_, month, day) = day.date();
    format!("{day} {}", MONTHS[usize::from(month).clamp(1, 12) - 1])
}

/// A day and a time, for example `23 Nov 18:04`; before four in the morning it is still the evening before.
#[must_use]
pub fn when(at: Moment, zone: UtcOffset) -> String {
    let seconds = (at.0 + i64::from(zone.0)).rem_euclid(86_400);
    format!("{} {:02}:{:02}", day(at.day(zone)), seconds / 3_600, seconds / 60 % 60)
}

/// What was played, for example `Verse, bars 3–4, at 93`.
#[must_use]
pub fn what(pass: &PlayedPass, bpm: &str) -> String {
    let stretch = match &pass.key.stretch {
        Stretch::Whole => super::WHOLE_PIECE.to_owned(),
        Stretch::Section(name) => name.clone(),
        Stretch::Bars { section, first, end } if first + 1 == *end => format!("{section}, bar {end}"),
        Stretch::Bars { section, first, end } => format!("{section}, bars {}–{end}", first + 1),
    };
    let step = match pass.step {
        Step::Climb => "",
        Step::OneStroke => ", one stroke a change",
        Step::OneChord => ", on one chord",
        Step::Slow => ", slowly",
        Step::PlayAlong => ", played along",
        Step::Sing => ", sung",
        Step::Shapes => ", shapes",
        Step::Changes => ", changes",
    };
    format!("{stretch}{step} at {bpm}")
}

/// What became of it, in a few words.
#[must_use]
pub fn outcome(pass: &PlayedPass) -> String {
    let by_the_player = if pass.marked == Marked::ByPlayer { ", you said" } else { "" };
    match pass.verdict {
        Verdict::NotJudged(_) => "not judged".to_owned(),
        Verdict::Clean | Verdict::NotClean if pass.marked == Marked::Heard && pass.counts.expected > 0 => {
            format!("{} of {}", pass.counts.in_time, pass.counts.expected)
        }
        Verdict::Clean => format!("clean{by_the_player}"),
        Verdict::NotClean => format!("not clean yet{by_the_player}"),
    }
}

/// What was counted in a pass, in a sentence.
#[must_use]
pub fn counts(pass: &PlayedPass) -> String {
    let counts = &pass.counts;
    let mut parts = vec![format!("{} of {} strokes in time", counts.in_time, counts.expected)];
    let others = [
        (counts.late, "late"),
        (counts.early, "early"),
        (counts.missed, "missed"),
        (counts.wrong_chord, "with another chord"),
        (counts.extra, "not asked for"),
    ];
    parts.extend(others.iter().filter(|(count, _)| *count > 0).map(|(count, what)| format!("{count} {what}")));
    if let (Some(offset), Some(spread)) = (pass.median_offset_ms, pass.spread_ms) {
        let side = if offset < 0.0 { "early" } else { "late" };
        parts.push(format!("{:.0} ms {side} in the middle, {spread:.0} ms around it", offset.abs()));
    }
    format!("{}.", parts.join(", "))
}

/// How long a change takes.
#[must_use]
pub fn takes(seconds: f64) -> String {
    format!("{seconds:.1} s")
}

/// The tempo it fits, and the one it fitted on the first day shown where that was another.
#[must_use]
pub fn fits(now: Option<&str>, was: Option<&str>) -> String {
    match (now, was) {
        (Some(now), Some(was)) if now != was => format!("fits {now}, was {was}"),
        (Some(now), _) => format!("fits {now}"),
        (None, _) => String::new(),
    }
}

/// Puts passes back.
#[must_use]
pub fn put_back(passes: u64) -> String {
    if passes == 1 { "put the pass back".to_owned() } else { format!("put {passes} passes back") }
}

/// Written files.
#[must_use]
pub fn written(path: &std::path::Path) -> String {
    format!("written: {}", path.display())
}

/// A player in a list.
#[must_use]
pub fn player(name: &str) -> String {
    format!("{name} plays")
}
