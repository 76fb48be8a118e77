//! Comma-separated values as RFC 4180 has them: CRLF after every record, quotes where a field needs them.

/// A table as bytes; the first record names the columns.
pub(super) fn table(columns: &[&str], rows: &[Vec<String>]) -> Vec<u8> {
    let mut out = String::new();
    record(&mut out, columns.iter().copied());
    for row in rows {
        record(&mut out, row.iter().map(String::as_str));
    }
    out.into_bytes()
}

fn record<'a>(out: &mut String, fields: impl Iterator<Item = &'a str>) {
    for (i, field) in fields.enumerate() {
        if i > 0 {
            out.push(',');
        }
        if field.contains([',', '"', '\r', '\n']) {
            out.push('"');
            out.push_str(&field.replace('"', "\"\""));
            out.push('"');
        } else {
            out.push_str(field);
        }
    }
    out.push_str("\r\n");
}

#[cfg(test)]
mod tests {
    use super::*;

    /// The examples of RFC 4180, section 2, rules 5 to 7.
    #[test]
    fn fields_are_quoted_when_they_must_be() {
        let row = ["aaa", "b \r\nbb", "c,cc", "b\"bb", ""].map(str::to_owned).to_vec();
        let bytes = table(&["a", "b", "c", "d", "e"], &[row]);
        assert_eq!(String::from_utf8(bytes).unwrap(), "a,b,c,d,e\r\naaa,\"b \r\nbb\",\"c,cc\",\"b\"\"bb\",\r\n");
    }
}
