//! The rising list of tempi that ends at the original tempo, or at the goal that was set below it.

use sixrung_lesson::{LadderRules, Tempo};

/// The rungs of one lesson: strictly rising, never empty, the last exactly the original tempo or the goal below it.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Ladder {
    rungs: Vec<Tempo>,
    original: Tempo,
}

impl Ladder {
    /// Rungs closer than this cannot be told apart: the just noticeable difference for the tempo of a sequence is about
    /// 3 % (Drake & Botte 1993).
    pub const AUDIBLE_RATIO: f64 = 1.03;

    /// Builds the rungs: those the teacher named, else geometric fractions of the original tempo in whole bpm.
    ///
    /// Geometric rungs lie at least 3 % apart; where the rules ask for more rungs than fit, there are fewer. Named
    /// rungs are the teacher's own and stay however close; those at or above the original tempo are left out. A goal
    /// below the original tempo ends the ladder: reckoned rungs that can't be told apart from it, or lie above, go.
    #[must_use]
    pub fn new(rules: &LadderRules, original: Tempo) -> Self {
        let mut rungs = if rules.named.is_empty() { geometric(rules, original) } else { rules.named.clone() };
        let top = rules.goal.unwrap_or(original).min(original);
        let is_named = !rules.named.is_empty();
        rungs.retain(|rung| *rung < top && (is_named || top == original || told_apart(*rung, top)));
        rungs.push(top);
        rungs.sort_unstable();
        rungs.dedup();
        Self { rungs, original }
    }

    /// The original tempo, which percents are of.
    #[must_use]
    pub const fn original(&self) -> Tempo {
        self.original
    }

    /// The rungs, slowest first.
    #[must_use]
    pub fn rungs(&self) -> &[Tempo] {
        &self.rungs
    }

    /// The slowest rung.
    #[must_use]
    pub fn first(&self) -> Tempo {
        self.rungs[0]
    }

    /// The fastest rung: the original tempo, or the goal below it.
    #[must_use]
    pub fn last(&self) -> Tempo {
        self.rungs[self.rungs.len() - 1]
    }

    /// Whether `tempo` is a rung.
    #[must_use]
    pub fn has(&self, tempo: Tempo) -> bool {
        self.rungs.binary_search(&tempo).is_ok()
    }

    /// The next rung faster than `tempo`.
    #[must_use]
    pub fn above(&self, tempo: Tempo) -> Option<Tempo> {
        self.rungs.iter().copied().find(|rung| *rung > tempo)
    }

    /// The next rung slower than `tempo`.
    #[must_use]
    pub fn below(&self, tempo: Tempo) -> Option<Tempo> {
        self.rungs.iter().copied().rev().find(|rung| *rung < tempo)
    }

    /// The fastest rung that is no faster than `tempo`, or the first.
    #[must_use]
    pub fn at_or_below(&self, tempo: Tempo) -> Tempo {
        self.rungs.iter().copied().rev().find(|rung| *rung <= tempo).unwrap_or(self.first())
    }

    /// A tempo in percent of the original, as printed beside a rung: whole, and at 100 only for the original.
    #[must_use]
    pub fn percent(&self, tempo: Tempo) -> u32 {
        let (part, whole) = (u64::from(tempo.milli_bpm()), u64::from(self.original.milli_bpm()));
        let rounded = u32::try_from((part * 100 + whole / 2) / whole).expect("a tempo is at most 40 times another");
        if tempo < self.original { rounded.min(99) } else { rounded }
    }

    /// The tempo half-way (geometrically, in whole bpm) between a rung and the one below it; `None` where no tempo
    /// lies there that is told apart from both.
    #[must_use]
    pub fn half_rung_below(&self, rung: Tempo) -> Option<Tempo> {
        let below = self.below(rung)?;
        let half = whole_bpm((below.bpm() * rung.bpm()).sqrt())?;
        (told_apart(below, half) && told_apart(half, rung)).then_some(half)
    }

    /// The same ladder with one more rung, as when a half-rung is put in. What is not below the fastest rung, or
    /// cannot be told apart from its neighbours, changes nothing.
    #[must_use]
    pub fn with(&self, half: Tempo) -> Self {
        let mut ladder = self.clone();
        let fits = half < self.last()
            && self.below(half).is_some_and(|below| told_apart(below, half))
            && self.above(half).is_some_and(|above| told_apart(half, above));
        if fits && let Err(place) = ladder.rungs.binary_search(&half) {
            ladder.rungs.insert(place, half);
        }
        ladder
    }
}

/// `share` of the original tempo as rungs have it: in whole bpm, but at a share of one exactly the original.
/// `None` where that is no tempo.
#[must_use]
pub fn share_of(original: Tempo, share: f64) -> Option<Tempo> {
    #[expect(clippy::float_cmp, reason = "only a share of exactly one is the original itself")]
    if share == 1.0 { Some(original) } else { whole_bpm(original.bpm() * share) }
}

fn whole_bpm(bpm: f64) -> Option<Tempo> {
    Tempo::from_bpm(bpm.round())
}

fn told_apart(slower: Tempo, faster: Tempo) -> bool {
    faster.bpm() >= slower.bpm() * Ladder::AUDIBLE_RATIO
}

/// Rungs below the original, each the same ratio above the last before rounding.
fn geometric(rules: &LadderRules, original: Tempo) -> Vec<Tempo> {
    let start = rules.start.clamp(0.0, 1.0);
    let steps = rules.rungs.saturating_sub(1);
    let wanted = f64::from(steps);
    let fitting = ((1.0 / start).ln() / Ladder::AUDIBLE_RATIO.ln()).floor();
    let divisions = wanted.min(fitting);
    let mut rungs: Vec<Tempo> = Vec::new();
    for step in (0..steps).map(f64::from).take_while(|step| *step < divisions) {
        let Some(rung) = share_of(original, start.powf(1.0 - step / divisions)) else { continue };
        if rungs.last().is_none_or(|below| told_apart(*below, rung)) && told_apart(rung, original) {
            rungs.push(rung);
        }
    }
    rungs
}
