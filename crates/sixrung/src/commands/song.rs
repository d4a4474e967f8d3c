//! Keys of the page of the learner's own recording. There they come before the stand's.

use egui::{Key, Modifiers};

use crate::stand::SongWish;

/// A key of the page.
#[derive(Clone, Copy, Debug)]
pub struct SongKey {
    /// As printed.
    pub printed: &'static str,
    /// What it does, in a few words.
    pub text: &'static str,
    /// The keys, and what each asks for.
    keys: &'static [Binding],
}

/// A key and what it asks for.
type Binding = (Key, fn() -> SongWish);

impl SongKey {
    /// Its keys.
    pub fn keys(&self) -> impl Iterator<Item = Key> {
        self.keys.iter().map(|(key, _)| *key)
    }
}

/// The table.
pub const KEYS: &[SongKey] = &[
    SongKey { printed: "Space", text: "plays, stops", keys: &[(Key::Space, || SongWish::Play)] },
    SongKey {
        printed: "← →",
        text: "a beat back, on",
        keys: &[(Key::ArrowLeft, || SongWish::ByBeats(-1)), (Key::ArrowRight, || SongWish::ByBeats(1))],
    },
    SongKey {
        printed: "↑ ↓",
        text: "four beats back, on",
        keys: &[(Key::ArrowUp, || SongWish::ByBeats(-4)), (Key::ArrowDown, || SongWish::ByBeats(4))],
    },
    SongKey {
        printed: "< >",
        text: "the cursor by 10 ms",
        keys: &[(Key::Comma, || SongWish::By(-0.01)), (Key::Period, || SongWish::By(0.01))],
    },
    SongKey { printed: "B", text: "bar 1 begins here", keys: &[(Key::B, || SongWish::Bar1)] },
    SongKey { printed: "Enter", text: "taps a beat", keys: &[(Key::Enter, || SongWish::Tap)] },
    SongKey { printed: "A", text: "the nearest beat is here", keys: &[(Key::A, || SongWish::Anchor)] },
    SongKey { printed: "X", text: "takes the nearest anchor away", keys: &[(Key::X, || SongWish::NoAnchor)] },
    SongKey {
        printed: "[ ]",
        text: "the nearest beat by 5 ms",
        keys: &[(Key::OpenBracket, || SongWish::Nudge(-5.0)), (Key::CloseBracket, || SongWish::Nudge(5.0))],
    },
    SongKey {
        printed: "− +",
        text: "more, less of it in sight",
        keys: &[
            (Key::Minus, || SongWish::Zoom(-1)),
            (Key::Plus, || SongWish::Zoom(1)),
            (Key::Equals, || SongWish::Zoom(1)),
        ],
    },
    SongKey { printed: "V", text: "clicks on the beats", keys: &[(Key::V, || SongWish::Clicks)] },
];

/// What a key asks for on this page.
pub(super) fn wish(key: Key, modifiers: Modifiers) -> Option<SongWish> {
    let keys = KEYS.iter().flat_map(|entry| entry.keys);
    keys.into_iter().find(|(known, _)| *known == key && !modifiers.command && !modifiers.alt).map(|(_, wish)| wish())
}
