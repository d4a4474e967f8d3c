//! Descriptions to log-odds: a sum of small decision trees (gradient boosting: Friedman 2001, Annals of Statistics 29).
//!
//! The trees stand in `stroke.txt` and `first.txt`, made by `tests/takes/training/strum_trees.py` from takes with known truth; which
//! takes, its first lines say. A line is a tree: its nodes with blanks between them, each `feature:limit:left:right`
//! (at most the limit goes left) or a leaf's value.

use std::sync::LazyLock;

use super::features::FEATURES;

/// A node.
#[derive(Clone, Copy, Debug)]
enum Node {
    Split { feature: usize, limit: f32, left: usize, right: usize },
    Leaf(f32),
}

/// What is asked of a description.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Asked {
    /// Is there a stroke?
    Stroke,
    /// Is it a stroke's first string?
    First,
}

static STROKE: LazyLock<Vec<Vec<Node>>> = LazyLock::new(|| trees(include_str!("stroke.txt")));
static FIRST: LazyLock<Vec<Vec<Node>>> = LazyLock::new(|| trees(include_str!("first.txt")));

/// Natural log-odds that the answer is yes.
pub(super) fn log_odds(asked: Asked, described: &[f32; FEATURES]) -> f32 {
    let trees = match asked {
        Asked::Stroke => &STROKE,
        Asked::First => &FIRST,
    };
    trees.iter().map(|tree| value(tree, described)).sum()
}

fn trees(text: &str) -> Vec<Vec<Node>> {
    text.lines().filter(|line| !line.starts_with('#')).map(|line| line.split(' ').map(node).collect()).collect()
}

fn value(tree: &[Node], described: &[f32; FEATURES]) -> f32 {
    let mut at = 0;
    loop {
        match tree[at] {
            Node::Leaf(value) => return value,
            Node::Split { feature, limit, left, right } => at = if described[feature] <= limit { left } else { right },
        }
    }
}

fn node(text: &str) -> Node {
    let number = |text: &str| text.parse().expect("the files of trees hold numbers");
    let mut parts = text.split(':');
    let first = parts.next().unwrap_or_default();
    let rest: Vec<&str> = parts.collect();
    match rest[..] {
        [limit, left, right] => {
            let index = |text: &str| text.parse().expect("the files of trees hold numbers");
            Node::Split { feature: index(first), limit: number(limit), left: index(left), right: index(right) }
        }
        _ => Node::Leaf(number(first)),
    }
}

#[cfg(test)]
mod tests {
    use super::{FEATURES, FIRST, Node, STROKE};

    #[test]
    fn every_tree_ends_and_looks_only_at_what_is_described() {
        assert!(STROKE.len() > 20 && FIRST.len() > 20);
        for tree in STROKE.iter().chain(FIRST.iter()) {
            for (index, node) in tree.iter().enumerate() {
                if let Node::Split { feature, left, right, limit } = node {
                    assert!(*feature < FEATURES && limit.is_finite());
                    // Children come after their parent: every walk ends.
                    assert!(*left > index && *right > index && *left < tree.len() && *right < tree.len());
                }
            }
        }
    }
}
