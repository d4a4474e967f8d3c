//! What the journal keeps of a lesson's recording: where it lies and what was marked in it, never its sound.

use std::path::PathBuf;

use serde::{Deserialize, Serialize};
use sixrung_lesson::Tempo;
use sixrung_song::Anchor;

use super::marks::{MOST_SEMITONES, Marks};
use crate::library::Source;

/// The form it is written in.
const VERSION: u32 = 1;

/// A recording and its marks.
#[derive(Clone, Debug, PartialEq)]
pub struct Kept {
    /// The file.
    pub path: PathBuf,
    /// Its marks; `None` while nothing was marked.
    pub marks: Option<Marks>,
}

#[derive(Serialize, Deserialize)]
struct Form {
    version: u32,
    path: PathBuf,
    marks: Option<MarksForm>,
}

#[derive(Serialize, Deserialize)]
struct MarksForm {
    start_s: f64,
    milli_bpm: u32,
    #[serde(default)]
    anchors: Vec<(i32, f64)>,
    #[serde(default)]
    semitones: i8,
}

/// The setting's name for a lesson.
pub(crate) fn key(source: &Source) -> String {
    format!("song.{}", source.to_argument())
}

impl Kept {
    /// As one line of JSON.
    #[must_use]
    pub fn to_text(&self) -> String {
        let marks = self.marks.as_ref().map(|marks| MarksForm {
            start_s: marks.start_s,
            milli_bpm: marks.tempo.milli_bpm(),
            anchors: marks.anchors.iter().map(|anchor| (anchor.beat, anchor.at_s)).collect(),
            semitones: marks.semitones,
        });
        let form = Form { version: VERSION, path: self.path.clone(), marks };
        // A path that is no Unicode can't be written as text, and is not kept.
        serde_json::to_string(&form).unwrap_or_default()
    }

    /// What was kept; `None` for what is not understood. Marks that can't be are left out.
    #[must_use]
    pub fn from_text(text: &str) -> Option<Self> {
        let form: Form = serde_json::from_str(text).ok()?;
        if form.version != VERSION {
            return None;
        }
        let marks = form.marks.and_then(|marks| {
            let anchors = marks.anchors.into_iter().map(|(beat, at_s)| Anchor { beat, at_s }).collect();
            let tempo = Tempo::from_milli_bpm(marks.milli_bpm)?;
            let semitones = marks.semitones.clamp(-MOST_SEMITONES, MOST_SEMITONES);
            let marks = Marks { start_s: marks.start_s, tempo, anchors, semitones };
            marks.map().is_ok().then_some(marks)
        });
        Some(Self { path: form.path, marks })
    }
}

#[cfg(test)]
mod tests {
    use std::path::PathBuf;

    use sixrung_lesson::Tempo;
    use sixrung_song::Anchor;

    use super::{Kept, Marks};

    #[test]
    fn what_is_kept_comes_back() {
        let marks = Marks {
            start_s: 1.25,
            tempo: Tempo::from_milli_bpm(125_300).expect("in range"),
            anchors: vec![Anchor { beat: 8, at_s: 5.1 }],
            semitones: -2,
        };
        for marks in [None, Some(marks)] {
            let kept = Kept { path: PathBuf::from("/music/a song.mp3"), marks };
            assert_eq!(Kept::from_text(&kept.to_text()), Some(kept));
        }
    }

    #[test]
    fn what_is_not_understood_is_nothing_and_marks_that_cannot_be_are_left_out() {
        for text in ["", "{}", "[1]", r#"{"version":2,"path":"a","marks":null}"#] {
            assert_eq!(Kept::from_text(text), None, "{text}");
        }
        let odd = r#"{"version":1,"path":"a.wav","marks":{"start_s":-4.0,"milli_bpm":120000,"anchors":[[3,1.0]]}}"#;
        assert_eq!(Kept::from_text(odd), Some(Kept { path: PathBuf::from("a.wav"), marks: None }));
        let fast = r#"{"version":1,"path":"a.wav","marks":{"start_s":1.0,"milli_bpm":1}}"#;
        assert_eq!(Kept::from_text(fast).and_then(|kept| kept.marks), None);
    }
}
