//! The chord changes of a lesson, section by section, with what is known of them.

use sixrung_lesson::{Arrangement, Lesson, Shape, Stretch, layout};
use sixrung_practice::hands::{HandModel, OwnTime, Played, choose_fingerings, needed_changes, rank_changes};
use sixrung_practice::today::{ChangeToday, MeasuredChange};
use sixrung_practice::{ChangeTimes, beats_between};

/// Every change of the lesson's sections; `own` is the learner's own time from one shape to another, with the capo.
#[must_use]
pub fn lesson_changes(
    lesson: &Lesson,
    arrangement: &Arrangement,
    own: impl Fn(&Shape, &Shape, u8) -> Option<OwnTime>,
) -> Vec<ChangeToday> {
    let mut changes: Vec<ChangeToday> = Vec::new();
    for (index, section) in lesson.sections.iter().enumerate() {
        let Ok(score) = layout(lesson, &Stretch::Section(section.name.clone()), arrangement) else { continue };
        let needed = needed_changes(&score);
        let chosen = choose_fingerings(&needed, &score.shapes, score.capo, &HandModel::PRIOR.weights);
        let played = Played { capo: score.capo, tempo: lesson.tempo, beat: lesson.beat, model: &HandModel::PRIOR };
        for way in rank_changes(&needed, &chosen.grips, played, |_, _| None).iter().flat_map(|pair| &pair.ways) {
            let shape = |shape: usize| &score.shapes[shape];
            let (from, into) = (shape(way.change.from), shape(way.change.to));
            let times = u16::try_from(way.change.times).unwrap_or(u16::MAX);
            let known = changes.iter_mut().find(|known| known.from == from.name && known.into == into.name);
            if let Some(known) = known {
                known.sections.push((index, times));
                continue;
            }
            let beats = beats_between(&score, lesson.beat, way.change.from, way.change.to);
            let measured = own(from, into, score.capo).zip(beats).and_then(|(own, beats)| {
                let fits = std::iter::once(own.seconds).collect::<ChangeTimes>().fits(beats)?;
                Some(MeasuredChange { median_s: own.seconds, count: own.changes, fits })
            });
            let (from, into) = (from.name.clone(), into.name.clone());
            changes.push(ChangeToday { from, into, difficulty: way.cost, measured, sections: vec![(index, times)] });
        }
    }
    changes
}

/// A section that has this change, `first` where it does.
pub(super) fn section_with(
    lesson: &Lesson,
    arrangement: &Arrangement,
    (from, into): (&str, &str),
    first: Option<usize>,
) -> Option<usize> {
    let has = |index: &usize| {
        let Some(section) = lesson.sections.get(*index) else { return false };
        let Ok(score) = layout(lesson, &Stretch::Section(section.name.clone()), arrangement) else { return false };
        let name = |shape: usize| score.shapes[shape].name.as_str();
        needed_changes(&score).iter().any(|change| (name(change.from), name(change.to)) == (from, into))
    };
    first.into_iter().chain(0..lesson.sections.len()).find(has)
}
