//! What the ear learned of a player, as text: a few lines for people, then the numbers.

use ron::ser::PrettyConfig;
use serde::Deserialize;
use sixrung_listen::{LEARNED_VERSION, Learned};

/// What a program of any version finds in it.
#[derive(Deserialize)]
#[serde(rename = "Learned")]
struct Versioned {
    version: u32,
}

/// Writes it, `about` in its head.
#[must_use]
pub fn write(learned: &Learned, about: &str) -> String {
    let names: Vec<&str> = learned.shapes.iter().map(|shape| shape.name.as_str()).collect();
    let directions = if learned.direction.is_some() { "told apart" } else { "not told apart" };
    let about = about.replace(['\n', '\r'], " ");
    let config = PrettyConfig::new().compact_arrays(true).struct_names(true);
    let text = ron::ser::to_string_pretty(learned, config).expect("numbers and names can always be written");
    format!(
        "// How one player's shapes and strokes sound on one guitar, for `sixrung judge --learned`.\n// {about}\n\
         // Shapes: {}. Down- and up-strokes are {directions}.\n{text}\n",
        names.join(", ")
    )
}

/// Reads it.
///
/// # Errors
/// A sentence: the text is no such file, is damaged, or is of another version.
pub fn read(text: &str) -> Result<Learned, String> {
    let versioned: Versioned = ron::from_str(text).map_err(|error| format!("this holds nothing learned: {error}"))?;
    if versioned.version != LEARNED_VERSION {
        return Err(format!("it is of version {}, this program reads version {LEARNED_VERSION}", versioned.version));
    }
    let learned: Learned = ron::from_str(text).map_err(|error| format!("it is damaged: {error}"))?;
    if learned.is_sound() { Ok(learned) } else { Err("it is damaged: its numbers do not fit together".to_owned()) }
}

#[cfg(test)]
mod tests {
    use sixrung_listen::{LEARNED_VERSION, Learned};

    use super::{read, write};

    #[test]
    fn what_is_written_is_read_back_and_anything_else_is_refused_with_a_reason() {
        let learned = Learned { version: LEARNED_VERSION, shapes: Vec::new(), direction: None };
        let text = write(&learned, "from a\ntake");
        assert_eq!(read(&text), Ok(learned));
        assert!(text.lines().take(3).all(|line| line.starts_with("// ")), "{text}");
        let refused = |text: &str| read(text).expect_err("it is refused");
        assert!(refused("hello").starts_with("this holds nothing learned"));
        assert!(refused(&text.replace("version: 1", "version: 7")).starts_with("it is of version 7"));
        assert!(refused(&text.replace("shapes: []", "shapes: 3")).starts_with("it is damaged"));
    }
}
