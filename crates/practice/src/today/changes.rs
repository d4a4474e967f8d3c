//! The change that holds a section back.

use super::item::{What, Why};
use super::request::{ChangeToday, TodayRequest};
use super::standing::Standing;

/// Fewer changes than this do not make a median that says anything: a design choice of ours.
const LEAST_COUNT: u32 = 3;

/// The change to drill for a section, with its reason: first one measured to be too slow for the rung that is
/// climbed, the slowest of them; then the hardest not measured, weighed by how often it comes; then one too slow for
/// the original tempo.
pub(super) fn holding_back(request: &TodayRequest, standing: &Standing<'_>) -> Option<(What, Why)> {
    let section = standing.section();
    let in_it = |change: &&ChangeToday| times(change, section) > 0;
    let changes: Vec<&ChangeToday> = request.changes.iter().filter(in_it).collect();
    let slower_than = |needs| {
        let measured = changes.iter().filter_map(|change| Some((*change, change.measured?)));
        let slow = measured.filter(|(_, time)| time.count >= LEAST_COUNT && time.fits < needs);
        let (change, time) = slow.min_by(|a, b| a.1.fits.cmp(&b.1.fits))?;
        let (median_s, count, fits) = (time.median_s, time.count, time.fits);
        Some((drill(change), Why::ChangeTooSlow { section, median_s, count, fits, needs }))
    };
    let unknown = || {
        let unknown = changes.iter().filter(|change| change.measured.is_none_or(|time| time.count < LEAST_COUNT));
        let weight = |change: &ChangeToday| change.difficulty * f64::from(times(change, section));
        // Of equals the first: `max_by` would take the last.
        let hardest = unknown.rev().max_by(|a, b| weight(a).total_cmp(&weight(b)))?;
        Some((drill(hardest), Why::ChangeNotMeasured { section, times: times(hardest, section) }))
    };
    slower_than(standing.wanted()).or_else(unknown).or_else(|| slower_than(standing.ladder.last()))
}

/// The hardest change of all, when no section can be played.
pub(super) fn hardest(request: &TodayRequest) -> impl Iterator<Item = What> + '_ {
    let mut changes: Vec<&ChangeToday> = request.changes.iter().collect();
    changes.sort_by(|a, b| b.difficulty.total_cmp(&a.difficulty));
    changes.into_iter().map(drill)
}

fn drill(change: &ChangeToday) -> What {
    What::Change { from: change.from.clone(), into: change.into.clone() }
}

fn times(change: &ChangeToday, section: usize) -> u16 {
    change.sections.iter().find(|(of, _)| *of == section).map_or(0, |(_, times)| *times)
}
