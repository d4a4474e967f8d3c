//! Reads typed values out of the tree; what does not fit becomes a finding and the reading goes on.

use super::tree::{Field, Kind, Node};
use crate::findings::{At, Findings, Span};
use crate::nearest::did_you_mean;

/// The longest text taken, in bytes: a line of words or a long pattern has a few hundred.
const MAX_TEXT: usize = 8 << 10;
/// Fields a struct may have, or numbers a map, before it is not looked at further.
const MAX_FIELDS: usize = 300;

/// Values by number, in the order written.
pub(crate) type Numbered<T> = Vec<(At<i64>, T)>;

/// The fields of one struct.
pub(crate) struct Fields<'n> {
    /// Where the struct stands.
    pub(crate) span: Span,
    /// What it is, for messages: "a shape".
    owner: &'static str,
    fields: &'n [Field],
}

impl<'n> Fields<'n> {
    /// The struct in `node`; reports fields that are unknown or written twice.
    pub(crate) fn of(node: &'n Node, owner: &'static str, known: &[&str], findings: &mut Findings<'_>) -> Option<Self> {
        let Kind::Struct { fields, .. } = &node.kind else {
            wrong_kind(node, &format!("{owner} is fields in ( )"), "(field: value, …)", findings);
            return None;
        };
        for (index, field) in fields.iter().enumerate().take(MAX_FIELDS) {
            if findings.is_full() {
                break;
            }
            if !known.contains(&field.name.as_str()) {
                let hint = did_you_mean(&field.name, known, "");
                findings.error(field.span, "unknown-field", format!("{owner} has no field {}", field.name), hint);
            } else if fields[..index].iter().any(|earlier| earlier.name == field.name) {
                let message = format!("{} is written twice", field.name);
                findings.error(field.span, "duplicate-field", message, "keep one of the two");
            }
        }
        Some(Self { span: node.span, owner, fields })
    }

    /// A field's value; `None` when it is left out or written as `None`.
    pub(crate) fn get(&self, name: &str) -> Option<&'n Node> {
        let field = self.fields.iter().find(|field| field.name == name)?;
        Some(&field.value).filter(|node| !matches!(&node.kind, Kind::Scalar(word) if word == "None"))
    }

    /// A field's value, read by `read`.
    pub(crate) fn read<T>(
        &self,
        name: &str,
        findings: &mut Findings<'_>,
        read: impl Fn(&'n Node, &str, &mut Findings<'_>) -> Option<T>,
    ) -> Option<T> {
        read(self.get(name)?, name, findings)
    }

    /// As [`Self::read`], but leaving the field out is an error.
    pub(crate) fn need<T>(
        &self,
        name: &str,
        findings: &mut Findings<'_>,
        read: impl Fn(&'n Node, &str, &mut Findings<'_>) -> Option<T>,
    ) -> Option<T> {
        if self.get(name).is_none() {
            let message = format!("{} needs {name}", self.owner);
            findings.error(self.span, "missing-field", message, format!("add {name}: …"));
        }
        self.read(name, findings, read)
    }
}

/// A quoted text.
pub(crate) fn text(node: &Node, name: &str, findings: &mut Findings<'_>) -> Option<At<String>> {
    match &node.kind {
        Kind::Text(value) if value.len() > MAX_TEXT => {
            let message = format!("this text is {} bytes long; at most {MAX_TEXT} are read", value.len());
            findings.error(node.span, "too-many", message, "write it as several shorter texts");
            None
        }
        Kind::Text(value) => Some(At { value: value.clone(), span: node.span }),
        Kind::Scalar(word) => {
            wrong_kind(node, &format!("{name} is a text in quotes"), &format!("\"{word}\""), findings);
            None
        }
        _ => {
            wrong_kind(node, &format!("{name} is a text in quotes"), "\"…\", without brackets", findings);
            None
        }
    }
}

/// A number, whole or not; `NaN` and `inf` are numbers to RON.
pub(crate) fn number(node: &Node, name: &str, findings: &mut Findings<'_>) -> Option<At<f64>> {
    let value = match &node.kind {
        Kind::Scalar(word) => ron::from_str::<f64>(word).ok(),
        _ => None,
    };
    if value.is_none() {
        wrong_kind(node, &format!("{name} is a number"), "it without quotes, as in 96 or 72.5", findings);
    }
    value.map(|value| At { value, span: node.span })
}

/// A whole number.
pub(crate) fn whole(node: &Node, name: &str, findings: &mut Findings<'_>) -> Option<At<i64>> {
    let value = match &node.kind {
        Kind::Scalar(word) => ron::from_str::<i64>(word).ok(),
        _ => None,
    };
    if value.is_none() {
        wrong_kind(node, &format!("{name} is a whole number"), "it without quotes or point, as in 2", findings);
    }
    value.map(|value| At { value, span: node.span })
}

/// `true` or `false`.
pub(crate) fn flag(node: &Node, name: &str, findings: &mut Findings<'_>) -> Option<At<bool>> {
    let value = match &node.kind {
        Kind::Scalar(word) => word.parse::<bool>().ok(),
        _ => None,
    };
    if value.is_none() {
        wrong_kind(node, &format!("{name} is true or false"), "true or false, without quotes", findings);
    }
    value.map(|value| At { value, span: node.span })
}

/// The values of a list.
pub(crate) fn list<'n>(node: &'n Node, name: &str, findings: &mut Findings<'_>) -> Option<&'n [Node]> {
    if let Kind::List(items) = &node.kind {
        return Some(items);
    }
    wrong_kind(node, &format!("{name} is a list in [ ]"), "[…, …], also around a single value", findings);
    None
}

/// A list whose items are read one by one; those that don't fit are left out.
pub(crate) fn list_of<'n, T>(
    item: impl Fn(&'n Node, &str, &mut Findings<'_>) -> Option<T>,
) -> impl Fn(&'n Node, &str, &mut Findings<'_>) -> Option<At<Vec<T>>> {
    move |node, name, findings| {
        let items = list(node, name, findings)?;
        let one = format!("each of {name}");
        let value = items.iter().filter_map(|node| item(node, &one, findings)).collect();
        Some(At { value, span: node.span })
    }
}

/// A map from whole numbers, in the order written; a number written twice is an error.
pub(crate) fn numbered<'n, T>(
    item: impl Fn(&'n Node, &str, &mut Findings<'_>) -> Option<T>,
) -> impl Fn(&'n Node, &str, &mut Findings<'_>) -> Option<Numbered<T>> {
    move |node, name, findings| {
        let pairs = match &node.kind {
            Kind::Map(pairs) => pairs,
            _ => {
                wrong_kind(node, &format!("{name} is numbers and values in {{ }}"), "{ 2: …, 3: … }", findings);
                return None;
            }
        };
        let mut read: Numbered<T> = Vec::new();
        for (key, value) in pairs.iter().take(MAX_FIELDS) {
            let key = whole(key, &format!("each key of {name}"), findings);
            let value = item(value, name, findings);
            let (Some(key), Some(value)) = (key, value) else { continue };
            if read.iter().any(|(earlier, _)| earlier.value == key.value) {
                let message = format!("{name} has {} twice", key.value);
                findings.error(key.span, "duplicate-field", message, "keep one of the two");
                continue;
            }
            read.push((key, value));
        }
        Some(read)
    }
}

fn wrong_kind(node: &Node, wanted: &str, example: &str, findings: &mut Findings<'_>) {
    let found = match &node.kind {
        Kind::Struct { .. } => "fields in ( )",
        Kind::Tuple => "values in ( )",
        Kind::List(_) => "a list in [ ]",
        Kind::Map(_) => "a map in { }",
        Kind::Text(_) => "a text in quotes",
        Kind::Scalar(word) if word.len() <= 32 => word,
        Kind::Scalar(_) => "something else",
    };
    findings.error(node.span, "wrong-kind", format!("{wanted}; found {found}"), format!("write {example}"));
}
