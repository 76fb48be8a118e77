//! A reader of comma-separated values after RFC 4180, section 2.

use super::fault::Fault;

/// Records of fields. Line ends may be CRLF or LF.
pub(super) fn records(text: &str) -> Result<Vec<Vec<String>>, Fault> {
    let mut all = Vec::new();
    let mut record = Vec::new();
    let mut field = String::new();
    let mut quoted = false;
    let mut line = 1;
    let mut chars = text.chars().peekable();
    while let Some(c) = chars.next() {
        if quoted {
            match c {
                '"' if chars.peek() == Some(&'"') => {
                    chars.next();
                    field.push('"');
                }
                '"' => quoted = false,
                c => field.push(c),
            }
            continue;
        }
        match c {
            '"' if field.is_empty() => quoted = true,
            '"' => return Err(Fault::on(line, "a quote inside a field that does not begin with one")),
            ',' => record.push(std::mem::take(&mut field)),
            '\r' if chars.peek() == Some(&'\n') => {}
            '\n' => {
                line += 1;
                record.push(std::mem::take(&mut field));
                all.push(std::mem::take(&mut record));
            }
            c => field.push(c),
        }
    }
    if quoted {
        return Err(Fault::on(line, "a quoted field is not closed: the file is cut short"));
    }
    if !field.is_empty() || !record.is_empty() {
        record.push(field);
        all.push(record);
    }
    Ok(all)
}

#[cfg(test)]
mod tests {
    use super::*;

    /// RFC 4180, section 2, rules 5 to 7.
    #[test]
    fn quoted_fields_hold_what_they_hold() {
        let read = records("a,\"b \r\nbb\",\"c,c\"\r\n\"d\"\"d\",,e").expect("readable");
        assert_eq!(read, [vec!["a", "b \r\nbb", "c,c"], vec!["d\"d", "", "e"]]);
        assert!(records("a,\"b").is_err() && records("a\"b").is_err());
    }
}
