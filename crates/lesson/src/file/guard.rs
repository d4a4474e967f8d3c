//! Turns away, before any parsing, bytes that cannot be a lesson.

use crate::findings::{Findings, Span};

/// The largest lesson text read, in bytes. A long song's lesson is near 10 KiB.
pub(crate) const MAX_BYTES: usize = 1 << 20;

/// The text of a file without its byte order mark, or the single finding that stops the reading.
pub(crate) fn text_of(bytes: &[u8]) -> Result<&str, Findings<'_>> {
    let stop = |text, at, code, message: String, hint: &str| {
        let mut findings = Findings::new(text);
        findings.error(Span { start: at, end: at }, code, message, hint);
        Err(findings)
    };
    if bytes.len() > MAX_BYTES {
        let message = format!("the lesson is {} bytes long; at most {MAX_BYTES} are read", bytes.len());
        return stop(
            "",
            0,
            "too-large",
            message,
            "is this the right file? split a very long piece into several lessons",
        );
    }
    let text = match std::str::from_utf8(bytes) {
        Ok(text) => text,
        Err(error) => {
            let good = std::str::from_utf8(&bytes[..error.valid_up_to()]).expect("valid up to here, as the error says");
            let byte = bytes[error.valid_up_to()];
            let message = format!("the file is not UTF-8 text: byte 0x{byte:02X} does not belong here");
            return stop(good, good.len(), "not-utf8", message, "save the lesson as UTF-8 in your editor");
        }
    };
    let text = text.strip_prefix('\u{feff}').unwrap_or(text);
    if let Some(at) = text.find('\0') {
        return stop(
            text,
            at,
            "nul",
            "there is a NUL character".to_owned(),
            "is this a text file? remove the character",
        );
    }
    if text.trim().is_empty() {
        return stop(
            text,
            0,
            "empty",
            "the file is empty".to_owned(),
            "start with Lesson(version: 1, title: \"…\", …)",
        );
    }
    Ok(text)
}
