//! Places as an editor shows them.

use super::{place_each, source_offset};

#[test]
fn lines_and_columns_count_characters_from_one() {
    let text = "ab\né♯c\r\n\nd";
    let offsets = [0, 1, 2, 3, 5, 8, 9, 10, 11, 12, 99];
    let places: Vec<(u32, u32)> =
        place_each(text, offsets.into_iter()).iter().map(|place| (place.line, place.column)).collect();
    let expected = [(1, 1), (1, 2), (1, 3), (2, 1), (2, 2), (2, 3), (2, 4), (2, 5), (3, 1), (4, 1), (4, 2)];
    assert_eq!(places, expected);
}

#[test]
fn a_character_of_a_value_is_found_behind_escapes() {
    for (literal, index, expected) in [
        (r#""abc""#, 0, 1),
        (r#""abc""#, 2, 3),
        (r#""abc""#, 3, 4),
        (r#""a\tbc""#, 2, 4),
        (r#""a\u{1F3B8}bc""#, 2, 11),
        (r#""\x41b""#, 1, 5),
        (r#""é♯c""#, 2, 6),
        (r##"r#"a"b"#"##, 2, 5),
        (r#"r"é\t""#, 1, 4),
    ] {
        assert_eq!(source_offset(literal, index), expected, "{literal} {index}");
    }
}
