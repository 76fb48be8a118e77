//! Single values of a profile: lengths and numbers out of TOML.

use crate::units::{parse_length, LengthError, Mm};
use toml::de::DeValue;

/// A length as a profile writes it: `15`, `"15 mm"`, `"1 1/4 in"`; a bare number is in millimetres, a text carries its unit.
///
/// The error is `None` for what is neither a number nor a text.
pub(super) fn length(value: &DeValue<'_>) -> Result<Mm, Option<LengthError>> {
    match value {
        DeValue::String(text) => parse_length(text, None).map_err(Some),
        DeValue::Integer(_) | DeValue::Float(_) => number(value).map(Mm).ok_or(Some(LengthError::NotFinite)),
        _ => Err(None),
    }
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
