//! Today's plan in the room: what it is made from lies in the journal.

use sixrung_exchange::assignment::Assignment;
use sixrung_lesson::{Arrangement, Lesson, Shape, Stretch};
use sixrung_practice::Moment;
use sixrung_practice::today::{SongToday, TodayRequest, plan};

use super::Studio;
use crate::pages::{TodayItem, TodayPage};
use crate::session::{Input, lesson_changes, today_request};
use crate::text::today as text;

/// The capo's fret as the lesson is played.
fn arrangement_capo(lesson: &Lesson, arrangement: &Arrangement) -> u8 {
    lesson.capo + arrangement.capo_shift
}

impl Studio {
    /// Makes a plan of so many minutes.
    pub(super) fn plan_today(&mut self, minutes: u16, now: Moment) {
        let Some(stage) = self.session.stage() else { return };
        let (lesson, arrangement) = (std::sync::Arc::clone(&stage.lesson), stage.arrangement.clone());
        let find = |stretch: &Stretch| {
            let Some(key) = self.session.section_key(stretch.clone()) else { return Default::default() };
            (self.keeper.climb(&key, &lesson.title), self.keeper.steps(&key, &lesson.title))
        };
        let zone = self.session.zone();
        let times = self.own_change_times(arrangement_capo(&lesson, &arrangement));
        let own = |from: &Shape, to: &Shape, _: u8| times.own_time_of(from, to);
        let changes = lesson_changes(&lesson, &arrangement, own);
        let mut request =
            today_request(&lesson, &arrangement, (minutes, now, zone), find, changes, &self.session.played_today());
        if let Some(assigned) = stage.assigned() {
            as_asked(&mut request, assigned);
        }
        self.take(Input::Planned(plan(&request)), now);
    }

    /// What the page shows now.
    pub(crate) fn today_page(&self) -> TodayPage {
        let Some(stage) = self.session.stage() else { return TodayPage::default() };
        let mut page = TodayPage { has_lesson: true, minutes: self.session.today_minutes(), ..TodayPage::default() };
        if let Some(run) = self.session.today() {
            let item = |item: &sixrung_practice::today::Item| TodayItem {
                what: text::item(item.minutes, &text::what(&item.what, &stage.lesson)),
                why: text::why(&item.why, &stage.lesson),
            };
            page.items = run.items().map(item).collect();
            page.current = run.current().map(|current| current.index);
        }
        page
    }
}

/// The plan is made for what an assignment asks: its rules, its sections, and nothing faster than its goal.
fn as_asked(request: &mut TodayRequest, assigned: &Assignment) {
    let sections = &assigned.original().sections;
    let asked = |index: usize| sections.get(index).is_some_and(|section| assigned.asks_for(&section.name));
    request.policy = assigned.policy();
    request.sections.retain(|section| asked(section.section));
    request.first_learned = request.first_learned.filter(|first| asked(*first));
    request.changes.retain(|change| change.sections.iter().any(|(section, _)| asked(*section)));
    if !assigned.task().sections.is_empty() {
        request.song = SongToday::NotYet;
    }
    if assigned.goal() < assigned.original().tempo {
        request.policy.run_every_passes = 0;
    }
}
