//! Descriptions to log-odds: a sum of small decision trees (gradient boosting: Friedman 2001, Annals of Statistics 29).
//!
//! The trees stand in text files beside what uses them, made by the scripts in `tests/takes/training` from takes with
//! known truth; which takes, their first lines say. A line is a tree: its nodes with blanks between them, each
//! `feature:limit:left:right` (at most the limit goes left) or a leaf's value.

/// A sum of trees.
#[derive(Clone, Debug)]
pub(crate) struct Trees(Vec<Vec<Node>>);

/// A node.
#[derive(Clone, Copy, Debug)]
enum Node {
    Split { feature: u16, left: u16, right: u16, limit: f32 },
    Leaf(f32),
}

impl Trees {
    /// Trees over descriptions of `features` numbers.
    ///
    /// # Panics
    /// The text is none of ours: a number is none, a tree does not end, or it looks at what is not described.
    pub(crate) fn read(text: &str, features: usize) -> Self {
        let trees = text.lines().filter(|line| !line.starts_with('#'));
        let trees = Self(trees.map(|line| line.split(' ').map(node).collect()).collect());
        assert!(trees.0.iter().all(|tree| is_sound(tree, features)), "the files of trees hold trees");
        trees
    }

    /// Natural log-odds that the answer is yes.
    pub(crate) fn log_odds(&self, described: &[f32]) -> f32 {
        self.0.iter().map(|tree| value(tree, described)).sum()
    }
}

/// Every walk ends, since children come after their parent, and looks only at what is described.
fn is_sound(tree: &[Node], features: usize) -> bool {
    tree.iter().enumerate().all(|(index, node)| match node {
        Node::Split { feature, left, right, limit } => {
            let is_after = |child: &u16| usize::from(*child) > index && usize::from(*child) < tree.len();
            usize::from(*feature) < features && limit.is_finite() && is_after(left) && is_after(right)
        }
        Node::Leaf(value) => value.is_finite(),
    })
}

fn value(tree: &[Node], described: &[f32]) -> f32 {
    let mut at = 0;
    loop {
        match tree[at] {
            Node::Leaf(value) => return value,
            Node::Split { feature, limit, left, right } => {
                at = usize::from(if described[usize::from(feature)] <= limit { left } else { right });
            }
        }
    }
}

fn node(text: &str) -> Node {
    const NUMBERS: &str = "the files of trees hold numbers";
    let mut parts = text.split(':');
    let first = parts.next().unwrap_or_default();
    let rest: Vec<&str> = parts.collect();
    match rest[..] {
        [limit, left, right] => Node::Split {
            feature: first.parse().expect(NUMBERS),
            limit: limit.parse().expect(NUMBERS),
            left: left.parse().expect(NUMBERS),
            right: right.parse().expect(NUMBERS),
        },
        _ => Node::Leaf(first.parse().expect(NUMBERS)),
    }
}

#[cfg(test)]
mod tests {
    use super::Trees;

    #[test]
    fn each_tree_is_walked_to_a_leaf_and_the_leaves_are_summed() {
        let trees = Trees::read("# made by hand\n0.5\n1:2:1:2 -1 0:0.5:3:4 2 4\n", 2);
        let odds = |described: [f32; 2]| trees.log_odds(&described);
        assert_eq!([odds([0.0, 2.0]), odds([0.5, 2.1]), odds([0.6, 3.0])], [-0.5, 2.5, 4.5]);
    }

    #[test]
    #[should_panic(expected = "the files of trees hold trees")]
    fn a_tree_that_looks_at_what_is_not_described_is_refused() {
        let _ = Trees::read("2:0:1:2 1 2\n", 2);
    }
}
