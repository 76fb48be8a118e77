//! Single values of a profile: lengths and numbers out of TOML.

use crate::units::{Mm, Unit};
use toml::de::DeValue;

/// A length as a profile writes it: `15`, `"15 mm"`, `"1/2 in"`, `"1 1/4 in"`; a bare number is in millimetres.
///
/// The one place where profiles read lengths.
pub(super) fn length(value: &DeValue<'_>) -> Option<Mm> {
    let DeValue::String(text) = value else { return number(value).map(Mm) };
    let text = text.trim();
    let (count, unit) = if let Some(count) = text.strip_suffix("mm") {
        (count, Unit::Mm)
    } else if let Some(count) = text.strip_suffix("in") {
        (count, Unit::Inch)
    } else {
        return None;
    };
    let mut total = 0.0;
    let mut parts = 0;
    for part in count.split_whitespace() {
        if parts == 1 && (total < 0.0 || part.starts_with('-')) {
            return None;
        }
        total += match part.split_once('/') {
            Some((upper, lower)) => upper.parse::<f64>().ok()? / lower.parse::<f64>().ok()?,
            None => part.parse::<f64>().ok()?,
        };
        parts += 1;
    }
    let length = unit.in_mm() * total;
    (matches!(parts, 1 | 2) && length.0.is_finite()).then_some(length)
}

/// A finite number, whole or with decimals.
pub(super) fn number(value: &DeValue<'_>) -> Option<f64> {
    let number = match value {
        DeValue::Integer(whole) => i64::from_str_radix(whole.as_str(), whole.radix()).ok()? as f64,
        DeValue::Float(decimal) => decimal.as_str().parse::<f64>().ok()?,
        _ => return None,
    };
    number.is_finite().then_some(number)
}

/// How a message calls a value's type.
pub(super) fn type_name(value: &DeValue<'_>) -> &'static str {
    match value {
        DeValue::String(_) => "a text",
        DeValue::Integer(_) => "a whole number",
        DeValue::Float(_) => "a number",
        DeValue::Boolean(_) => "true or false",
        DeValue::Datetime(_) => "a date",
        DeValue::Array(_) => "a list",
        DeValue::Table(_) => "a table",
    }
}
