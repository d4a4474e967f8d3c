//! The name a misspelt one was probably meant to be.

#[cfg(test)]
mod tests;

/// Names longer than this are not compared.
const MAX_COMPARED: usize = 48;
/// Slips a suggestion may be away.
const MAX_SLIPS: usize = 2;

/// The candidate nearest to `name`, if one is near enough to be worth naming: at most every second letter is wrong.
pub(crate) fn nearest<'c>(name: &str, candidates: impl IntoIterator<Item = &'c str>) -> Option<&'c str> {
    let wanted = folded(name);
    if wanted.len() > MAX_COMPARED {
        return None;
    }
    let near_enough = MAX_SLIPS.min(wanted.len() / 2);
    candidates
        .into_iter()
        .map(|candidate| (slips(&wanted, &folded(candidate)), candidate))
        .filter(|(slips, _)| *slips <= near_enough)
        .min_by_key(|(slips, _)| *slips)
        .map(|(_, candidate)| candidate)
}

/// A hint that names the nearest candidate, or lists them when none is near and they are few; `none` when there are no
/// candidates.
#[must_use]
pub fn did_you_mean(name: &str, candidates: &[&str], none: &str) -> String {
    const LISTED: usize = 12;
    match nearest(name, candidates.iter().copied()) {
        Some(near) => format!("did you mean \"{near}\"?"),
        None if candidates.is_empty() => none.to_owned(),
        None if candidates.len() > LISTED => {
            format!("there are {}, \"{}\" the first of them", candidates.len(), candidates[0])
        }
        None => {
            format!(
                "the names there are: {}",
                candidates.iter().map(|name| format!("\"{name}\"")).collect::<Vec<_>>().join(", ")
            )
        }
    }
}

fn folded(name: &str) -> Vec<char> {
    name.chars()
        .filter(|c| !c.is_whitespace() && *c != '.')
        .flat_map(char::to_lowercase)
        .map(|c| match c {
            '♭' => 'b',
            '♯' => '#',
            other => other,
        })
        .collect()
}

/// Letters left out, put in, changed or swapped with their neighbour (the optimal string alignment distance), counted
/// only as far as they matter: more than [`MAX_SLIPS`] are `MAX_SLIPS + 1`.
fn slips(a: &[char], b: &[char]) -> usize {
    const FAR: usize = MAX_SLIPS + 1;
    if a.len().abs_diff(b.len()) > MAX_SLIPS || a.len().max(b.len()) > MAX_COMPARED {
        return FAR;
    }
    // Three rows of the usual table; cells further than MAX_SLIPS from the diagonal stay far.
    let mut rows = [[FAR; MAX_COMPARED + 1]; 3];
    for (j, cell) in rows[0].iter_mut().enumerate().take(FAR) {
        *cell = j;
    }
    for i in 1..=a.len() {
        let (row, last, before) = (i % 3, (i + 2) % 3, (i + 1) % 3);
        rows[row] = [FAR; MAX_COMPARED + 1];
        rows[row][0] = i.min(FAR);
        for j in i.saturating_sub(MAX_SLIPS).max(1)..=(i + MAX_SLIPS).min(b.len()) {
            let changed = rows[last][j - 1] + usize::from(a[i - 1] != b[j - 1]);
            let mut fewest = changed.min(rows[last][j] + 1).min(rows[row][j - 1] + 1);
            if i > 1 && j > 1 && a[i - 1] == b[j - 2] && a[i - 2] == b[j - 1] {
                fewest = fewest.min(rows[before][j - 2] + 1);
            }
            rows[row][j] = fewest.min(FAR);
        }
        if rows[row].iter().all(|cell| *cell == FAR) {
            return FAR;
        }
    }
    rows[a.len() % 3][b.len()]
}
