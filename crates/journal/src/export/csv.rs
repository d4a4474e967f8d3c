//! Comma-separated values as RFC 4180 has them: a line of names, lines end with CR LF, a field with a comma, a quote or
//! an end of line stands in quotes, a quote within it twice.

use std::io::Write;

use rusqlite::types::ValueRef;

use super::{Query, text, unwritten};
use crate::error::JournalError;
use crate::open::Journal;

pub(super) fn write(journal: &Journal, query: &Query, out: &mut impl Write) -> Result<(), JournalError> {
    let mut lines = Lines { out, is_begun: false };
    let names = journal.each_row(query, |names, row| {
        lines.begin(names)?;
        let fields = (0..names.len()).map(|column| field(row.get_ref(column)?)).collect::<Result<Vec<_>, _>>()?;
        lines.line(&fields)
    })?;
    // The names stand even above nothing.
    lines.begin(&names)
}

struct Lines<'a, W: Write> {
    out: &'a mut W,
    is_begun: bool,
}

impl<W: Write> Lines<'_, W> {
    fn begin(&mut self, names: &[String]) -> Result<(), JournalError> {
        if self.is_begun {
            return Ok(());
        }
        self.is_begun = true;
        self.line(names)
    }

    fn line(&mut self, fields: &[String]) -> Result<(), JournalError> {
        write!(self.out, "{}\r\n", fields.join(",")).map_err(|error| unwritten(&error))
    }
}

fn field(value: ValueRef<'_>) -> Result<String, JournalError> {
    Ok(match value {
        ValueRef::Null => String::new(),
        ValueRef::Integer(number) => number.to_string(),
        ValueRef::Real(number) => number.to_string(),
        other => quoted(text(other)?),
    })
}

fn quoted(text: &str) -> String {
    if text.contains([',', '"', '\r', '\n']) { format!("\"{}\"", text.replace('"', "\"\"")) } else { text.to_owned() }
}
