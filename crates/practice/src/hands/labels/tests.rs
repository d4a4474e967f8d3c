//! The least total, held against trying everything.

use super::Costs;

/// A seeded generator (Marsaglia 2003, xorshift64).
struct Dice(u64);

impl Dice {
    fn below(&mut self, end: usize) -> usize {
        self.0 ^= self.0 << 13;
        self.0 ^= self.0 >> 7;
        self.0 ^= self.0 << 17;
        usize::try_from(self.0 >> 33).expect("31 bits") % end
    }

    /// Small whole numbers, so that ties are common.
    fn cost(&mut self) -> f64 {
        f64::from(u8::try_from(self.below(9)).expect("small"))
    }
}

fn random(dice: &mut Dice, things: usize, share_of_pairs: usize) -> Costs {
    let mut costs = Costs::default();
    for _ in 0..things {
        let choices = 1 + dice.below(4);
        costs.alone.push((0..choices).map(|_| dice.cost()).collect());
    }
    for other in 0..things {
        for one in 0..other {
            if dice.below(10) < share_of_pairs {
                let (rows, columns) = (costs.alone[one].len(), costs.alone[other].len());
                let table = (0..rows).map(|_| (0..columns).map(|_| dice.cost()).collect()).collect();
                costs.pairs.insert((one, other), table);
            }
        }
    }
    costs
}

fn by_trying_everything(costs: &Costs) -> f64 {
    let ways: usize = costs.alone.iter().map(Vec::len).product();
    let way = |mut rest: usize| -> Vec<usize> {
        let choice = |choices: &Vec<f64>| {
            let choice = rest % choices.len();
            rest /= choices.len();
            choice
        };
        costs.alone.iter().map(choice).collect()
    };
    (0..ways).map(|number| costs.total(&way(number))).fold(f64::INFINITY, f64::min)
}

#[test]
fn the_least_is_what_trying_everything_finds() {
    let mut dice = Dice(41);
    for run in 0..400 {
        let (things, share) = (1 + dice.below(6), dice.below(11));
        let costs = random(&mut dice, things, share);
        approx::assert_abs_diff_eq!(costs.total(&costs.least()), by_trying_everything(&costs), epsilon = 1e-9);
        assert_eq!(costs.least().len(), things, "run {run}");
    }
}

#[test]
fn a_ring_closes_upon_itself() {
    // Three in a row would like 0 0 0; the way back from the last to the first makes 1 1 1 cheaper.
    let same = vec![vec![0.0, 5.0], vec![5.0, 0.0]];
    let back = vec![vec![4.0, 9.0], vec![9.0, 0.0]];
    let costs = Costs {
        alone: vec![vec![0.0, 1.0]; 3],
        pairs: [((0, 1), same.clone()), ((1, 2), same), ((0, 2), back)].into(),
    };
    assert_eq!(costs.least(), [1, 1, 1]);
}

#[test]
fn too_large_a_graph_is_still_chosen_for() {
    // Everything beside everything, fourteen of four choices each: more than a table holds.
    let mut dice = Dice(7);
    let things = 14;
    let table = |dice: &mut Dice| (0..4).map(|_| (0..4).map(|_| dice.cost()).collect()).collect::<Vec<Vec<f64>>>();
    let mut costs = Costs { alone: vec![vec![0.0, 0.1, 0.2, 0.3]; things], ..Costs::default() };
    for other in 0..things {
        for one in 0..other {
            let table = table(&mut dice);
            costs.pairs.insert((one, other), table);
        }
    }
    let chosen = costs.least();
    assert!(costs.total(&chosen) <= costs.total(&vec![0; things]), "never dearer than all of the first choices");
}
