//! Collects what is wrong, and places it in the text when all of it is known.

use crate::diagnostic::{Caret, Diagnostic, Place, Severity};
use crate::locate::{place_each, source_offset};

/// Findings kept of one text; a text with more is not worth reading on.
const MAX_FINDINGS: usize = 100;
/// Characters of a compact text shown around a caret.
const CARET_WINDOW: usize = 96;

/// A stretch of the text, in bytes, end exclusive.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub(crate) struct Span {
    pub(crate) start: usize,
    pub(crate) end: usize,
}

/// A value and where it was written.
#[derive(Clone, Debug)]
pub(crate) struct At<T> {
    pub(crate) value: T,
    pub(crate) span: Span,
}

/// Something wrong inside a compact text; `from..to` are characters of it.
#[derive(Clone, Debug, PartialEq, Eq)]
pub(crate) struct TextProblem {
    pub(crate) code: &'static str,
    pub(crate) message: String,
    pub(crate) hint: String,
    pub(crate) from: usize,
    pub(crate) to: usize,
}

/// What was found so far in one text.
pub(crate) struct Findings<'t> {
    source: &'t str,
    found: Vec<(usize, Diagnostic)>,
}

impl<'t> Findings<'t> {
    pub(crate) fn new(source: &'t str) -> Self {
        Self { source, found: Vec::new() }
    }

    pub(crate) fn error(
        &mut self,
        span: Span,
        code: &'static str,
        message: impl Into<String>,
        hint: impl Into<String>,
    ) {
        self.push(Severity::Error, span.start, code, message.into(), hint.into(), None);
    }

    pub(crate) fn warn(&mut self, span: Span, code: &'static str, message: impl Into<String>, hint: impl Into<String>) {
        self.push(Severity::Warning, span.start, code, message.into(), hint.into(), None);
    }

    /// A finding inside a compact text, placed on the very character.
    pub(crate) fn in_text(&mut self, severity: Severity, text: &At<String>, problem: TextProblem) {
        let literal = &self.source[text.span.start..text.span.end];
        let offset = text.span.start + source_offset(literal, problem.from);
        let caret = (!text.value.is_empty()).then(|| windowed(&text.value, problem.from, problem.to));
        self.push(severity, offset, problem.code, problem.message, problem.hint, caret);
    }

    /// Every problem of one compact text, as errors.
    pub(crate) fn all_in_text(&mut self, text: &At<String>, problems: Vec<TextProblem>) {
        for problem in problems {
            self.in_text(Severity::Error, text, problem);
        }
    }

    /// Whether there are errors enough, so that more of them would not be kept.
    pub(crate) fn is_full(&self) -> bool {
        self.found.len() >= MAX_FINDINGS && self.any_errors()
    }

    pub(crate) fn any_error_in(&self, span: Span) -> bool {
        let inside = |offset: usize| (span.start..span.end).contains(&offset);
        self.found.iter().any(|(offset, finding)| finding.severity == Severity::Error && inside(*offset))
    }

    pub(crate) fn any_of(&self, code: &str) -> bool {
        self.found.iter().any(|(_, finding)| finding.code == code)
    }

    pub(crate) fn any_errors(&self) -> bool {
        self.found.iter().any(|(_, finding)| finding.severity == Severity::Error)
    }

    /// Everything found, in the order of the text.
    pub(crate) fn finish(mut self) -> Vec<Diagnostic> {
        self.found.sort_by(|a, b| a.0.cmp(&b.0).then(b.1.severity.cmp(&a.1.severity)));
        let places = place_each(self.source, self.found.iter().map(|(offset, _)| *offset));
        self.found.into_iter().zip(places).map(|((_, finding), place)| Diagnostic { place, ..finding }).collect()
    }

    fn push(
        &mut self,
        severity: Severity,
        offset: usize,
        code: &'static str,
        message: String,
        hint: String,
        caret: Option<Caret>,
    ) {
        // A full list makes room for an error, never for another warning, so that no error is lost behind them.
        if self.found.len() >= MAX_FINDINGS && (severity == Severity::Warning || self.any_errors()) {
            return;
        }
        let place = Place { line: 1, column: 1 };
        self.found.push((offset, Diagnostic { severity, code, place, message, hint: Some(hint), caret }));
    }
}

/// The part of a compact text around the characters meant, on one line, cut where the text is long.
fn windowed(text: &str, from: usize, to: usize) -> Caret {
    let text: String = text.chars().map(|c| if c.is_control() { ' ' } else { c }).collect();
    let length = text.chars().count();
    if length <= CARET_WINDOW {
        return Caret { text, from, to };
    }
    let first = from.saturating_sub(CARET_WINDOW / 2).min(length - CARET_WINDOW);
    let shown = text.chars().skip(first).take(CARET_WINDOW).collect();
    Caret { text: shown, from: from - first, to: to.min(first + CARET_WINDOW) - first }
}
