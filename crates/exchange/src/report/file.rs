//! A report's text, and how its values are written in it.

use ron::ser::PrettyConfig;

use super::{FORM, Report};
use crate::paper::{Refusal, Source, ron};

/// Days and sections a report may have: more are no report of ours.
const MOST_ROWS: usize = 2_000;

impl Report {
    /// The file's text: a few lines for people, then the numbers.
    #[must_use]
    pub fn to_text(&self) -> String {
        let config = PrettyConfig::new().compact_arrays(false).escape_strings(false);
        // A row of a table is a line.
        let config = config.depth_limit(2);
        let text = ron().to_string_pretty(self, config).expect("texts and numbers can always be written");
        format!(
            "// How the practice went: a report made with Sixrung, for the teacher. It holds numbers, and no sound.\n\
             // `sixrung report FILE` prints it as a table.\n{}{text}\n",
            FORM.name
        )
    }

    /// Reads a report from the bytes of its file.
    ///
    /// # Errors
    /// The first thing that is wrong, with its place: a newer version, no such file, a value that is none.
    pub fn read(bytes: &[u8]) -> Result<Self, Refusal> {
        let source = Source::new(bytes, &FORM)?;
        let report: Self = source.parse(source.text())?;
        let rows = report.days.len().max(report.sections.len());
        if rows > MOST_ROWS {
            let message = format!("{rows} rows are more than a report's {MOST_ROWS}");
            return Err(source.refuse(source.head(), message, "is this a report of one assignment?"));
        }
        Ok(report)
    }
}

/// Writes `mod $name` for a type that is written as another: how it is written, and how it is read, where it can be.
macro_rules! written_as {
    ($(#[$doc:meta])* $name:ident: $of:ty, $written:ty, $write:expr, $read:expr) => {
        $(#[$doc])*
        pub(super) mod $name {
            use serde::de::Error as _;
            use serde::{Deserialize, Deserializer, Serialize, Serializer};

            pub(in super::super) fn serialize<S: Serializer>(value: &$of, to: S) -> Result<S::Ok, S::Error> {
                let write: fn(&$of) -> $written = $write;
                write(value).serialize(to)
            }

            pub(in super::super) fn deserialize<'de, D: Deserializer<'de>>(from: D) -> Result<$of, D::Error> {
                let read: fn($written) -> Result<$of, String> = $read;
                read(<$written>::deserialize(from)?).map_err(D::Error::custom)
            }
        }
    };
}

written_as!(
    /// A fingerprint: sixteen hexadecimal digits.
    hash: u64,
    String,
    |hash| crate::paper::hash_text(*hash),
    |text| {
        let is_hash = text.len() == 16 && text.bytes().all(|byte| byte.is_ascii_hexdigit());
        let hash = u64::from_str_radix(&text, 16).ok().filter(|_| is_hash);
        hash.ok_or_else(|| format!("{text:?} is no fingerprint of sixteen digits"))
    }
);
written_as!(
    /// A tempo in beats a minute.
    bpm: sixrung_lesson::Tempo,
    f64,
    |tempo| tempo.bpm(),
    |bpm| sixrung_lesson::Tempo::from_bpm(bpm).ok_or_else(|| format!("{bpm} is no tempo of 10 to 400 beats a minute"))
);
written_as!(
    /// The same, where there may be none.
    bpm_or_none: Option<sixrung_lesson::Tempo>,
    Option<f64>,
    |tempo| tempo.map(sixrung_lesson::Tempo::bpm),
    |bpm| {
        let read = |bpm| {
            let tempo = sixrung_lesson::Tempo::from_bpm(bpm);
            tempo.ok_or_else(|| format!("{bpm} is no tempo of 10 to 400 beats a minute"))
        };
        bpm.map(read).transpose()
    }
);
written_as!(
    /// A date.
    date: sixrung_practice::Date,
    String,
    |date| date.to_string(),
    |text| text.parse().map_err(|error: sixrung_practice::NoDate| format!("{text:?}: {error}"))
);
written_as!(
    /// The same, where there may be none.
    date_or_none: Option<sixrung_practice::Date>,
    Option<String>,
    |date| date.map(|date| date.to_string()),
    |text| {
        let read = |text: String| text.parse().map_err(|error: sixrung_practice::NoDate| format!("{text:?}: {error}"));
        text.map(read).transpose()
    }
);
written_as!(
    /// A number that is one.
    finite: f64,
    f64,
    |value| *value,
    |value| if value.is_finite() { Ok(value) } else { Err(format!("{value} is no number")) }
);
