//! What is to be played besides the passes that are judged.

use super::Climb;
use crate::moment::Moment;
use crate::policy::HearFirst;

impl Climb {
    /// Whether the part should be played to the learner at the present rung before their next pass.
    #[must_use]
    pub fn hear_first(&self, now: Moment) -> bool {
        let last = self.state.rungs.get(&self.state.at).map(|record| record.last_played);
        match self.policy.hear_first {
            HearFirst::Never => false,
            HearFirst::NewRung => last.is_none(),
            HearFirst::EverySitting => last.is_none_or(|last| now.since(last) >= self.policy.new_sitting_after_s),
        }
    }

    /// Whether a run at the original tempo that is not judged should come next, `judged_since` judged passes after the
    /// last one (or the first of the day). Not where the player stands there anyway.
    #[must_use]
    pub fn is_run_due(&self, judged_since: u32) -> bool {
        let every = u32::from(self.policy.run_every_passes);
        every > 0 && judged_since >= every && self.state.at < self.ladder.last()
    }
}
