//! What of the recording belongs to what is on the stand: the passage of a stretch at a tempo.

use std::sync::Arc;

use sixrung_lesson::{Lesson, Score, Stretch, Tempo, Tick, layout};
use sixrung_song::Passage;
use sixrung_timeline::TempoGrid;

use crate::session::Stage;

/// Where the bars of the whole piece lie, and where in it the stretch on the stand begins.
#[derive(Clone, Debug)]
pub(crate) struct Placed {
    /// The score this is true of.
    of: Arc<Score>,
    /// Where the stretch comes first in the piece; `None` where the piece has no such bars.
    pub(crate) from: Option<Tick>,
    /// Every bar of the piece: where it begins.
    pub(crate) bars: Arc<[Tick]>,
}

impl Placed {
    /// Finds the stretch on the stand in the whole piece, the first time it comes.
    pub(crate) fn new(stage: &Stage) -> Self {
        let whole = layout(&stage.lesson, &Stretch::Whole, &stage.arrangement).ok();
        let bars = whole.iter().flat_map(|whole| &whole.bars);
        let first = stage.score.bars.first();
        let from = bars
            .clone()
            .find(|bar| first.is_some_and(|first| first.section == bar.section && first.number == bar.number));
        Self {
            of: Arc::clone(&stage.score),
            from: from.map(|bar| bar.start),
            bars: bars.clone().map(|bar| bar.start).collect(),
        }
    }

    /// Whether it is still true of what is on the stand.
    pub(crate) fn is_of(&self, stage: &Stage) -> bool {
        Arc::ptr_eq(&self.of, &stage.score)
    }

    /// The passage to be heard at a tempo and a rate.
    pub(crate) fn passage(&self, lesson: &Lesson, tempo: Tempo, rate: u32) -> Option<Passage> {
        let grid = TempoGrid::new(rate, tempo, lesson.beat.ticks());
        Some(Passage { grid, from: self.from?, length: self.of.length })
    }
}

/// The tempi a player may want next, the one now first: then the next rung up, then the next one down.
pub(crate) fn wanted(now: Tempo, rungs: &[Tempo]) -> Vec<Tempo> {
    let up = rungs.iter().copied().filter(|rung| *rung > now).min();
    let down = rungs.iter().copied().filter(|rung| *rung < now).max();
    [Some(now), up, down].into_iter().flatten().collect()
}

#[cfg(test)]
mod tests {
    use sixrung_lesson::{Arrangement, Stretch, Tempo, layout};
    use sixrung_practice::Step;

    use super::{Placed, wanted};
    use crate::library::Source;
    use crate::session::{Opened, Stage};
    use crate::stand::SectionChoice;

    #[test]
    fn the_rung_now_comes_first_then_its_neighbours() {
        let bpm = |bpm: f64| Tempo::from_bpm(bpm).expect("in range");
        let rungs = [63.0, 76.0, 93.0, 126.0].map(bpm);
        assert_eq!(wanted(bpm(76.0), &rungs), [76.0, 93.0, 63.0].map(bpm));
        assert_eq!(wanted(bpm(126.0), &rungs), [126.0, 93.0].map(bpm));
        assert_eq!(wanted(bpm(80.0), &rungs), [80.0, 93.0, 76.0].map(bpm));
    }

    #[test]
    fn every_section_and_bar_of_a_demo_is_found_where_the_piece_has_it() {
        for (name, text) in crate::library::DEMOS {
            let read = sixrung_lesson::read(text.as_bytes()).expect("a demo is clean");
            let opened = Opened {
                source: Source::Demo(name),
                lesson: std::sync::Arc::new(read.lesson),
                hash: read.hash,
                assigned: None,
            };
            let whole = layout(&opened.lesson, &Stretch::Whole, &Arrangement::default()).expect("it can be laid out");
            for (index, section) in opened.lesson.sections.iter().enumerate() {
                for bars in [None, Some(1..2)] {
                    let stage = Stage::new(
                        &opened,
                        (SectionChoice::Section(index), Step::Climb),
                        bars.clone(),
                        Arrangement::default(),
                    );
                    let Ok(stage) = stage else { continue };
                    let placed = Placed::new(&stage);
                    let number = stage.score.bars[0].number;
                    let wanted = whole.bars.iter().find(|bar| bar.section == section.name && bar.number == number);
                    assert_eq!(placed.from, wanted.map(|bar| bar.start), "{name} {} {bars:?}", section.name);
                    assert_eq!(placed.bars.len(), whole.bars.len());
                }
            }
        }
    }
}
