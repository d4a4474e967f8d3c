//! When strums were really heard, from a take's truth.

use serde_json::Value;

/// Numbers of that name in a list of the truth.
pub(crate) fn times(list: &Value, name: &str) -> Vec<f64> {
    list.as_array().expect("a list").iter().filter_map(|item| item[name].as_f64()).collect()
}

/// When strums were really heard, extras too.
pub(crate) fn played_s(truth: &Value) -> Vec<f64> {
    let mut played = times(&truth["strokes"], "played_s");
    played.extend(times(&truth["extras"], "played_s"));
    played.sort_by(f64::total_cmp);
    played
}
