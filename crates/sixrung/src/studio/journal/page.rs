//! What the page of looking back shows now.

use std::sync::Arc;

use sixrung_journal::{ChangeHistory, PlayedPass, SectionHistory};
use sixrung_practice::{ChangeTimes, Day, Ladder, Marked, UtcOffset, Verdict};

use super::plot::kept_plot;
use super::{Change, SPANS};
use crate::draw::days::DaysAxis;
use crate::pages::{ChangeItem, JournalPage, OffsetDay, OpenedPass, PassItem, SectionLine};
use crate::say;
use crate::session::{Stage, bpm};
use crate::studio::Studio;
use crate::text::journal as text;

/// So many changes are shown: as many as lie side by side.
const CHANGES: usize = 4;

impl Studio {
    /// What the page shows now.
    pub(crate) fn journal_page(&self) -> JournalPage {
        let looking = &self.looking;
        let Some(stage) = self.session.stage() else { return JournalPage::default() };
        let span = |place: usize| text::span(SPANS[place % SPANS.len()]).to_owned();
        let mut page = JournalPage {
            has_lesson: true,
            title: stage.lesson.title.clone(),
            span: (span(looking.span), span(looking.span + 1)),
            chosen: looking.chosen,
            pages: (!looking.places.is_empty(), looking.has_older),
            deleted: looking.deleted,
            said: looking.said.clone(),
            ..JournalPage::default()
        };
        page.players =
            looking.players.iter().map(|player| (player.name.clone(), Some(player.id) == looking.player)).collect();
        let zone = self.session.zone();
        page.passes = looking
            .passes
            .iter()
            .map(|(_, pass)| PassItem {
                when: text::when(pass.ended, zone),
                what: text::what(pass, &bpm(pass.tempo)),
                outcome: text::outcome(pass),
                is_clean: pass.verdict == Verdict::Clean,
            })
            .collect();
        page.opened = looking.opened.as_ref().map(|(_, kept)| {
            Box::new(OpenedPass {
                heading: format!(
                    "{}, {}",
                    text::when(kept.pass.ended, zone),
                    text::what(&kept.pass, &bpm(kept.pass.tempo))
                ),
                headline: say::headline(kept.pass.verdict),
                detail: detail(&kept.pass),
                plot: kept_plot(stage, kept).map(Arc::new),
            })
        });
        let Some(found) = &looking.found else { return page };
        let began = found.sections.iter().filter_map(|section| section.days.first()).map(|day| day.day);
        let first = match SPANS[looking.span] {
            Some(days) => Day(looking.today.0 - days + 1),
            None => began.chain(found.playing.first().map(|day| day.day)).min().unwrap_or(looking.today),
        };
        page.days = axis(first, looking.today);
        let ladder = Ladder::new(&stage.lesson.ladder, stage.lesson.tempo);
        page.rungs = ladder.rungs().iter().map(|rung| (to_f32(rung.bpm()), bpm(*rung))).collect();
        page.sections = found
            .sections
            .iter()
            .enumerate()
            .map(|(place, section)| line(stage, place, section, first, zone))
            .collect();
        if let Some(section) = found.sections.get(looking.chosen) {
            page.offsets = section
                .days
                .iter()
                .filter_map(|day| {
                    let (offset_ms, spread_ms) = day.offset_ms.zip(day.spread_ms)?;
                    Some(OffsetDay { day: day.day.0, offset_ms: to_f32(offset_ms), spread_ms: to_f32(spread_ms) })
                })
                .collect();
        }
        #[expect(clippy::cast_precision_loss, reason = "minutes of a day")]
        let minutes = |ms: u64| ms as f32 / 60_000.0;
        page.minutes = found.playing.iter().map(|day| (day.day.0, minutes(day.played_ms))).collect();
        page.minutes_words = text::minutes(page.minutes.iter().map(|(_, minutes)| minutes).sum(), page.minutes.len());
        page.changes = changes(&looking.changes, &found.changes);
        page
    }
}

/// Why a pass was not judged, or what was counted in it.
fn detail(pass: &PlayedPass) -> String {
    match pass.verdict {
        Verdict::NotJudged(reason) => say::reason_sentence(reason).to_owned(),
        _ if pass.marked == Marked::ByPlayer => say::SELF_MARKED.to_owned(),
        _ => text::counts(pass),
    }
}

/// Days to today, every seventh named, or every first of a month where there are many.
fn axis(first: Day, today: Day) -> DaysAxis {
    const MANY: i64 = 60;
    let count = today.0 - first.0 + 1;
    let is_named = |day: i64| if count > MANY { Day(day).date().2 == 1 } else { (day - first.0) % 7 == 0 };
    let labels = (first.0..=today.0).filter(|day| is_named(*day)).map(|day| (day, text::day(Day(day)))).collect();
    DaysAxis { first: first.0, count, labels }
}

fn line(stage: &Stage, place: usize, history: &SectionHistory, first: Day, zone: UtcOffset) -> SectionLine {
    let name = stage.lesson.sections[place].name.clone();
    let reached = history.days.iter().filter_map(|day| Some((day.day.0, to_f32(day.reached?.bpm())))).collect();
    // What was held before the first day shown is held on it too: only the fastest says something.
    let is_before = |at: sixrung_practice::Moment| at.day(zone) < first;
    let before = history.held.iter().filter(|rung| is_before(rung.at));
    let within = history.held.iter().filter(|rung| !is_before(rung.at));
    let fastest = before.map(|rung| rung.tempo).max().map(|tempo| (first.0, to_f32(tempo.bpm())));
    let held = within.map(|rung| (rung.at.day(zone).0, to_f32(rung.tempo.bpm())));
    let bars = sixrung_lesson::section_bars(&stage.lesson, &name, &stage.arrangement).unwrap_or(0);
    let mut trouble = vec![None; bars as usize];
    for bar in &history.bars {
        if let Some(place) = trouble.get_mut(bar.bar as usize) {
            *place = Some(to_f32(bar.share()));
        }
    }
    let mut line =
        SectionLine { name, reached, held: fastest.into_iter().chain(held).collect(), trouble, words: String::new() };
    line.words = text::section(&line);
    line
}

/// The slowest changes of the last day each was drilled.
fn changes(known: &[Change], found: &[ChangeHistory]) -> Vec<ChangeItem> {
    let timed = known.iter().zip(found).filter_map(|(change, history)| {
        Some((change, history.days.first()?.median_ms / 1000.0, history.days.last()?.median_ms / 1000.0))
    });
    let mut timed: Vec<_> = timed.collect();
    timed.sort_by(|(.., one), (.., other)| other.total_cmp(one));
    let fits = |change: &Change, seconds| std::iter::once(seconds).collect::<ChangeTimes>().fits(change.beats).map(bpm);
    timed
        .into_iter()
        .take(CHANGES)
        .map(|(change, was, now)| ChangeItem {
            name: change.name.clone(),
            takes: text::takes(now),
            fits: text::fits(fits(change, now).as_deref(), fits(change, was).as_deref()),
        })
        .collect()
}

#[expect(clippy::cast_possible_truncation, reason = "for drawing")]
fn to_f32(value: f64) -> f32 {
    value as f32
}
