//! Which number of a policy is out of range. The ranges are design choices of ours: wide, but such that what is said of
//! a rung stays true.

use std::fmt;
use std::ops::RangeInclusive;

use super::{BreakRules, Policy};

/// A setting that is out of range.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct OutOfRange {
    /// The field's name.
    pub setting: &'static str,
    /// What it holds.
    pub found: f64,
    /// The least it may hold.
    pub least: f64,
    /// The most.
    pub most: f64,
}

impl fmt::Display for OutOfRange {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        let Self { setting, found, least, most } = self;
        write!(f, "{setting} is {least} to {most}; found {found}")
    }
}

impl std::error::Error for OutOfRange {}

fn within(setting: &'static str, found: impl Into<f64>, range: RangeInclusive<f64>) -> Result<(), OutOfRange> {
    let found = found.into();
    let (least, most) = range.into_inner();
    if (least..=most).contains(&found) { Ok(()) } else { Err(OutOfRange { setting, found, least, most }) }
}

#[expect(clippy::cast_precision_loss, reason = "seconds: whole up to 285 million years")]
fn seconds(seconds: i64) -> f64 {
    seconds as f64
}

const MINUTE_S: f64 = 60.0;
const HOUR_S: f64 = 3600.0;

impl Policy {
    /// The policy, if all its numbers are in range.
    ///
    /// # Errors
    /// The first number that is not, with its range.
    pub fn checked(self) -> Result<Self, OutOfRange> {
        // Every field is named, so that a new one can't be forgotten here.
        let Self {
            hear_first: _,
            start: _,
            up_after,
            recheck_up_after,
            down_after,
            propose_after_falls,
            offers: _,
            rest_after_passes,
            rest_after_falls,
            least_success,
            success_window,
            overlearn,
            rest_between_passes_s,
            run_every_passes,
            feedback: _,
            session_end: _,
            next_day_steps_back,
            hold_after_s,
            new_sitting_after_s,
        } = self;
        // As many as a lesson may ask for.
        within("up_after", up_after, 1.0..=20.0)?;
        within("recheck_up_after", recheck_up_after, 1.0..=20.0)?;
        within("down_after", down_after, 1.0..=20.0)?;
        within("propose_after_falls", propose_after_falls, 1.0..=20.0)?;
        within("rest_after_passes", rest_after_passes, 1.0..=100.0)?;
        within("rest_after_falls", rest_after_falls, 1.0..=100.0)?;
        within("least_success", least_success, 0.0..=1.0)?;
        within("success_window", success_window, 0.0..=100.0)?;
        within("overlearn", overlearn, 0.0..=5.0)?;
        within("rest_between_passes_s", rest_between_passes_s, 0.0..=120.0)?;
        within("run_every_passes", run_every_passes, 0.0..=100.0)?;
        within("next_day_steps_back", next_day_steps_back, 0.0..=24.0)?;
        // Gains show from 6 h on (Simmons 2012, JRME): what was left alone for less is not held. A week at most.
        within("hold_after_s", seconds(hold_after_s), 6.0 * HOUR_S..=7.0 * 24.0 * HOUR_S)?;
        within("new_sitting_after_s", seconds(new_sitting_after_s), MINUTE_S..=24.0 * HOUR_S)?;
        Ok(self)
    }
}

impl BreakRules {
    /// The rules, if all their numbers are in range.
    ///
    /// # Errors
    /// The first number that is not, with its range. The firm word never comes before the suggestion, nor later than
    /// after 50 minutes: rules may be more careful than ours, not less.
    pub fn checked(self) -> Result<Self, OutOfRange> {
        let Self { suggest_after_min, firm_after_min, break_min } = self;
        within("suggest_after_min", suggest_after_min, 1.0..=f64::from(Self::default().firm_after_min))?;
        let firm = f64::from(suggest_after_min)..=f64::from(Self::default().firm_after_min);
        within("firm_after_min", firm_after_min, firm)?;
        within("break_min", break_min, 1.0..=MINUTE_S)?;
        Ok(self)
    }
}
