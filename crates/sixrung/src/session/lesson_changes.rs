//! The chord changes of a lesson, section by section, with what is known of them.

use sixrung_lesson::{Arrangement, Lesson, Shape, Stretch, Tempo, layout};
use sixrung_practice::hands::{HandModel, OwnTime, Played, choose_fingerings, needed_changes, rank_changes};
use sixrung_practice::today::{ChangeToday, MeasuredChange};

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
            // At the original tempo there is so much time; a change that takes longer fits a slower one.
            let measured = own(from, into, score.capo).and_then(|own| {
                let fits = Tempo::from_bpm((lesson.tempo.bpm() * way.available_s / own.seconds).floor())?;
                Some(MeasuredChange { median_s: own.seconds, count: own.changes, fits })
            });
            let (from, into) = (from.name.clone(), into.name.clone());
            changes.push(ChangeToday { from, into, difficulty: way.cost, measured, sections: vec![(index, times)] });
        }
    }
    changes
}
