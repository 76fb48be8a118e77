"""The build book, read by others: HTML by html5lib, PDF by pypdf, the page as a person sees it by a headless Chromium with axe.

Chromium is looked for as `chromium`, `chromium-browser` or `google-chrome`; where there is none, that part is left out and said so.
The same overlaps are then still looked for from the widths of the typeface, by the Rust tests.
"""

import shutil
from pathlib import Path

import html5lib
from pypdf import PdfReader

MM = 25.4 / 72.0
SIZES = {"phone": (390, 844), "desktop": (1280, 900), "print": (700, 1000)}
NAMES = ["book.html", "templates-a4.pdf", "templates-letter.pdf"]


def read(report, pack: Path) -> None:
    page = pack / "book.html"
    for name in NAMES:
        report.check(name, "is there", (pack / name).is_file())
    report.guard("book.html", markup, report, page)
    for name, size in [("templates-a4.pdf", (210.0, 297.0)), ("templates-letter.pdf", (215.9, 279.4))]:
        report.guard(name, paper, report, pack / name, name, size)
    chromium = next(filter(None, map(shutil.which, ["chromium", "chromium-browser", "google-chrome"])), None)
    if chromium is None:
        print("no Chromium on this machine: the book was not looked at in a browser")
        return
    report.guard("book.html", browser, report, page, chromium)


def markup(report, page: Path) -> None:
    """Valid HTML: the parser of the living standard finds nothing to mend."""
    parser = html5lib.HTMLParser(strict=False, namespaceHTMLElements=False)
    tree = parser.parse(page.read_text(encoding="utf-8"))
    report.check("book.html", "no parse error", not parser.errors, str(parser.errors[:3]))
    ids = [e.get("id") for e in tree.iter() if e.get("id")]
    report.check("book.html", "ids are unique", len(ids) == len(set(ids)))


def paper(report, path: Path, name: str, size: tuple) -> None:
    """Check lines of every page, in the file's own coordinates."""
    pages = PdfReader(path).pages
    report.check(name, "has pages", len(pages) > 0)
    sizes = [(float(p.mediabox.width) * MM, float(p.mediabox.height) * MM) for p in pages]
    report.check(name, "paper size", all(abs(w - size[0]) < 0.01 and abs(h - size[1]) < 0.01 for w, h in sizes))
    worst = 0.0
    for page in pages:
        across, up = [], []
        start = None
        for operands, operator in page.get_contents().operations:
            if operator == b"m":
                start = [float(v) * MM for v in operands]
            elif operator == b"l" and start:
                end = [float(v) * MM for v in operands]
                dx, dy = abs(end[0] - start[0]), abs(end[1] - start[1])
                if dy < 0.001:
                    across.append(dx)
                if dx < 0.001:
                    up.append(dy)
        for lengths in (across, up):
            worst = max(worst, min((abs(length - 100.0) for length in lengths), default=100.0))
    report.check(name, "100 mm check lines both ways on every page, within 0.1 mm", worst <= 0.1, f"{worst:.4f} mm off")
    print(f"{name}: {len(pages)} pages, check lines at most {worst:.4f} mm off")


# Boxes of every piece of words that is drawn, with what is written there; those of one inline run share a line.
WORDS = """() => {
  const out = [];
  const walk = document.createTreeWalker(document.body, NodeFilter.SHOW_TEXT);
  let n;
  while ((n = walk.nextNode())) {
    if (!n.data.trim()) continue;
    const p = n.parentElement;
    if (p.closest('title,style')) continue;
    const svg = p.closest('svg');
    if (svg) {
      const r = p.getBoundingClientRect();
      if (r.width && r.height) out.push([r.left, r.top, r.right, r.bottom, n.data, 1]);
    } else {
      const range = document.createRange();
      range.selectNodeContents(n);
      for (const r of range.getClientRects()) {
        if (r.width > 1 && r.height > 1) out.push([r.left, r.top, r.right, r.bottom, n.data.trim().slice(0, 40), 0]);
      }
    }
  }
  return out;
}"""


def clashes(boxes: list) -> list:
    """Pairs of words that share ink: each box taken without the air that a typeface has over capitals and under the line."""
    ink = []
    for left, top, right, bottom, text, drawn in boxes:
        air = 0.22 * min(bottom - top, right - left) if drawn else 0.22 * (bottom - top)
        ink.append((top + air, bottom - air, left + 0.5, right - 0.5, text))
    ink.sort()
    found = []
    for i, (top, bottom, left, right, text) in enumerate(ink):
        for other in ink[i + 1:]:
            if other[0] >= bottom:
                break
            if other[2] < right and left < other[3]:
                found.append((text, other[4]))
    return found


def browser(report, page: Path, chromium: str) -> None:
    from axe_playwright_python.sync_playwright import Axe
    from playwright.sync_api import sync_playwright

    with sync_playwright() as p:
        engine = p.chromium.launch(executable_path=chromium, args=["--no-sandbox"])
        for name, (width, height) in SIZES.items():
            context = engine.new_context(viewport={"width": width, "height": height}, java_script_enabled=False)
            tab = context.new_page()
            asked, said = [], []
            tab.on("request", lambda r: asked.append(r.url))
            tab.on("console", lambda m: said.append(m.text))
            if name == "print":
                tab.emulate_media(media="print")
            tab.goto(page.resolve().as_uri())
            report.check("book.html", f"{name}: nothing else is asked for", len(asked) == 1, str(asked[1:4]))
            report.check("book.html", f"{name}: the browser has nothing to say", not said, str(said[:3]))
            wide = tab.evaluate("[document.documentElement.scrollWidth, document.documentElement.clientWidth]")
            report.check("book.html", f"{name}: no wider than the screen", name == "print" or wide[0] <= wide[1], str(wide))
            boxes = tab.evaluate(WORDS)
            found = clashes(boxes)
            report.check("book.html", f"{name}: no words over words among {len(boxes)}", not found, str(found[:5]))
            context.close()
        tab = engine.new_page()
        tab.goto(page.resolve().as_uri())
        tags = {"runOnly": {"type": "tag", "values": ["wcag2a", "wcag2aa", "wcag21a", "wcag21aa", "wcag22aa"]}}
        result = Axe().run(tab, options=tags).response
        bad = [f"{v['id']}: {v['nodes'][0]['html'][:80]}" for v in result["violations"]]
        report.check("book.html", "axe: WCAG 2.2 A and AA", not bad, "; ".join(bad[:4]))
        print(f"axe {result['testEngine']['version']}: {len(result['passes'])} rules passed, {len(bad)} failed")
        engine.close()


if __name__ == "__main__":
    import sys

    from report import Report

    whole = Report()
    read(whole, Path(sys.argv[1]))
    raise SystemExit(whole.finish())
