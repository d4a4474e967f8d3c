//! Which name a misspelt one is taken for.

use super::nearest;

#[test]
fn a_near_name_is_found_and_a_far_one_is_not() {
    let names = ["plain", "push", "D", "Bm7", "F#m", "N.C.", "let ring"];
    for (name, expected) in [
        ("plian", Some("plain")),
        ("plane", Some("plain")),
        ("Plain", Some("plain")),
        ("puhs", Some("push")),
        ("F♯m", Some("F#m")),
        ("NC", Some("N.C.")),
        ("letring", Some("let ring")),
        ("bm7", Some("Bm7")),
        ("Bm", Some("Bm7")),
        ("H", None),
        ("strum", None),
        ("", None),
    ] {
        assert_eq!(nearest(name, names), expected, "{name}");
    }
}
