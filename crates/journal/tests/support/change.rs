//! A made-up change of chord.

use sixrung_journal::{ChangePair, PlayedChange};

use crate::support::ended;

/// From G to D, with a capo.
pub(crate) fn change() -> PlayedChange {
    let pair = ChangePair { from: "320003".into(), to: "xx0232".into(), capo: 2 };
    PlayedChange { pair, took_ms: 900, botched: 1, at: ended(3) }
}
