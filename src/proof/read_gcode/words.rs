//! Lines into words: comments, line numbers, letters and numbers (NISTIR 6556, section 3.3).

use crate::proof::fault::{quoted, Fault};
use crate::proof::limits;

/// Longest line: NISTIR 6556, 3.3.
const LINE_CHARACTERS: usize = 256;
/// A number this close to an integer is one where an integer is needed: NISTIR 6556, 3.3.2.1.
const NEAR_INTEGER: f64 = 0.0001;
/// Most M words on a line: NISTIR 6556, 3.3.5.
const M_WORDS: usize = 4;

/// One line of a program.
#[derive(Clone, Debug, Default, PartialEq)]
pub(super) struct Block {
    /// The line is only a percent sign.
    pub(super) percent: bool,
    /// Comments without their parentheses.
    pub(super) comments: Vec<String>,
    /// G numbers times ten, so that G38.2 and G59.1 stay whole.
    pub(super) g: Vec<u32>,
    /// M numbers.
    pub(super) m: Vec<u32>,
    /// Other words, letter and number, each letter once.
    words: Vec<(char, f64)>,
}

impl Block {
    /// The number of a word, if the line has it.
    pub(super) fn get(&self, letter: char) -> Option<f64> {
        self.words.iter().find(|(l, _)| *l == letter).map(|(_, n)| *n)
    }

    /// The number of a word that must be a whole, positive count or zero.
    pub(super) fn whole(&self, letter: char) -> Result<Option<u32>, String> {
        self.get(letter).map(|n| integer(n).ok_or(format!("{letter} must be a whole number, not {n}"))).transpose()
    }

    /// Whether any of the letters stands on the line.
    pub(super) fn any(&self, letters: &str) -> bool {
        self.words.iter().any(|(l, _)| letters.contains(*l))
    }

    /// Whether the line commands nothing.
    pub(super) fn is_idle(&self) -> bool {
        self.g.is_empty() && self.m.is_empty() && self.words.is_empty()
    }
}

fn integer(number: f64) -> Option<u32> {
    let whole = number.round();
    ((number - whole).abs() < NEAR_INTEGER && (0.0..=1_000_000.0).contains(&whole)).then_some(whole as u32)
}

/// Reads one line without its line end.
pub(super) fn line(number: usize, text: &str) -> Result<Block, Fault> {
    let fault = |message: String| Fault::on(number, message);
    if text.len() > LINE_CHARACTERS {
        return Err(fault(format!(
            "the line has {} characters, more than the {LINE_CHARACTERS} of NISTIR 6556, 3.3",
            text.len()
        )));
    }
    let mut block = Block::default();
    if text.trim() == "%" {
        block.percent = true;
        return Ok(block);
    }
    let (bare, comments) = split_comments(text).map_err(fault)?;
    block.comments = comments;
    let mut rest = bare.as_str();
    let mut first = true;
    while let Some(letter) = rest.chars().next() {
        let (value, after) = number_after(letter, &rest[letter.len_utf8()..]).map_err(fault)?;
        rest = after;
        place(&mut block, letter, value, first).map_err(fault)?;
        first = false;
    }
    Ok(block)
}

/// Upper-case words without spaces, and the comments.
fn split_comments(text: &str) -> Result<(String, Vec<String>), String> {
    let (mut bare, mut comments, mut open) = (String::with_capacity(text.len()), Vec::new(), None::<String>);
    for c in text.chars() {
        match (c, open.as_mut()) {
            ('(', Some(_)) => return Err("a comment inside a comment".to_owned()),
            (')', Some(_)) => comments.extend(open.take()),
            (_, Some(comment)) => comment.push(c),
            ('(', None) => open = Some(String::new()),
            (')', None) => return Err("a comment is closed that was not opened".to_owned()),
            (' ' | '\t', None) => {}
            (_, None) => bare.push(c.to_ascii_uppercase()),
        }
    }
    if open.is_some() {
        return Err("a comment is not closed on its line".to_owned());
    }
    Ok((bare, comments))
}

/// The number that follows a letter: sign, digits, at most one point, no exponent (NISTIR 6556, 3.3.2.1).
fn number_after(letter: char, rest: &str) -> Result<(f64, &str), String> {
    if !"FGIJKLMNPQRSTXYZ".contains(letter) {
        return Err(format!("unknown word {}", quoted(&format!("{letter}{rest}"))));
    }
    let end = rest
        .char_indices()
        .find(|(i, c)| !(c.is_ascii_digit() || *c == '.' || (*i == 0 && "+-".contains(*c))))
        .map_or(rest.len(), |(i, _)| i);
    let (text, after) = rest.split_at(end);
    let digits = text.bytes().filter(u8::is_ascii_digit).count();
    let points = text.bytes().filter(|b| *b == b'.').count();
    let value = if digits == 0 || points > 1 { None } else { text.parse::<f64>().ok() };
    match value {
        Some(value) if value.is_finite() && value.abs() <= limits::COORDINATE * 10.0 => Ok((value, after)),
        _ => Err(format!("word {letter} has no usable number: {}", quoted(rest))),
    }
}

fn place(block: &mut Block, letter: char, value: f64, first: bool) -> Result<(), String> {
    match letter {
        'N' => {
            // NISTIR 6556, 3.3.1: at the start of the line, 0 to 99999.
            let fits = first && value.fract() == 0.0 && (0.0..=99_999.0).contains(&value);
            return if fits {
                Ok(())
            } else {
                Err(format!("line number N{value} is out of place or not within 0 to 99999"))
            };
        }
        'G' => block.g.push(integer(value * 10.0).ok_or(format!("unknown word G{value}"))?),
        'M' => {
            block.m.push(integer(value).ok_or(format!("unknown word M{value}"))?);
            if block.m.len() > M_WORDS {
                return Err(format!("more than {M_WORDS} M words on a line"));
            }
        }
        _ if block.get(letter).is_some() => return Err(format!("word {letter} stands twice on a line")),
        _ => block.words.push((letter, value)),
    }
    Ok(())
}
