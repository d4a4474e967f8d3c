//! The name a misspelt one was probably meant to be.

/// Names longer than this are not compared.
const MAX_COMPARED: usize = 48;
/// Slips a suggestion may be away.
const MAX_SLIPS: usize = 2;

/// The candidate nearest to `name`, if one is near enough to be worth naming.
pub(crate) fn nearest<'c>(name: &str, candidates: impl IntoIterator<Item = &'c str>) -> Option<&'c str> {
    let wanted = folded(name);
    if wanted.len() > MAX_COMPARED {
        return None;
    }
    let near_enough = MAX_SLIPS.min(wanted.len().div_ceil(2));
    candidates
        .into_iter()
        .map(|candidate| (slips(&wanted, &folded(candidate)), candidate))
        .filter(|(slips, _)| *slips <= near_enough)
        .min_by_key(|(slips, _)| *slips)
        .map(|(_, candidate)| candidate)
}

/// A hint that names the nearest candidate, or lists them when none is near and they are few.
pub(crate) fn did_you_mean(name: &str, candidates: &[&str], none: &str) -> String {
    const LISTED: usize = 12;
    match nearest(name, candidates.iter().copied()) {
        Some(near) => format!("did you mean \"{near}\"?"),
        None if candidates.is_empty() => none.to_owned(),
        None if candidates.len() > LISTED => {
            format!("there are {}, \"{}\" the first of them", candidates.len(), candidates[0])
        }
        None => {
            format!("there is {}", candidates.iter().map(|name| format!("\"{name}\"")).collect::<Vec<_>>().join(", "))
        }
    }
}

fn folded(name: &str) -> Vec<char> {
    name.chars()
        .filter(|c| !c.is_whitespace())
        .flat_map(char::to_lowercase)
        .map(|c| match c {
            '♭' => 'b',
            '♯' => '#',
            other => other,
        })
        .collect()
}

/// Letters left out, put in, changed or swapped with their neighbour (the optimal string alignment distance).
fn slips(a: &[char], b: &[char]) -> usize {
    if a.len().abs_diff(b.len()) > MAX_SLIPS {
        return usize::MAX;
    }
    let mut before = vec![0; b.len() + 1];
    let mut last: Vec<usize> = (0..=b.len()).collect();
    for i in 1..=a.len() {
        let mut row = vec![i; b.len() + 1];
        for j in 1..=b.len() {
            let changed = last[j - 1] + usize::from(a[i - 1] != b[j - 1]);
            row[j] = changed.min(last[j] + 1).min(row[j - 1] + 1);
            if i > 1 && j > 1 && a[i - 1] == b[j - 2] && a[i - 2] == b[j - 1] {
                row[j] = row[j].min(before[j - 2] + 1);
            }
        }
        before = std::mem::replace(&mut last, row);
    }
    last[b.len()]
}
