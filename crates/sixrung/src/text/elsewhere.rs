//! Words that lead from anywhere to what lies beside the stand.

use crate::stand::Page;

/// The word; nothing for a page that has none.
#[must_use]
pub const fn word(page: Page) -> &'static str {
    match page {
        Page::Today => "Today",
        Page::Journal => "Journal",
        Page::Guide => "Guide",
        Page::HandOver => "Teacher",
        Page::Tuner => "Tuner",
        Page::Look => "Keys",
        _ => "",
    }
}

/// The word as it is read aloud, with what is there.
#[must_use]
pub fn name(page: Page) -> String {
    let there = match page {
        Page::Today => "plan your minutes",
        Page::Journal => "look back",
        Page::Guide => "this lesson on paper",
        Page::HandOver => "assignments and reports",
        Page::Tuner => "tune the guitar",
        Page::Look => "keys, pedals and appearance",
        _ => "",
    };
    format!("{}: {there}", word(page))
}
