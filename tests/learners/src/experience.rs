//! Practice done, by piece and tempo.

use std::collections::BTreeMap;

use sixrung_lesson::Tempo;

/// Practice reaches down much further than up: at e^−this of the practised tempo it still counts 1/e. A design choice of
/// ours.
const REACH_DOWN: f64 = 0.8;
/// What practice of other pieces counts for this one: the hand is the same. A design choice of ours.
const ELSEWHERE: f64 = 0.25;

/// Practice done, in faultless passes.
#[derive(Clone, Debug, Default, PartialEq)]
pub(crate) struct Experience {
    pieces: BTreeMap<String, BTreeMap<Tempo, Done>>,
    total: f64,
}

/// At one tempo.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
struct Done {
    /// What nights have left.
    firm: f64,
    /// Since the last night.
    fresh: f64,
}

impl Experience {
    pub(crate) fn add(&mut self, piece: &str, tempo: Tempo, gain: f64) {
        self.total += gain;
        if !self.pieces.contains_key(piece) {
            self.pieces.insert(piece.to_owned(), BTreeMap::new());
        }
        let Some(tempi) = self.pieces.get_mut(piece) else { return };
        tempi.entry(tempo).or_default().fresh += gain;
    }

    /// All of it, wherever it was done, forgetting apart.
    pub(crate) const fn total(&self) -> f64 {
        self.total
    }

    /// What it counts for a piece at a tempo, practice reaching up as far as `reach` says.
    pub(crate) fn worth(&self, piece: &str, tempo: Tempo, reach: f64) -> f64 {
        let at = |(practised, done): (&Tempo, &Done)| {
            let away = (tempo.bpm() / practised.bpm()).ln();
            let width = if away > 0.0 { reach } else { REACH_DOWN };
            (done.firm + done.fresh) * (-(away / width).powi(2)).exp()
        };
        let share = |name: &str| if name == piece { 1.0 } else { ELSEWHERE };
        self.pieces.iter().map(|(name, tempi)| share(name) * tempi.iter().map(at).sum::<f64>()).sum()
    }

    /// A night: of what is fresh this share is lost, the rest stays.
    pub(crate) fn forget(&mut self, share: f64) {
        for done in self.pieces.values_mut().flat_map(BTreeMap::values_mut) {
            done.firm += done.fresh * (1.0 - share);
            done.fresh = 0.0;
        }
    }
}
