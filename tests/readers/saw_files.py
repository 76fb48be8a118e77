"""Replays the cuts of a saw pack from its tables, and compares the pieces with job.json, with the pages and with the pictures."""

import csv
from xml.etree import ElementTree

SLACK = 0.05
"""A few settings printed with two decimals, in mm."""


def names(job: dict) -> list:
    return [name for sheet in job.get("saw", {}).get("sheets", []) for name in sheet["files"]]


def read(report, pack, job: dict, expected) -> None:
    """Every sheet of a saw pack; nothing for another pack."""
    if "saw" not in job:
        return
    report.check("job.json", "no programs beside a saw", not job["programs"])
    for plan in job["saw"]["sheets"]:
        sheet = next(s for s in job["sheets"] if (s["board"], s["number"]) == (plan["board"], plan["number"]))
        files = {name.rsplit(".", 1)[1]: name for name in plan["files"]}
        report.guard(files["csv"], one, report, pack, job, expected, plan, sheet, files)


def one(report, pack, job, expected, plan, sheet, files) -> None:
    name = files["csv"]
    with open(pack / name, newline="", encoding="utf-8") as file:
        rows = list(csv.DictReader(file, strict=True))
    report.check(name, "as many cuts as the job says", len(rows) == plan["cuts"], f"{len(rows)}")
    left = replay(report, name, job["saw"], sheet, rows)
    wanted = {}
    for p in sheet["placements"]:
        outline = [line for line, c in zip(expected.parts[p["part"]], part(job, p)["contours"])
                   if c["operation"] == "through-outside"][0]
        wanted[f"{p['part']}.{p['copy']}"] = outline.placed(p).bounds()
    for piece, at in left.items():
        if piece in wanted:
            off = max(abs(a - b) for a, b in zip(at, wanted.pop(piece)))
            report.check(name, f"{piece} comes off where it lies", off <= SLACK, f"{off:.3f} mm")
        else:
            report.check(name, f"{piece} is an offcut", piece.startswith("keep "))
    report.check(name, "every blank comes off", not wanted, ", ".join(wanted))
    report.guard(files["svg"], picture, report, pack / files["svg"], files["svg"], job, sheet, left, rows)
    report.guard(files["txt"], page, report, pack / files["txt"], files["txt"], job, rows)


def part(job: dict, placement: dict) -> dict:
    return next(p for p in job["parts"] if p["id"] == placement["part"])


def replay(report, name, saw, sheet, rows) -> dict:
    """Cuts the sheet up; gives what is neither waste nor cut again, as (x0, y0, x1, y1)."""
    pieces = {"sheet": (0.0, 0.0, sheet["length_mm"], sheet["width_mm"])}
    depth = {"sheet": (0, None)}
    left = {}
    for number, row in enumerate(rows, 1):
        here = f"cut {number}"
        report.check(name, f"{here} has its number", int(row["cut"]) == number)
        x0, y0, x1, y1 = piece = pieces.pop(row["piece"])
        stage, last = depth[row["piece"]]
        stage += last != row["direction"]
        report.check(name, f"{here} is of stage {stage}", int(row["stage"]) == stage <= saw["turns"] + 1)
        fence, kerf = float(row["fence_mm"]), saw["kerf_mm"]
        if row["direction"] == "rip":
            low = row["against"] == "lower"
            off = (x0, y0, x1, y0 + fence) if low else (x0, y1 - fence, x1, y1)
            free = (x0, y0 + fence + kerf, x1, y1) if low else (x0, y0, x1, y1 - fence - kerf)
        else:
            low = row["against"] == "left"
            off = (x0, y0, x0 + fence, y1) if low else (x1 - fence, y0, x1, y1)
            free = (x0 + fence + kerf, y0, x1, y1) if low else (x0, y0, x1 - fence - kerf, y1)
        for what, at in (("piece", piece), ("fence_side", off), ("free_side", free)):
            if not row[what]:
                report.check(name, f"{here} leaves nothing unnamed", min(at[2] - at[0], at[3] - at[1]) <= SLACK)
                continue
            stated = (float(row[f"{what}_length_mm"]), float(row[f"{what}_width_mm"]))
            same = abs(stated[0] - at[2] + at[0]) <= SLACK and abs(stated[1] - at[3] + at[1]) <= SLACK
            report.check(name, f"{here} states the size of its {what}", same, f"{stated}")
            if what == "piece" or row[what] == "waste":
                continue
            if row[what] in (f"{number}a", f"{number}b"):
                pieces[row[what]] = at
                depth[row[what]] = (stage, row["direction"])
            else:
                report.check(name, f"{row[what]} comes off once", row[what] not in left)
                left[row[what]] = at
    report.check(name, "nothing is left to be cut", not pieces, ", ".join(pieces))
    return left


def picture(report, path, name, job, sheet, left, rows) -> None:
    """The picture shows each piece where the cuts leave it, true to size, and each cut."""
    root = ElementTree.parse(path).getroot()
    size = (f"{sheet['length_mm']:g}mm", f"{sheet['width_mm']:g}mm")
    report.check(name, "true to size", (root.get("width"), root.get("height")) == size)
    report.check(name, "revision", job["revision"] in "".join(root.itertext()))
    drawn = {}
    for node in root.iter("{http://www.w3.org/2000/svg}rect"):
        if node.get("data-piece"):
            x, y, w, h = (float(node.get(k)) for k in ("x", "y", "width", "height"))
            drawn[node.get("data-piece")] = (x, sheet["width_mm"] - y - h, x + w, sheet["width_mm"] - y)
    report.check(name, "shows the pieces", sorted(drawn) == sorted(left))
    for piece, at in left.items():
        same = piece in drawn and all(abs(a - b) <= SLACK for a, b in zip(drawn[piece], at))
        report.check(name, f"{piece} is where the cuts leave it", same)
    cuts = [n.get("data-cut") for n in root.iter("{http://www.w3.org/2000/svg}line") if n.get("data-cut")]
    report.check(name, "shows the cuts", sorted(map(int, cuts)) == list(range(1, len(rows) + 1)))


def page(report, path, name, job, rows) -> None:
    """The page lists the same cuts with the same settings."""
    text = path.read_text(encoding="utf-8")
    report.check(name, "revision", job["revision"] in text)
    unit = 25.4 if "units: in\n" in text else 1.0
    lines = [[c.strip() for c in line.split("  ") if c.strip()] for line in text.splitlines() if line[:1].isdigit()]
    report.check(name, "lists every cut", len(lines) == len(rows))
    for cells, row in zip(lines, rows):
        fence = float(cells[4].lstrip("*")) * unit
        same = cells[0] == row["cut"] and cells[2] == row["direction"] and abs(fence - float(row["fence_mm"])) <= 0.06 + SLACK
        report.check(name, f"cut {row['cut']} is the table's", same and cells[3].split(" ")[0] == row["piece"].split(" ")[0])
