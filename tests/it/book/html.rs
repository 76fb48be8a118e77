//! A reader of the book's page: enough of HTML for a page that a program wrote, and nothing of how it wrote it.

/// A start tag.
#[derive(Debug)]
pub(super) struct Element {
    pub(super) name: String,
    pub(super) attributes: Vec<(String, String)>,
}

impl Element {
    pub(super) fn get(&self, key: &str) -> Option<&str> {
        self.attributes.iter().find(|(k, _)| k == key).map(|(_, v)| v.as_str())
    }
}

/// Pieces of a page: tags with their angle brackets, and what stands between.
fn pieces(page: &str) -> impl Iterator<Item = &str> {
    let mut rest = page;
    std::iter::from_fn(move || {
        if rest.is_empty() {
            return None;
        }
        let end = if rest.starts_with('<') {
            rest.find('>').map_or(rest.len(), |i| i + 1)
        } else {
            rest.find('<').unwrap_or(rest.len())
        };
        let (piece, more) = rest.split_at(end);
        rest = more;
        Some(piece)
    })
}

fn element(tag: &str) -> Option<Element> {
    let inner = tag.strip_prefix('<')?.trim_end_matches(['>', '/']);
    if inner.starts_with(['/', '!']) {
        return None;
    }
    let end = inner.find(char::is_whitespace).unwrap_or(inner.len());
    let mut attributes = Vec::new();
    let mut rest = inner[end..].trim_start();
    while !rest.is_empty() {
        let name_end = rest.find(['=', ' ']).unwrap_or(rest.len());
        let name = rest[..name_end].to_owned();
        rest = &rest[name_end..];
        let value = if let Some(quoted) = rest.strip_prefix("=\"") {
            let close = quoted.find('"').expect("a closing quote");
            rest = &quoted[close + 1..];
            unescaped(&quoted[..close])
        } else {
            String::new()
        };
        attributes.push((name, value));
        rest = rest.trim_start();
    }
    Some(Element { name: inner[..end].to_owned(), attributes })
}

/// Every start tag.
pub(super) fn read(page: &str) -> Vec<Element> {
    pieces(page).filter_map(element).collect()
}

fn unescaped(text: &str) -> String {
    text.replace("&lt;", "<").replace("&gt;", ">").replace("&quot;", "\"").replace("&amp;", "&")
}

/// The words of a stretch of a page, without its style sheets.
pub(super) fn words(page: &str) -> String {
    let mut out = String::new();
    let mut style = false;
    for piece in pieces(page) {
        if piece.starts_with('<') {
            style = piece.starts_with("<style") || style && !piece.starts_with("</style");
            out.push(' ');
        } else if !style {
            out.push_str(&unescaped(piece));
        }
    }
    out.split_whitespace().collect::<Vec<_>>().join(" ")
}

/// From an element with an id to its end.
pub(super) fn inside<'p>(page: &'p str, id: &str) -> &'p str {
    let at = page.find(&format!("id=\"{id}\"")).unwrap_or_else(|| panic!("nothing at #{id}"));
    let start = page[..at].rfind('<').expect("a tag");
    let name = element(&page[start..=start + page[start..].find('>').expect("its end")]).expect("a start tag").name;
    let (open, close) = (format!("<{name}"), format!("</{name}>"));
    let (mut depth, mut place) = (0, start);
    loop {
        let next_close = place + page[place..].find(&close).expect("a closing tag");
        let next_open = page[place..].find(&open).map_or(usize::MAX, |i| place + i);
        if next_open < next_close {
            depth += 1;
            place = next_open + open.len();
        } else {
            depth -= 1;
            place = next_close + close.len();
            if depth == 0 {
                return &page[start..place];
            }
        }
    }
}

/// What stands in the first element of a kind.
pub(super) fn inside_element<'p>(page: &'p str, name: &str) -> &'p str {
    let start = page.find(&format!("<{name}")).expect("it");
    &page[start..start + page[start..].find(&format!("</{name}>")).expect("its end")]
}

/// The cells of every table row, as words.
pub(super) fn rows(page: &str) -> Vec<Vec<String>> {
    let row = |text: &str| -> Vec<String> {
        let mut cells = Vec::new();
        let mut rest = text;
        while let Some(at) = ["<td", "<th"].iter().filter_map(|t| rest.find(t)).min() {
            let start = at + rest[at..].find('>').expect("its end") + 1;
            let end = start + ["</td>", "</th>"].iter().filter_map(|t| rest[start..].find(t)).min().expect("a closing tag");
            cells.push(words(&rest[start..end]));
            rest = &rest[end..];
        }
        cells
    };
    page.split("<tr").skip(1).filter(|t| t.contains("<td")).map(|t| row(t.split("</tr>").next().unwrap_or(t))).collect()
}

/// A picture with its words.
pub(super) struct Picture {
    pub(super) label: String,
    pub(super) role: String,
    size: [f64; 2],
    texts: Vec<(String, [f64; 4])>,
}

/// Every picture of a page.
pub(super) fn pictures(page: &str) -> Vec<Picture> {
    page.split("<svg").skip(1).map(|t| picture(&format!("<svg{}", t.split("</svg>").next().unwrap_or(t)))).collect()
}

fn picture(text: &str) -> Picture {
    let all: Vec<&str> = pieces(text).collect();
    let head = element(all[0]).expect("the picture's tag");
    let number = |s: &str| s.parse::<f64>().unwrap_or_else(|e| panic!("{s}: {e}"));
    let view: Vec<f64> = head.get("viewBox").expect("a view box").split(' ').map(number).collect();
    let mut texts = Vec::new();
    for (i, piece) in all.iter().enumerate().filter(|(_, p)| p.starts_with("<text")) {
        let e = element(piece).expect("a text");
        let get = |key: &str| e.get(key).map_or_else(|| panic!("a text without {key}"), number);
        let (x, y, size, long) = (get("x"), get("y"), get("font-size"), get("textLength"));
        let before = match e.get("text-anchor") {
            Some("middle") => long / 2.0,
            Some("end") => long,
            _ => 0.0,
        };
        // The ink of capitals and digits, a little under their size.
        let (over, under) = (0.7 * size, 0.2 * size);
        let room = if e.get("transform").is_some_and(|t| t.starts_with("rotate(-90")) {
            [x - over, y - long + before, x + under, y + before]
        } else {
            [x - before, y - over, x - before + long, y + under]
        };
        texts.push((unescaped(all[i + 1]), room));
    }
    Picture {
        label: head.get("aria-label").unwrap_or_default().to_owned(),
        role: head.get("role").unwrap_or_default().to_owned(),
        size: [view[2], view[3]],
        texts,
    }
}

impl Picture {
    /// Words that cover each other, or that leave the picture.
    pub(super) fn clashes(&self) -> Vec<String> {
        const SLACK: f64 = 0.15;
        let mut wrong = Vec::new();
        for (i, (text, r)) in self.texts.iter().enumerate() {
            let [w, h] = self.size;
            if r[0] < -SLACK || r[1] < -SLACK || r[2] > w + SLACK || r[3] > h + SLACK {
                wrong.push(format!("\"{text}\" leaves {w} x {h}: {r:?}"));
            }
            for (other, s) in &self.texts[i + 1..] {
                if r[0] + SLACK < s[2] && s[0] + SLACK < r[2] && r[1] + SLACK < s[3] && s[1] + SLACK < r[3] {
                    wrong.push(format!("\"{text}\" and \"{other}\""));
                }
            }
        }
        wrong
    }
}

#[test]
fn the_reader_finds_what_is_there() {
    let page = "<div id=\"a\"><div>x &amp; y</div><table><tr><th>1</th><td class=\"n\">two <a href=\"#a\">b</a></td></tr></table></div><p>z</p>";
    assert_eq!(words(inside(page, "a")), "x & y 1 two b");
    assert_eq!(rows(page), [["1", "two b"]]);
    let text = |x: f64| format!("<text x=\"{x}\" y=\"9\" font-size=\"4\" textLength=\"6\">ab</text>");
    let svg =
        |a: f64, b: f64| format!("<svg viewBox=\"0 0 30 10\" role=\"img\" aria-label=\"l\">{}{}</svg>", text(a), text(b));
    assert_eq!(pictures(&svg(1.0, 4.0))[0].clashes().len(), 1);
    assert_eq!(pictures(&svg(1.0, 8.0))[0].clashes().len(), 0);
    assert_eq!(pictures(&svg(1.0, 26.0))[0].clashes().len(), 1);
}
