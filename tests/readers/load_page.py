"""Works the page of masses and forces out again from what it prints, with nothing of the program's own.

Usage: load_page.py FILE, where FILE holds what `baywright load PROJECT --json` printed.
"""

import json
import math
import re
import sys
from pathlib import Path

from report import Report

G = 9.80665
NUMBER = re.compile(r"-?\d+(?:\.\d+)?")


def numbers(text):
    return [float(n) for n in NUMBER.findall(text)]


def near(a, b, share, least=0.0):
    return abs(a - b) <= max(share * abs(b), least)


class Page:
    def __init__(self, data, report):
        self.report = report
        self.lines = {s["title"]: s["lines"] for s in data["page"]}
        self.anchors = {}

    def check(self, title, what, good, detail=""):
        self.report.check(title, what, good, detail)

    # Mass and centre: every panel from its sizes, every body from its parts, the whole from its bodies.
    def mass(self):
        title = "Mass and centre"
        density, panels, bodies = {}, [], []
        boards = []
        for line in self.lines[title]:
            if m := re.match(r"  board (.+): ([\d.]+) kg/m³, ([\d.]+) mm thick", line):
                boards.append(m[1])
                density[len(boards)] = float(m[2])
            elif m := re.match(r"  (\S+)  (.+): ([\d.]+) x ([\d.]+) x ([\d.]+) mm - ([\d.-]+) cm³, ([\d.]+) kg, (.*)", line):
                board = int(m[1].split("-")[1])
                l, w, t, cut, kg = (float(m[i]) for i in range(3, 8))
                mine = (l * w * t - cut * 1000) * density[board] / 1e9
                self.check(title, f"mass of {m[1]}", near(mine, kg, 0.001, 0.0101), f"{mine:.3f} and {kg}")
                panels.append((m[2], kg, numbers(m[8])))
            elif m := re.match(r"  (.+): ([\d.]+) kg \+ ([\d.]+) kg \+ ([\d.]+) kg = ([\d.]+) kg, (.*)", line):
                wood, hard, goods, all_ = (float(m[i]) for i in range(2, 6))
                self.check(title, f"sum of {m[1]}", near(wood + hard + goods, all_, 0, 0.021))
                bodies.append((m[1], wood, hard, goods, all_, numbers(m[6])))
            elif line.startswith("Unit empty"):
                empty, goods, all_ = numbers(line)
                self.check(title, "empty and goods", near(empty + goods, all_, 0.01))
                self.check(title, "bodies and goods", near(sum(b[4] for b in bodies), all_, 0.006), line)
                self.mass_kg = sum(b[4] for b in bodies)
            elif line.startswith("Centre of mass, closed"):
                self.centre = numbers(line)
                for i in range(3):
                    placed = [b for b in bodies if b[5]]
                    mine = sum(b[4] * b[5][i] for b in placed) / sum(b[4] for b in placed)
                    self.check(title, f"centre {'xyz'[i]}", near(mine, self.centre[i], 0, 1.2), f"{mine:.1f}, {self.centre[i]}")
        names = sorted((b[0] for b in bodies), key=len, reverse=True)
        wood = {b[0]: 0.0 for b in bodies}
        for name, kg, _ in panels:
            owner = next((n for n in names if name.startswith(n + " ")), None)
            if owner and owner + " strips and cover" in wood and name != owner + " table":
                owner += " strips and cover"
            strips = next((n for n in names if n.endswith(" strips and cover") and name.startswith(n[: -len("strips and cover")])), None)
            owner = owner or strips or name
            if owner in wood:
                wood[owner] += kg
        for name, kg, *_ in bodies:
            self.check(title, f"wood of {name}", near(wood[name], kg, 0.002, 0.03), f"{wood[name]:.2f} and {kg}")

    def payload(self):
        title = "Payload, axles, lifting"
        for line in self.lines[title]:
            if line.startswith("Unit and goods") and "not written" not in line:
                unit, people, other, all_, limit, percent = numbers(line)
                self.check(title, "sum aboard", near(unit + people + other, all_, 0.005))
                self.check(title, "share", near(all_ / limit * 100, percent, 0, 0.6))
            if line.startswith("Front axle:"):
                said = re.search(r"([\d.]+) kg x \(([\d.-]+) - ([\d.]+)\) mm / ([\d.]+) mm = ([\d.-]+) kg; .* = ([\d.-]+) kg$", line)
                mass, y, axle, base, front, rear = map(float, said.groups())
                mine = mass * (y - axle) / base
                self.check(title, "front axle", near(mine, front, 0.002, 0.02), f"{mine:.2f} and {front}")
                self.check(title, "rear axle", near(mass - mine, rear, 0.002, 0.02), f"{mass - mine:.2f} and {rear}")
                self.check(title, "centre the same as above", near(y, self.centre[1], 0, 0.6))

    def slides(self):
        title = "Slides and latches"
        for line in self.lines[title]:
            if "moving;" in line:
                head, tail = line.split(" moving; ")
                a, b, c, moving = [float(x) for x in re.findall(r"([\d.]+) kg", head)]
                self.check(title, "moving", near(a + b + c, moving, 0, 0.021), line)
                rating, share, counts = re.search(r"([\d.]+) kg x ([\d.]+) = ([\d.]+) kg", tail).groups()
                self.check(title, "derated", near(float(rating) * float(share), float(counts), 0.001), line)
            if line.startswith("  latch:"):
                kg, g, fall, factor, held = numbers(line.replace("m/s²", ""))
                self.check(title, "latch", near(kg * g * fall * factor, held, 0.006), line)

    def bending(self):
        title = "Bending"
        for line in self.lines[title]:
            plain = line.replace("²", "").replace("³", "").replace("⁴", "")
            if line.startswith("  5 x"):
                left, right = plain.split("; ")
                five, w, span, div, e, i, first = numbers(left)
                self.check(title, "strip sags", near(five * w * span**4 / (div * e * i), first, 0.02, 0.006), line)
                six, w, span, eight, wide, t, sigma = numbers(right.replace("N/mm", ""))
                self.check(title, "strip is stressed", near(six * w * span**2 / (eight * wide * t**2), sigma, 0.02, 0.006), line)
                self.check(title, "second moment", near(wide * t**3 / 12, i, 0.002), line)
            if "plate" in line and "on its four walls" in line:
                part = line.split(": plate ")[1].replace("²", "")
                a, b, t, ex, ey, shear = numbers(part)[:6]
                self.plate = (a, b, t, ex, ey, shear)
            if line.startswith("  all spread:"):
                a, b, t, ex, ey, shear = self.plate
                kg, fall, area, own, q = numbers(line.split("; w =")[0].replace("m/s²", "").replace("mm²", ""))
                self.check(title, "load", near(kg * fall / area + own, q, 0.002), line)
                mine = navier(a, b, t, ex, ey, shear, q)
                said = float(re.search(r"N mm: ([\d.]+) mm", line)[1])
                self.check(title, "plate sags", near(mine, said, 0.03, 0.006), f"{mine:.4f} and {said}")
            if "checklist FM11): " in line:
                p, out, out2, cover, three, e, i, w, *_ = numbers(plain.split("FM11): ")[1])
                self.check(title, "table's end", near(p * out**2 * (out2 + cover) / (three * e * i), w, 0.01), line)

    def restraint(self):
        title = "Restraint"
        base, force, case, lean, moment_edge = None, {}, None, None, None
        for line in self.lines[title]:
            if m := re.match(r"  anchor (.+): x ([\d.-]+), y ([\d.-]+) mm", line):
                self.anchors[m[1]] = (float(m[2]), float(m[3]))
            elif line.startswith("  base x"):
                x0, x1, y0, y1, mass, fall, weight, height = numbers(line.replace("m/s²", ""))
                base = (x0, x1, y0, y1)
                self.height, self.weight = height, self.mass_kg * G
                self.check(title, "weight", near(mass * fall, weight, 0.005), line)
            elif "unbolted: friction" in line:
                mine = re.search(r"leaves \(([\d.]+) - ([\d.]+)\) x ([\d.]+) kg x ([\d.]+) m/s² = ([\d.]+) N", line)
                a, mu, mass, fall, left = map(float, mine.groups())
                self.check(title, "friction leaves", near((a - mu) * mass * fall, left, 0.006), line)
                tip = re.search(r"(would tip|would not tip): ([\d.]+) g x ([\d.]+) mm (>|<=) ([\d.]+) mm", line)
                tips = float(tip[2]) * float(tip[3]) > float(tip[5])
                self.check(title, "tips", tips == (tip[1] == "would tip") == (tip[4] == ">"), line)
            elif m := re.match(r"  (braking|pulling away|cornering|bump)(?: \((to the \w+)\))?: ([\d.]+) g x", line):
                a = float(m[3]) * self.mass_kg * G
                case = {
                    "braking": (0, a, 0),
                    "pulling away": (0, -a, 0),
                    "cornering": (a if m[2] == "to the right" else -a, 0, 0),
                    "bump": (0, 0, a),
                }[m[1]]
                force = anchor_forces(case, self.weight, self.centre, self.height, base, self.anchors)
            elif line.startswith("  everything pulled out, parked, 200 N leaning"):
                case = None
                said = re.search(r"about the edge y ([\d.-]+) mm: ([\d.]+) N x [\d.]+ mm - ([\d.]+) N x (-?[\d.]+) mm = ([\d.]+) N m", line)
                if said:
                    edge, _, weight, lever, moment = map(float, said.groups())
                    self.check(title, "moment pulled out", near(-weight * lever / 1000, moment, 0.02, 0.8), line)
                    squares = sum(max(y - edge, 0) ** 2 for _, y in self.anchors.values())
                    moment_edge = (edge, moment * 1000, squares)
            elif m := re.match(r"    (.+): pull ([\d.]+) N, shear ([\d.]+) N, together ([\d.]+) N; with one other lost ([\d.]+) N", line):
                pull, shear, both, lost = (float(m[i]) for i in range(2, 6))
                self.check(title, "together", near(math.hypot(pull, shear), both, 0.01, 0.1), line)
                if case is not None:
                    mine = force[m[1]]
                    self.check(title, f"pull {m[1]}", near(mine[0], pull, 0.03, 1.5), f"{mine[0]:.1f}; {line}")
                    self.check(title, f"shear {m[1]}", near(mine[1], shear, 0.03, 1.0), f"{mine[1]:.1f}; {line}")
                    worst = 0.0
                    for gone in self.anchors:
                        if gone != m[1]:
                            kept = {k: v for k, v in self.anchors.items() if k != gone}
                            one = anchor_forces(case, self.weight, self.centre, self.height, base, kept)[m[1]]
                            worst = max(worst, math.hypot(*one))
                    self.check(title, f"one lost {m[1]}", near(worst, lost, 0.03, 1.5), f"{worst:.1f}; {line}")
                elif moment_edge:
                    edge, moment, squares = moment_edge
                    mine = moment * (self.anchors[m[1]][1] - edge) / squares
                    self.check(title, f"pulled out {m[1]}", near(mine, pull, 0.03, 0.6), f"{mine:.1f}; {line}")
            elif m := re.match(r"    (.+): washer ([\d.]+) N / \(pi/4 x \(([\d.]+)² - ([\d.]+)²\)\) mm² = ([\d.]+) N/mm²; "
                               r"bolt ([\d.]+) N / \(([\d.]+) x ([\d.]+)\) mm² = ([\d.]+) N/mm²", line):
                p, outer, inner, press, s, d, t, bear = (float(m[i]) for i in range(2, 10))
                self.check(title, "washer", near(p / (math.pi / 4 * (outer**2 - inner**2)), press, 0.02, 0.006), line)
                self.check(title, "bolt", near(s / (d * t), bear, 0.02, 0.006), line)


def anchor_forces(case, weight, centre, height, base, anchors):
    """Pull and shear at each anchor: a rigid unit on bolts of equal stiffness."""
    px, py, lift = case
    n = len(anchors)
    mx = sum(x for x, _ in anchors.values()) / n
    my = sum(y for _, y in anchors.values()) / n
    turn = (centre[0] - mx) * py - (centre[1] - my) * px
    polar = sum((x - mx) ** 2 + (y - my) ** 2 for x, y in anchors.values())
    found = {}
    if lift:
        sxx = sum((x - mx) ** 2 for x, _ in anchors.values())
        syy = sum((y - my) ** 2 for _, y in anchors.values())
        sxy = sum((x - mx) * (y - my) for x, y in anchors.values())
        ex, ey = centre[0] - mx, centre[1] - my
        det = sxx * syy - sxy * sxy
        if det > 1e-6 * max(sxx, syy) ** 2:
            bx, by = (ex * syy - ey * sxy) / det, (ey * sxx - ex * sxy) / det
        else:
            # In one line they hold only what turns along it.
            bx, by = (e / s if s > 1e-6 * (sxx + syy) else 0.0 for e, s in ((ex, sxx), (ey, syy)))
        for name, (x, y) in anchors.items():
            found[name] = (max(lift * (1 / n + bx * (x - mx) + by * (y - my)), 0.0), 0.0)
        return found
    x0, x1, y0, y1 = base
    leans = [
        (px * height - weight * (x1 - centre[0]), lambda x, y: x1 - x),
        (-px * height - weight * (centre[0] - x0), lambda x, y: x - x0),
        (py * height - weight * (y1 - centre[1]), lambda x, y: y1 - y),
        (-py * height - weight * (centre[1] - y0), lambda x, y: y - y0),
    ]
    moment, distance = max(leans, key=lambda l: l[0])
    squares = sum(max(distance(x, y), 0) ** 2 for x, y in anchors.values())
    for name, (x, y) in anchors.items():
        by = turn / polar if polar else 0.0
        sx = px / n - by * (y - my)
        sy = py / n + by * (x - mx)
        pull = max(moment, 0.0) * max(distance(x, y), 0) / squares if squares else 0.0
        found[name] = (pull, math.hypot(sx, sy))
    return found


def navier(a, b, t, ex, ey, shear, q):
    """Middle of a rectangular plate on four walls under a spread load: the double sine series."""
    dx, dy, h = ex * t**3 / 12, ey * t**3 / 12, 2 * shear * t**3 / 12
    total = 0.0
    for m in range(1, 60, 2):
        for n in range(1, 60, 2):
            sign = (-1) ** ((m + n) // 2 - 1)
            stiff = dx * (m / a) ** 4 + 2 * h * (m * n / (a * b)) ** 2 + dy * (n / b) ** 4
            total += sign * 16 * q / (math.pi**6 * m * n * stiff)
    return total


def main():
    path = Path(sys.argv[1])
    report = Report()
    page = Page(json.loads(path.read_text()), report)
    for part in [page.mass, page.payload, page.slides, page.bending, page.restraint]:
        report.guard(part.__name__, part)
    return report.finish()


if __name__ == "__main__":
    sys.exit(main())
