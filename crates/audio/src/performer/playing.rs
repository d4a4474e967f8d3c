//! What happens when something in the timeline is due.

use super::{BASS, Performer, RECORDING};
use crate::handover::Report;
use crate::playhead::{Due, Playhead};
use crate::prepared::Act;
use crate::shelf::TableRef;
use crate::shots::Shot;

impl Performer {
    /// # Real-time
    /// Integer arithmetic, and what a struck string costs.
    pub(super) fn act_on_what_is_due(&mut self) {
        while let Some(mut playhead) = self.playhead
            && playhead.due() <= self.frame
        {
            let Some(prepared) = self.shelf.get(playhead.place) else {
                self.playhead = None;
                return;
            };
            let due = playhead.take(prepared);
            self.playhead = Some(playhead);
            match due {
                Due::Act(act) => self.act(playhead.place, act),
                Due::IntroEnds => self.begin_cycle(playhead, 0),
                Due::CycleEnds(cycle) => self.end_cycle(playhead, cycle),
            }
        }
    }

    /// # Real-time
    /// What a struck string costs.
    fn act(&mut self, place: u8, act: Act) {
        match act {
            Act::Click { table } => self.clicks.start(Shot::new(TableRef { place, table }, u8::MAX, [1.0; 2])),
            Act::Chuck { string, table, velocity } => {
                self.guitar.chuck(TableRef { place, table }, string, velocity);
            }
            Act::Recording { table } => {
                self.recordings.start(Shot::new(TableRef { place, table }, RECORDING, [1.0; 2]));
            }
            Act::Song { from } => self.songs.start(place, from),
            Act::Bass { table, velocity } => {
                self.basses.fade(BASS, self.bass_stop);
                self.basses.start(Shot::new(TableRef { place, table }, BASS, [velocity; 2]));
            }
            Act::BassStop => self.basses.fade(BASS, self.bass_stop),
            Act::Brush { table, velocity } => {
                self.brushes.start(Shot::new(TableRef { place, table }, u8::MAX, [velocity; 2]));
            }
            Act::Damp { string } => self.guitar.damp(string),
            Act::Pluck { string, voice, velocity } => {
                if let Some(voice) = self.shelf.get(place).and_then(|prepared| prepared.voice(voice)) {
                    self.guitar.pluck(place, string, voice, velocity);
                }
            }
        }
    }

    /// # Real-time
    /// Integer arithmetic.
    fn begin_cycle(&mut self, playhead: Playhead, cycle: u64) {
        let Some(prepared) = self.shelf.get(playhead.place) else { return };
        let fine = playhead.cycle_start(prepared, cycle);
        let id = prepared.timeline().id;
        self.end.report(Report::CycleStarted { id, cycle, frame: fine.round(), fine });
    }

    /// What follows cycle `cycle`: the timeline that waits, the end, or the next cycle.
    ///
    /// # Real-time
    /// Integer arithmetic.
    fn end_cycle(&mut self, playhead: Playhead, cycle: u64) {
        let Some(prepared) = self.shelf.get(playhead.place) else { return };
        let (id, passes) = (prepared.timeline().id, prepared.timeline().passes);
        let end = playhead.cycle_start(prepared, cycle + 1);
        let finished = passes.is_some_and(|passes| cycle + 1 >= u64::from(passes));
        if finished {
            self.playhead = None;
            self.end.report(Report::Finished { id, frame: end.round() });
        }
        match self.next.take() {
            Some(place) => self.start(place, end),
            None if finished => {}
            None => self.begin_cycle(playhead, cycle + 1),
        }
    }
}
