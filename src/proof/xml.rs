//! A small reader of XML: elements, attributes, text and comments; no document types, no entities but the five predefined ones.

use super::fault::{quoted, Fault};
use super::limits;

/// Most attributes of one element.
const ATTRIBUTES: usize = 64;

/// What the text holds, piece by piece.
#[derive(Debug, PartialEq)]
pub(super) enum Piece<'a> {
    /// `<name a="b">`; `closed` for `<name/>`.
    Open { name: &'a str, attributes: Vec<(&'a str, String)>, closed: bool },
    /// `</name>`.
    Close(&'a str),
    /// Words between elements, or a comment.
    Words(String),
}

/// Reads a text from its start.
#[derive(Debug)]
pub(super) struct Reader<'a> {
    rest: &'a str,
    line: usize,
    stack: Vec<&'a str>,
    rooted: bool,
}

impl<'a> Reader<'a> {
    pub(super) fn new(text: &'a str) -> Self {
        Self { rest: text, line: 1, stack: Vec::new(), rooted: false }
    }

    /// Line of the next piece.
    pub(super) fn line(&self) -> usize {
        self.line
    }

    fn fault<T>(&self, message: impl Into<String>) -> Result<T, Fault> {
        Err(Fault::on(self.line, message))
    }

    fn take(&mut self, bytes: usize) -> &'a str {
        let (head, tail) = self.rest.split_at(bytes);
        self.line += head.bytes().filter(|b| *b == b'\n').count();
        self.rest = tail;
        head
    }

    /// Takes up to and including `end`.
    fn until(&mut self, end: &str) -> Result<&'a str, Fault> {
        let Some(at) = self.rest.find(end) else {
            return self.fault(format!("nothing closes with {end}: the file is cut short"));
        };
        let head = self.take(at);
        self.take(end.len());
        Ok(head)
    }

    /// The next piece; `None` at a proper end.
    pub(super) fn next(&mut self) -> Result<Option<Piece<'a>>, Fault> {
        loop {
            if self.rest.is_empty() {
                return match self.stack.last() {
                    Some(open) => self.fault(format!("element {} is not closed: the file is cut short", quoted(open))),
                    None if !self.rooted => self.fault("the file holds no element"),
                    None => Ok(None),
                };
            }
            if self.rest.starts_with("<?") {
                self.until("?>")?;
            } else if self.rest.starts_with("<!--") {
                self.take(4);
                return Ok(Some(Piece::Words(self.until("-->")?.to_owned())));
            } else if self.rest.starts_with("<!") {
                return self.fault("a document type or data section");
            } else if self.rest.starts_with("</") {
                self.take(2);
                let name = self.until(">")?.trim_end();
                if self.stack.pop() != Some(name) {
                    return self.fault(format!("{} closes what is not open", quoted(name)));
                }
                return Ok(Some(Piece::Close(name)));
            } else if self.rest.starts_with('<') {
                self.take(1);
                return self.open().map(Some);
            } else {
                let end = self.rest.find('<').unwrap_or(self.rest.len());
                let words = self.take(end);
                if !words.trim().is_empty() {
                    if self.stack.is_empty() {
                        return self.fault("words outside the root element");
                    }
                    return Ok(Some(Piece::Words(self.plain(words)?)));
                }
            }
        }
    }

    fn open(&mut self) -> Result<Piece<'a>, Fault> {
        if self.stack.is_empty() && self.rooted {
            return self.fault("a second root element");
        }
        self.rooted = true;
        let name = self.name()?;
        let mut attributes: Vec<(&str, String)> = Vec::new();
        loop {
            self.space();
            if self.rest.starts_with("/>") {
                self.take(2);
                return Ok(Piece::Open { name, attributes, closed: true });
            }
            if self.rest.starts_with('>') {
                self.take(1);
                if self.stack.len() >= limits::XML_DEPTH {
                    return self.fault(format!("elements nested deeper than {}", limits::XML_DEPTH));
                }
                self.stack.push(name);
                return Ok(Piece::Open { name, attributes, closed: false });
            }
            let key = self.name()?;
            self.space();
            if !self.rest.starts_with('=') {
                return self.fault(format!("attribute {} without a value", quoted(key)));
            }
            self.take(1);
            self.space();
            let quote = self.rest.get(..1).filter(|q| matches!(*q, "\"" | "'"));
            let Some(quote) = quote else { return self.fault(format!("attribute {} without quotes", quoted(key))) };
            self.take(1);
            let value = self.until(quote)?;
            if attributes.len() >= ATTRIBUTES || attributes.iter().any(|(k, _)| *k == key) {
                return self.fault(format!("attribute {} is one too many", quoted(key)));
            }
            attributes.push((key, self.plain(value)?));
        }
    }

    fn space(&mut self) {
        let end = self.rest.find(|c: char| !c.is_ascii_whitespace()).unwrap_or(self.rest.len());
        self.take(end);
    }

    fn name(&mut self) -> Result<&'a str, Fault> {
        let end = self
            .rest
            .find(|c: char| !(c.is_ascii_alphanumeric() || matches!(c, '-' | '_' | ':' | '.')))
            .unwrap_or(self.rest.len());
        if end == 0 {
            return self.fault(format!("a name was expected before {}", quoted(self.rest)));
        }
        Ok(self.take(end))
    }

    fn plain(&self, text: &str) -> Result<String, Fault> {
        let mut out = String::with_capacity(text.len());
        let mut rest = text;
        while let Some(at) = rest.find('&') {
            out.push_str(&rest[..at]);
            rest = &rest[at..];
            let known = [
                ("&amp;", '&'),
                ("&lt;", '<'),
                ("&gt;", '>'),
                ("&quot;", '"'),
                ("&apos;", '\''),
                ("&#39;", '\''),
                ("&#34;", '"'),
            ];
            let Some((name, c)) = known.iter().find(|(name, _)| rest.starts_with(name)) else {
                return self.fault(format!("entity {} is not one of the predefined ones", quoted(rest)));
            };
            out.push(*c);
            rest = &rest[name.len()..];
        }
        out.push_str(rest);
        Ok(out)
    }
}
