//! One JSON text (RFC 8259): an object with a list for each table, each row an object.

use std::io::Write;

use rusqlite::types::ValueRef;

use super::{LEFT_OUT, Query, text, unwritten};
use crate::error::JournalError;
use crate::open::Journal;

/// The form of what is written: it grows when a name changes its meaning or goes away.
const FORM: u32 = 1;

pub(super) fn write(journal: &Journal, queries: &[Query], out: &mut impl Write) -> Result<(), JournalError> {
    let me = journal.player();
    let player = journal.players()?.into_iter().find(|player| player.id == me).map(|player| player.name);
    let left_out: Vec<String> = LEFT_OUT.iter().map(|what| string(what)).collect();
    put(out, &format!("{{\"form\":{FORM},\"player\":{},\n", string(&player.unwrap_or_default())))?;
    put(out, &format!("\"left_out\":[{}]", left_out.join(",")))?;
    for query in queries {
        put(out, &format!(",\n\"{}\":[", query.name))?;
        let mut between = "\n";
        journal.each_row(query, |names, row| {
            let pair =
                |(column, name): (usize, &String)| Ok(format!("{}:{}", string(name), value(row.get_ref(column)?)?));
            let pairs = names.iter().enumerate().map(pair).collect::<Result<Vec<_>, JournalError>>()?;
            put(out, &format!("{between}{{{}}}", pairs.join(",")))?;
            between = ",\n";
            Ok(())
        })?;
        put(out, "]")?;
    }
    put(out, "}\n")
}

fn put(out: &mut impl Write, text: &str) -> Result<(), JournalError> {
    out.write_all(text.as_bytes()).map_err(|error| unwritten(&error))
}

fn value(value: ValueRef<'_>) -> Result<String, JournalError> {
    Ok(match value {
        ValueRef::Null => "null".to_owned(),
        ValueRef::Integer(number) => number.to_string(),
        // JSON has no word for what is no number.
        ValueRef::Real(number) if !number.is_finite() => "null".to_owned(),
        ValueRef::Real(number) => number.to_string(),
        other => string(text(other)?),
    })
}

/// In quotes; quotes, backslashes and control characters are escaped (RFC 8259, section 7).
fn string(text: &str) -> String {
    let mut quoted = String::from('"');
    for letter in text.chars() {
        match letter {
            '"' => quoted.push_str("\\\""),
            '\\' => quoted.push_str("\\\\"),
            control if control < ' ' => quoted.push_str(&format!("\\u{:04x}", u32::from(control))),
            other => quoted.push(other),
        }
    }
    quoted.push('"');
    quoted
}
