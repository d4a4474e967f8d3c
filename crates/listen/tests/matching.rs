//! Matching equals mir_eval's (Raffel et al., ISMIR 2014), whose scores lie in `data/matching.txt`.

use sixrung_listen::{Reach, align};

fn times(text: &str) -> Vec<f64> {
    text.split_whitespace().map(|time| time.parse().expect("a number")).collect()
}

#[test]
fn precision_recall_and_f_at_50_ms_are_mir_evals() {
    let rows: Vec<&str> = include_str!("data/matching.txt").lines().filter(|line| !line.starts_with('#')).collect();
    assert_eq!(rows.len(), 42);
    for row in rows {
        let fields: Vec<Vec<f64>> = row.split('|').map(times).collect();
        let [reference, estimated, scores] = fields.as_slice() else { panic!("three fields: {row}") };
        let expected: Vec<Reach> = reference.iter().map(|at| Reach::even(*at, 0.05)).collect();
        let pairs = f64::from(u32::try_from(align(&expected, estimated).iter().flatten().count()).expect("few"));
        let precision = if estimated.is_empty() { 0.0 } else { pairs / count(estimated) };
        let recall = pairs / count(reference);
        let f = if pairs == 0.0 { 0.0 } else { 2.0 * precision * recall / (precision + recall) };
        for (ours, theirs) in [precision, recall, f].iter().zip(scores) {
            assert!((ours - theirs).abs() < 1e-9, "{ours} is not {theirs} in {row}");
        }
    }
}

fn count(values: &[f64]) -> f64 {
    f64::from(u32::try_from(values.len()).expect("few"))
}

#[test]
fn of_equally_many_pairs_the_nearest_are_taken() {
    let check = |expected: &[f64], heard: &[f64], pairs: &[Option<usize>]| {
        let expected: Vec<Reach> = expected.iter().map(|at| Reach::even(*at, 0.1)).collect();
        assert_eq!(align(&expected, heard), pairs);
    };
    check(&[1.0], &[0.95, 1.01, 1.08], &[Some(1)]);
    check(&[1.0, 1.1], &[1.04, 1.12], &[Some(0), Some(1)]);
    check(&[1.0, 1.1], &[1.09], &[None, Some(0)]);
    check(&[1.0, 1.1, 1.2], &[0.99, 1.21], &[Some(0), None, Some(1)]);
    check(&[], &[1.0], &[]);
    check(&[1.0], &[], &[None]);
}
