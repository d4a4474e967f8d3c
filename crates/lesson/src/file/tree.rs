//! RON as a tree that knows where each part was written.
//!
//! `ron` judges the syntax and reads the scalars (see [`super::syntax`]); it gives no places to what it reads, so the
//! structure is walked once more here. Keeping every field, known or not, in order and with duplicates, is what lets
//! the checks report everything at once.

#[cfg(test)]
mod tests;

use crate::findings::Span;

/// One value.
#[derive(Clone, Debug)]
pub(crate) struct Node {
    pub(crate) span: Span,
    pub(crate) kind: Kind,
}

/// What a value is.
#[derive(Clone, Debug)]
pub(crate) enum Kind {
    /// `Name(field: value, …)`; `()` is one without fields.
    Struct { name: Option<String>, fields: Vec<Field> },
    /// `(value, …)` or `Name(value, …)`, of which a lesson has none.
    Tuple,
    /// `[value, …]`
    List(Vec<Node>),
    /// `{key: value, …}`
    Map(Vec<(Node, Node)>),
    /// A string, unescaped.
    Text(String),
    /// Anything else, as written: a number, a bare name, a character.
    Scalar(String),
}

/// A field of a struct.
#[derive(Clone, Debug)]
pub(crate) struct Field {
    pub(crate) name: String,
    pub(crate) span: Span,
    pub(crate) value: Node,
}

/// Brackets open at once. A lesson needs ten; everything that walks the tree may recurse safely.
pub(crate) const MAX_DEPTH: usize = 32;

/// Values a lesson may be made of: several times what the other limits leave room for.
pub(crate) const MAX_VALUES: usize = 40_000;

/// Why the walk stopped, and at which byte.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) enum Stop {
    /// Brackets nest deeper than [`MAX_DEPTH`].
    TooDeep(usize),
    /// There are more than [`MAX_VALUES`] values.
    TooMany(usize),
    /// No sense in this; `ron` says it better.
    Syntax(usize),
}

/// The tree of a text.
pub(crate) fn parse(text: &str) -> Result<Node, Stop> {
    let mut walk = Walk { text, at: 0, depth: 0, values: 0 };
    walk.skip_attributes()?;
    let root = walk.value()?;
    walk.skip_blank();
    if walk.at == text.len() { Ok(root) } else { Err(Stop::Syntax(walk.at)) }
}

/// The first byte from `at` on that is no blank and in no comment.
pub(crate) fn past_blank(text: &str, at: usize) -> usize {
    let mut walk = Walk { text, at, depth: 0, values: 0 };
    walk.skip_blank();
    walk.at
}

struct Walk<'t> {
    text: &'t str,
    at: usize,
    depth: usize,
    values: usize,
}

impl<'t> Walk<'t> {
    fn rest(&self) -> &'t str {
        &self.text[self.at..]
    }

    fn eat(&mut self, token: &str) -> bool {
        let found = self.rest().starts_with(token);
        if found {
            self.at += token.len();
        }
        found
    }

    /// Skips blanks, `// …` and nested `/* … */`.
    fn skip_blank(&mut self) {
        loop {
            let rest = self.rest();
            self.at += rest.len() - rest.trim_start().len();
            if self.rest().starts_with("//") {
                self.at += self.rest().find('\n').unwrap_or(self.rest().len());
            } else if self.rest().starts_with("/*") {
                self.skip_block_comment();
            } else {
                return;
            }
        }
    }

    fn skip_block_comment(&mut self) {
        let mut depth = 0_usize;
        loop {
            if self.eat("/*") {
                depth += 1;
            } else if self.eat("*/") {
                depth -= 1;
                if depth == 0 {
                    return;
                }
            } else {
                let Some(c) = self.rest().chars().next() else { return };
                self.at += c.len_utf8();
            }
        }
    }

    /// Skips `#![enable(…)]` at the head of the file.
    fn skip_attributes(&mut self) -> Result<(), Stop> {
        self.skip_blank();
        while self.rest().starts_with("#!") {
            self.at += self.rest().find(']').ok_or(Stop::Syntax(self.at))? + 1;
            self.skip_blank();
        }
        Ok(())
    }

    fn value(&mut self) -> Result<Node, Stop> {
        self.skip_blank();
        let start = self.at;
        self.values += 1;
        if self.values > MAX_VALUES {
            return Err(Stop::TooMany(start));
        }
        let kind = match self.rest().chars().next() {
            Some('(') => self.parens(None)?,
            Some('[') => Kind::List(self.sequence("[", "]", Self::value)?),
            Some('{') => Kind::Map(self.sequence("{", "}", Self::pair)?),
            Some('"') => self.quoted()?,
            Some('\'') => self.character()?,
            Some(_) => self.word()?,
            None => return Err(Stop::Syntax(start)),
        };
        Ok(Node { span: Span { start, end: self.at }, kind })
    }

    fn sequence<T>(
        &mut self,
        open: &str,
        close: &str,
        item: impl Fn(&mut Self) -> Result<T, Stop>,
    ) -> Result<Vec<T>, Stop> {
        let mut items = Vec::new();
        if self.depth == MAX_DEPTH {
            return Err(Stop::TooDeep(self.at));
        }
        self.depth += 1;
        self.eat(open);
        loop {
            self.skip_blank();
            if self.eat(close) {
                self.depth -= 1;
                return Ok(items);
            }
            items.push(item(self)?);
            self.skip_blank();
            if !self.eat(",") && !self.rest().starts_with(close) {
                return Err(Stop::Syntax(self.at));
            }
        }
    }

    fn pair(&mut self) -> Result<(Node, Node), Stop> {
        let key = self.value()?;
        self.skip_blank();
        if !self.eat(":") {
            return Err(Stop::Syntax(self.at));
        }
        Ok((key, self.value()?))
    }

    fn parens(&mut self, name: Option<String>) -> Result<Kind, Stop> {
        let start = self.at;
        self.eat("(");
        self.skip_blank();
        let names_fields = self.rest().starts_with(')') || {
            self.bare();
            self.skip_blank();
            self.rest().starts_with(':')
        };
        self.at = start;
        if names_fields {
            return Ok(Kind::Struct { name, fields: self.sequence("(", ")", Self::field)? });
        }
        let mut values = self.sequence("(", ")", Self::value)?;
        // Optional values are written plainly, yet RON lets them be wrapped: `Some(x)` means x.
        match values.pop() {
            Some(wrapped) if name.as_deref() == Some("Some") && values.is_empty() => Ok(wrapped.kind),
            _ => Ok(Kind::Tuple),
        }
    }

    fn field(&mut self) -> Result<Field, Stop> {
        self.skip_blank();
        let start = self.at;
        let name = self.bare().trim_start_matches("r#").to_owned();
        let span = Span { start, end: self.at };
        self.skip_blank();
        if name.is_empty() || !self.eat(":") {
            return Err(Stop::Syntax(self.at));
        }
        Ok(Field { name, span, value: self.value()? })
    }

    /// A run of characters that is no punctuation, blank, quote or comment.
    fn bare(&mut self) -> &'t str {
        let rest = self.rest();
        let stops = |(at, c): &(usize, char)| {
            c.is_whitespace()
                || matches!(c, '(' | ')' | '[' | ']' | '{' | '}' | ',' | ':' | '"' | '\'')
                || rest[*at..].starts_with("//")
                || rest[*at..].starts_with("/*")
        };
        let length = rest.char_indices().find(stops).map_or(rest.len(), |(at, _)| at);
        self.at += length;
        &rest[..length]
    }

    fn word(&mut self) -> Result<Kind, Stop> {
        let start = self.at;
        let word = self.bare();
        if word.is_empty() {
            return Err(Stop::Syntax(start));
        }
        match self.rest().chars().next() {
            Some('"') if word.starts_with('r') && word[1..].bytes().all(|byte| byte == b'#') => {
                self.at = start;
                return self.raw();
            }
            Some('"') if word.starts_with('b') => {
                self.at = start + word.len();
                match word.strip_prefix("br") {
                    Some(hashes) => self.raw_body(hashes)?,
                    None => self.quoted_body()?,
                }
                return Ok(Kind::Scalar(self.text[start..self.at].to_owned()));
            }
            Some('\'') => {
                self.character()?;
                return Ok(Kind::Scalar(self.text[start..self.at].to_owned()));
            }
            _ => {}
        }
        let end = self.at;
        self.skip_blank();
        if self.rest().starts_with('(') {
            return self.parens(Some(word.to_owned()));
        }
        self.at = end;
        Ok(Kind::Scalar(word.to_owned()))
    }

    fn quoted(&mut self) -> Result<Kind, Stop> {
        let start = self.at;
        self.quoted_body()?;
        self.unescaped(start)
    }

    fn quoted_body(&mut self) -> Result<(), Stop> {
        let start = self.at;
        let mut escaped = false;
        for (at, c) in self.rest().char_indices().skip(1) {
            match c {
                _ if escaped => escaped = false,
                '\\' => escaped = true,
                '"' => {
                    self.at = start + at + 1;
                    return Ok(());
                }
                _ => {}
            }
        }
        Err(Stop::Syntax(start))
    }

    fn raw(&mut self) -> Result<Kind, Stop> {
        let start = self.at;
        self.at += 1;
        let hashes = self.rest().len() - self.rest().trim_start_matches('#').len();
        let hashes = &self.rest()[..hashes];
        self.at += hashes.len();
        self.raw_body(hashes)?;
        self.unescaped(start)
    }

    /// From the opening quote of a raw string to past its end.
    fn raw_body(&mut self, hashes: &str) -> Result<(), Stop> {
        let start = self.at;
        let close = format!("\"{hashes}");
        let body = &self.rest()[1..];
        self.at += 1 + body.find(&close).ok_or(Stop::Syntax(start))? + close.len();
        Ok(())
    }

    fn unescaped(&self, start: usize) -> Result<Kind, Stop> {
        ron::from_str(&self.text[start..self.at]).map(Kind::Text).map_err(|_| Stop::Syntax(start))
    }

    fn character(&mut self) -> Result<Kind, Stop> {
        let start = self.at;
        let mut escaped = false;
        for (at, c) in self.rest().char_indices().skip(1) {
            match c {
                _ if escaped => escaped = false,
                '\\' => escaped = true,
                '\'' if at > 1 => {
                    self.at = start + at + 1;
                    return Ok(Kind::Scalar(self.text[start..self.at].to_owned()));
                }
                _ => {}
            }
        }
        Err(Stop::Syntax(start))
    }
}
