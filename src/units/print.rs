//! Lengths as makers read them: inches to the nearest mark of a tape, or millimetres.

use super::{decimal, Mm, Unit};
use std::fmt;

/// The finest mark of the rule the reader holds.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum InchFraction {
    /// 1/16 in.
    Sixteenth,
    /// 1/32 in.
    ThirtySecond,
    /// 1/64 in.
    SixtyFourth,
}

impl InchFraction {
    /// How many of it make an inch.
    #[must_use]
    pub fn parts(self) -> u32 {
        match self {
            Self::Sixteenth => 16,
            Self::ThirtySecond => 32,
            Self::SixtyFourth => 64,
        }
    }

    /// Half a mark: the largest rounding error.
    #[must_use]
    pub fn half(self) -> Mm {
        Mm::from_inches(0.5 / f64::from(self.parts()))
    }
}

/// A length rounded to a mark, with what the rounding did to it.
#[derive(Clone, Debug, PartialEq)]
pub struct RoundedInches {
    /// `26 7/8 in`, lowest terms.
    pub text: String,
    /// Rounded minus true: positive when the text says too much.
    pub error: Mm,
}

impl fmt::Display for RoundedInches {
    /// `26 7/8 in`, or `26 7/8 in (+0.12 mm)` when rounding changed it by a hundredth of a millimetre or more.
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(&self.text)?;
        let error = decimal(self.error.0, 2);
        match error.as_str() {
            "0" => Ok(()),
            negative if negative.starts_with('-') => write!(f, " ({negative} mm)"),
            positive => write!(f, " (+{positive} mm)"),
        }
    }
}

/// A length in inches to the nearest mark.
#[must_use]
pub fn inches(length: Mm, finest: InchFraction) -> RoundedInches {
    let parts = f64::from(finest.parts());
    let count = (length.inches() * parts).round();
    let error = Mm::from_inches(count / parts) - length;
    let sign = if count < 0.0 { "-" } else { "" };
    let (whole, above) = ((count.abs() / parts).floor(), count.abs() % parts);
    let (mut above, mut below) = (above as u32, finest.parts());
    while above > 0 && above % 2 == 0 {
        above /= 2;
        below /= 2;
    }
    let text = match (whole > 0.0, above > 0) {
        (true, true) => format!("{sign}{} {above}/{below} in", decimal(whole, 0)),
        (false, true) => format!("{sign}{above}/{below} in"),
        (_, false) => format!("{sign}{} in", decimal(whole, 0)),
    };
    RoundedInches { text, error }
}

/// A length in the maker's own unit, for messages: `14.8 mm`, or `26 7/8 in (+0.12 mm)` to the nearest 1/64 in.
#[must_use]
pub fn shown(length: Mm, unit: Unit) -> String {
    match unit {
        Unit::Mm => format!("{length} mm"),
        Unit::Inch => inches(length, InchFraction::SixtyFourth).to_string(),
    }
}

#[cfg(test)]
mod tests {
    use super::super::{parse_length, LengthError, MM_PER_INCH};
    use super::*;
    use proptest::prelude::{prop_assert, prop_oneof, proptest, Just, ProptestConfig};

    fn mm(text: &str) -> f64 {
        parse_length(text, None).unwrap_or_else(|e| panic!("{text}: {e}")).0
    }

    /// Every figure is the written number of inches times 25.4, worked by hand.
    #[test]
    fn the_forms_makers_write() {
        let twenty_six_and_seven_eighths = 682.625;
        for text in [
            "26 7/8 in",
            "26-7/8\"",
            "26⅞ in",
            "26 ⅞″",
            "26-⅞\"",
            "26 7/8 inches",
            "26.875in",
            "26 7⁄8 IN",
            "26 7/8''",
            "2 ft 2 7/8 in",
        ] {
            assert!((mm(text) - twenty_six_and_seven_eighths).abs() < 1e-9, "{text}: {}", mm(text));
        }
        for text in [
            "2 ft 3 1/2 in",
            "2' 3-1/2\"",
            "2′ 3½″",
            "2’3 1/2”",
            "2 feet 3.5 in.",
            "2'-3 1/2\"",
            "2'-3-1/2\"",
            "2 ft - 3½ in",
            "27 1/2 in",
        ] {
            assert!((mm(text) - 698.5).abs() < 1e-9, "{text}");
        }
        for (text, value) in [
            ("7/8 in", 22.225),
            ("18mm", 18.0),
            ("1.2 m", 1200.0),
            ("68.58 cm", 685.8),
            ("-4 mm", -4.0),
            ("−1/2 in", -12.7),
            (".5in", 12.7),
            ("3 ft", 914.4),
            ("+3 mm", 3.0),
        ] {
            assert!((mm(text) - value).abs() < 1e-9, "{text}");
        }
    }

    #[test]
    fn a_bare_figure_takes_the_file_s_unit_or_is_refused() {
        assert_eq!(parse_length("685.8", Some(Unit::Mm)), Ok(Mm(685.8)));
        assert_eq!(parse_length("27", Some(Unit::Inch)), Ok(Mm(27.0 * MM_PER_INCH)));
        assert_eq!(parse_length("1/2", Some(Unit::Inch)), Ok(Mm(12.7)));
        assert_eq!(parse_length("685.8", None), Err(LengthError::NoUnit));
    }

    #[test]
    fn what_is_no_length_says_why() {
        for (text, error) in [
            ("", LengthError::Empty),
            (" \t", LengthError::Empty),
            ("68,58 cm", LengthError::DecimalComma),
            ("1,200 mm", LengthError::DecimalComma),
            ("7/0 in", LengthError::ZeroDenominator),
            ("26 9/8 in", LengthError::FractionOverOne),
            ("26.5 7/8 in", LengthError::BrokenFraction),
            ("7.5/8 in", LengthError::BrokenFraction),
            ("7/ in", LengthError::BrokenFraction),
            ("/8 in", LengthError::BrokenFraction),
            ("nan", LengthError::NotFinite),
            ("inf", LengthError::NotFinite),
            ("12 nan", LengthError::NotFinite),
            ("18 mm 2 in", LengthError::TwoUnits("mm".into(), "in".into())),
            ("2 ft 30 mm", LengthError::TwoUnits("ft".into(), "mm".into())),
            ("2 in 3 ft", LengthError::TwoUnits("in".into(), "ft".into())),
            ("2 ft 3 in 4 in", LengthError::TwoUnits("in".into(), "in".into())),
            ("18 furlongs", LengthError::UnknownUnit("furlongs".into())),
            ("1e3 mm", LengthError::UnknownUnit("e".into())),
            ("1 200 mm", LengthError::LooseFigure("1".into())),
            ("2' 3", LengthError::LooseFigure("3".into())),
            ("mm", LengthError::NoFigure),
            ("-", LengthError::NoFigure),
            ("--3 mm", LengthError::Unexpected('-')),
            ("2'--3 in", LengthError::Unexpected('-')),
            ("2'-", LengthError::NoFigure),
            ("26-7 mm", LengthError::LooseFigure("26".into())),
            ("1.2.3 mm", LengthError::Unexpected('.')),
            ("18 mm!", LengthError::Unexpected('!')),
        ] {
            assert_eq!(parse_length(text, Some(Unit::Mm)), Err(error), "{text}");
        }
        let long = "9".repeat(400);
        assert_eq!(parse_length(&long, Some(Unit::Mm)), Err(LengthError::NotFinite));
    }

    #[test]
    fn inches_print_in_lowest_terms_with_the_signed_rounding_error() {
        for (value, finest, text) in [
            (682.625, InchFraction::Sixteenth, "26 7/8 in"),
            (682.5, InchFraction::Sixteenth, "26 7/8 in (+0.12 mm)"),
            (683.0, InchFraction::SixtyFourth, "26 57/64 in (+0.02 mm)"),
            (685.8, InchFraction::ThirtySecond, "27 in"),
            (25.3, InchFraction::Sixteenth, "1 in (+0.1 mm)"),
            (-12.7, InchFraction::Sixteenth, "-1/2 in"),
            (0.0, InchFraction::Sixteenth, "0 in"),
            (-0.1, InchFraction::Sixteenth, "0 in (+0.1 mm)"),
            (15.0, InchFraction::Sixteenth, "9/16 in (-0.71 mm)"),
        ] {
            assert_eq!(inches(Mm(value), finest).to_string(), text);
        }
    }

    proptest! {
        #![proptest_config(ProptestConfig { failure_persistence: None, ..ProptestConfig::default() })]
        #[test]
        fn printed_inches_parse_back_within_the_rounding(
            value in -20_000.0..20_000.0_f64,
            finest in prop_oneof![Just(InchFraction::Sixteenth), Just(InchFraction::ThirtySecond), Just(InchFraction::SixtyFourth)],
        ) {
            let printed = inches(Mm(value), finest);
            let back = parse_length(&printed.text, None).expect("own text");
            prop_assert!((back - Mm(value)).abs().0 <= finest.half().0 + 1e-9);
            prop_assert!((back - Mm(value) - printed.error).abs().0 < 1e-9);
        }

        #[test]
        fn printed_millimetres_parse_back_within_the_rounding(value in -20_000.0..20_000.0_f64) {
            let back = parse_length(&shown(Mm(value), Unit::Mm), None).expect("own text");
            prop_assert!((back - Mm(value)).abs().0 <= 0.005 + 1e-9);
        }

        #[test]
        fn no_text_makes_the_reader_fall_over(text in prop_oneof![".{0,30}", "[0-9/ .'\"ftimnc-]{0,20}"]) {
            if let Ok(length) = parse_length(&text, Some(Unit::Mm)) {
                prop_assert!(length.0.is_finite());
            }
        }

        #[test]
        fn feet_and_inches_add_up(feet in 0_u32..60, whole in 0_u32..12, above in 1_u32..16) {
            let text = format!("{feet}' {whole}-{above}/16\"");
            let inches = f64::from(feet * 12 + whole) + f64::from(above) / 16.0;
            prop_assert!((parse_length(&text, None).expect("well formed").0 - inches * 25.4).abs() < 1e-9);
        }
    }
}
