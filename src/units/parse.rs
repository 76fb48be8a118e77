//! Lengths as makers write them: `26 7/8 in`, `2' 3-1/2"`, `18mm`, `1.2 m`, `685.8`.

use super::{Mm, Unit, MM_PER_INCH};
use std::fmt;

/// Why a text is not a length.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum LengthError {
    /// Nothing but blanks.
    Empty,
    /// A comma where a dot belongs.
    DecimalComma,
    /// A figure without a unit where none can be taken for granted.
    NoUnit,
    /// Not a finite number.
    NotFinite,
    /// A fraction over zero.
    ZeroDenominator,
    /// A whole number followed by a fraction of one or more, as in `26 9/8`.
    FractionOverOne,
    /// A fraction whose parts are not whole numbers, or a decimal number followed by a fraction.
    BrokenFraction,
    /// Units that do not belong together; the two of them.
    TwoUnits(String, String),
    /// A word that is no unit of length.
    UnknownUnit(String),
    /// Two figures without a unit or a fraction between them.
    LooseFigure(String),
    /// A character that has no place in a length.
    Unexpected(char),
    /// No figure before the unit.
    NoFigure,
}

impl fmt::Display for LengthError {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Self::Empty => write!(f, "the length is empty"),
            Self::DecimalComma => {
                write!(f, "a length has a comma in it; write a dot for decimals (68.58 cm) and no thousands marks")
            }
            Self::NoUnit => write!(f, "the length has no unit; add mm, cm, m, in or ft"),
            Self::NotFinite => write!(f, "the length is not a finite number"),
            Self::ZeroDenominator => write!(f, "the fraction is over zero"),
            Self::FractionOverOne => {
                write!(f, "the fraction after the whole number is one or more; write 27 1/8, not 26 9/8")
            }
            Self::BrokenFraction => {
                write!(f, "a fraction wants whole numbers above and below, after a whole number: 26 7/8")
            }
            Self::TwoUnits(a, b) => {
                write!(f, "the units {a} and {b} do not go together; only feet then inches do: 2 ft 3 1/2 in")
            }
            Self::UnknownUnit(word) => write!(f, "`{word}` is no unit of length; use mm, cm, m, in, ft, \" or '"),
            Self::LooseFigure(figure) => {
                write!(
                    f,
                    "the figure {figure} stands without a unit or a fraction; write 2 ft 3 1/2 in, 26 7/8 in or 1200 mm"
                )
            }
            Self::Unexpected(c) => write!(f, "the character `{}` has no place in a length", c.escape_debug()),
            Self::NoFigure => write!(f, "there is no figure before the unit"),
        }
    }
}

impl std::error::Error for LengthError {}

#[derive(Clone, Debug, PartialEq)]
enum Token {
    Figure(String),
    Slash,
    Hyphen,
    Plus,
    Word(String),
}

/// Reads a length as makers write it; `default` is the unit of a figure that carries none.
///
/// # Errors
/// When the text is no length, or carries no unit and there is no default.
pub fn parse_length(text: &str, default: Option<Unit>) -> Result<Mm, LengthError> {
    let tokens = tokens(text)?;
    let (negative, mut rest) = match tokens.as_slice() {
        [] => return Err(LengthError::Empty),
        [Token::Hyphen, rest @ ..] => (true, rest),
        [Token::Plus, rest @ ..] | rest => (false, rest),
    };
    if rest.is_empty() {
        return Err(LengthError::NoFigure);
    }
    let mut total = 0.0;
    let mut feet: Option<String> = None;
    let mut last: Option<String> = None;
    while !rest.is_empty() {
        // Feet and inches are often joined by a hyphen: 2'-3 1/2".
        if let (Some(_), [Token::Hyphen, after @ ..]) = (&feet, rest) {
            rest = after;
        }
        let (value, used) = quantity(rest)?;
        rest = &rest[used..];
        let word = match rest.first() {
            Some(Token::Word(word)) => {
                rest = &rest[1..];
                Some(word.clone())
            }
            _ => None,
        };
        let factor = match (&word, default) {
            (Some(word), _) => factor(word)?,
            (None, Some(unit)) if last.is_none() && rest.is_empty() => unit.in_mm().0,
            (None, None) if last.is_none() && rest.is_empty() => return Err(LengthError::NoUnit),
            (None, _) => return Err(LengthError::LooseFigure(super::decimal(value, 6))),
        };
        if let Some(before) = last.replace(word.clone().unwrap_or_default()) {
            let now = word.unwrap_or_default();
            // Only feet then inches make one length of two figures.
            if feet.take().is_none() || !is_inch(&now) {
                return Err(LengthError::TwoUnits(before, now));
            }
        } else if word.as_deref().is_some_and(is_foot) {
            feet = word;
        }
        total += value * factor;
    }
    if !total.is_finite() {
        return Err(LengthError::NotFinite);
    }
    Ok(Mm(if negative { -total } else { total }))
}

/// A whole or decimal number, a fraction, or a whole number and a fraction; with how many tokens it took.
fn quantity(tokens: &[Token]) -> Result<(f64, usize), LengthError> {
    use Token::{Figure, Hyphen, Slash, Word};
    match tokens {
        [Figure(whole), Hyphen, Figure(above), Slash, Figure(below), ..] => Ok((mixed(whole, above, below)?, 5)),
        [Figure(whole), Figure(above), Slash, Figure(below), ..] => Ok((mixed(whole, above, below)?, 4)),
        [Figure(above), Slash, Figure(below), ..] => Ok((fraction(above, below)?, 3)),
        [Figure(_), Slash, ..] | [Slash, ..] => Err(LengthError::BrokenFraction),
        [Figure(number), ..] => Ok((figure(number)?, 1)),
        [Word(word), ..] if matches!(word.as_str(), "nan" | "inf" | "infinity") => Err(LengthError::NotFinite),
        [Word(word), ..] => factor(word).and(Err(LengthError::NoFigure)),
        [Hyphen, ..] => Err(LengthError::Unexpected('-')),
        [Token::Plus, ..] => Err(LengthError::Unexpected('+')),
        [] => Err(LengthError::NoFigure),
    }
}

fn mixed(whole: &str, above: &str, below: &str) -> Result<f64, LengthError> {
    if whole.contains('.') {
        return Err(LengthError::BrokenFraction);
    }
    let part = fraction(above, below)?;
    if part >= 1.0 {
        return Err(LengthError::FractionOverOne);
    }
    Ok(figure(whole)? + part)
}

fn fraction(above: &str, below: &str) -> Result<f64, LengthError> {
    if above.contains('.') || below.contains('.') {
        return Err(LengthError::BrokenFraction);
    }
    let below = figure(below)?;
    if below == 0.0 {
        return Err(LengthError::ZeroDenominator);
    }
    Ok(figure(above)? / below)
}

fn figure(text: &str) -> Result<f64, LengthError> {
    match text.parse::<f64>() {
        Ok(value) if value.is_finite() => Ok(value),
        Ok(_) => Err(LengthError::NotFinite),
        Err(_) => Err(LengthError::Unexpected('.')),
    }
}

fn is_foot(word: &str) -> bool {
    matches!(word, "ft" | "foot" | "feet" | "'")
}

fn is_inch(word: &str) -> bool {
    matches!(word, "in" | "inch" | "inches" | "\"")
}

/// Millimetres in one of the named unit.
fn factor(word: &str) -> Result<f64, LengthError> {
    match word {
        "mm" | "millimetre" | "millimetres" | "millimeter" | "millimeters" => Ok(1.0),
        "cm" | "centimetre" | "centimetres" | "centimeter" | "centimeters" => Ok(10.0),
        "m" | "metre" | "metres" | "meter" | "meters" => Ok(1000.0),
        _ if is_inch(word) => Ok(MM_PER_INCH),
        _ if is_foot(word) => Ok(12.0 * MM_PER_INCH),
        "nan" | "inf" | "infinity" => Err(LengthError::NotFinite),
        _ => Err(LengthError::UnknownUnit(word.to_owned())),
    }
}

fn tokens(text: &str) -> Result<Vec<Token>, LengthError> {
    let chars: Vec<char> = text.chars().flat_map(plain).collect();
    let mut tokens = Vec::new();
    let mut i = 0;
    while let Some(&c) = chars.get(i) {
        let start = i;
        i += 1;
        match c {
            _ if c.is_whitespace() => {}
            '/' => tokens.push(Token::Slash),
            '-' => tokens.push(Token::Hyphen),
            '+' => tokens.push(Token::Plus),
            '"' => tokens.push(Token::Word("\"".to_owned())),
            '\'' if chars.get(i) == Some(&'\'') => {
                i += 1;
                tokens.push(Token::Word("\"".to_owned()));
            }
            '\'' => tokens.push(Token::Word("'".to_owned())),
            ',' => return Err(LengthError::DecimalComma),
            _ if c.is_ascii_digit() || c == '.' => {
                while chars.get(i).is_some_and(|c| c.is_ascii_digit() || *c == '.') {
                    i += 1;
                }
                // A dot that ends `in.` or `ft.` is punctuation, a lone one elsewhere is not.
                if i - start == 1 && c == '.' && matches!(tokens.last(), Some(Token::Word(_))) {
                    continue;
                }
                tokens.push(Token::Figure(chars[start..i].iter().collect()));
            }
            _ if c.is_alphabetic() => {
                while chars.get(i).is_some_and(|c| c.is_alphabetic()) {
                    i += 1;
                }
                tokens.push(Token::Word(chars[start..i].iter().collect::<String>().to_lowercase()));
            }
            other => return Err(LengthError::Unexpected(other)),
        }
    }
    Ok(tokens)
}

/// Typographic characters as their plain ones: primes, quotes, dashes, the fraction slash and the ready-made fractions.
fn plain(c: char) -> Vec<char> {
    let fraction = match c {
        '½' => "1/2",
        '¼' => "1/4",
        '¾' => "3/4",
        '⅛' => "1/8",
        '⅜' => "3/8",
        '⅝' => "5/8",
        '⅞' => "7/8",
        '⅓' => "1/3",
        '⅔' => "2/3",
        '⅕' => "1/5",
        '⅖' => "2/5",
        '⅗' => "3/5",
        '⅘' => "4/5",
        '⅙' => "1/6",
        '⅚' => "5/6",
        '′' | '’' | '‘' | 'ʹ' => return vec!['\''],
        '″' | '”' | '“' | 'ʺ' => return vec!['"'],
        '−' | '–' | '‐' | '‑' => return vec!['-'],
        '⁄' | '∕' => return vec!['/'],
        _ => return vec![c],
    };
    // The blanks keep `26⅞` from reading as 267/8.
    format!(" {fraction} ").chars().collect()
}
