//! The policies that are held against each other.

use sixrung_lesson::{LadderRules, Tempo};
use sixrung_practice::{Ladder, Policy, Start};

/// A policy and the rungs it climbs.
#[derive(Clone, Debug, PartialEq)]
pub struct Contender {
    /// What the table calls it.
    pub name: String,
    /// How it is climbed. Rests, steps back, runs at tempo and what is offered are the same for all, unless the name
    /// says otherwise.
    pub policy: Policy,
    /// How the rungs are made.
    pub rules: LadderRules,
}

impl Contender {
    fn new(name: impl Into<String>, policy: Policy) -> Self {
        Self { name: name.into(), policy, rules: LadderRules::default() }
    }

    /// Its ladder.
    #[must_use]
    pub fn ladder(&self, original: Tempo) -> Ladder {
        Ladder::new(&self.rules, original)
    }
}

/// The defaults.
#[must_use]
pub fn ours() -> Contender {
    Contender::new("ours: 3 up, 2 down, six rungs", Policy::default())
}

/// All of them, ours first.
#[must_use]
pub fn contenders(original: Tempo) -> Vec<Contender> {
    let usual = Policy::default();
    let mut all = vec![
        ours(),
        Contender::new("ours, start by probe", Policy { start: Start::Probe, ..usual }),
        Contender::new("ours, no runs at tempo", Policy { run_every_passes: 0, ..usual }),
        steps_of_5(original),
        Contender {
            rules: LadderRules { rungs: 1, ..LadderRules::default() },
            ..Contender::new("at tempo only", usual)
        },
    ];
    for (up_after, down_after) in [(1, 1), (1, 2), (2, 1), (2, 2), (2, 3), (3, 1), (3, 3), (4, 1), (4, 2), (4, 3)] {
        let name = format!("{up_after} up, {down_after} down");
        all.push(Contender::new(name, Policy { up_after, down_after, ..usual }));
    }
    all
}

/// Rungs 5 bpm apart, down from the original tempo to 60 % of it, one clean pass each.
fn steps_of_5(original: Tempo) -> Contender {
    let lowest = original.bpm() * LadderRules::default().start;
    let down = (0..).map(|step| original.bpm() - 5.0 * f64::from(step)).take_while(|bpm| *bpm >= lowest.floor());
    let mut named: Vec<Tempo> = down.filter_map(Tempo::from_bpm).collect();
    named.reverse();
    Contender {
        rules: LadderRules { named, ..LadderRules::default() },
        ..Contender::new("5 bpm after each clean pass", Policy { up_after: 1, ..Policy::default() })
    }
}
