"""What job.json says every drawing must hold: closed lines with layer, area, length and bounds, in mm."""

from math import atan, atan2, cos, hypot, pi, sin


class Line:
    """A closed line of straight segments and arcs, vertices (x, y, bulge)."""

    def __init__(self, layer, vertices, round_shape=False):
        self.layer = layer
        self.vertices = [tuple(v) for v in vertices]
        self.round = round_shape

    def segments(self):
        v = self.vertices
        for i, (x, y, b) in enumerate(v):
            x1, y1, _ = v[(i + 1) % len(v)]
            yield x, y, x1, y1, b

    def area(self):
        total = 0.0
        for x, y, x1, y1, b in self.segments():
            total += (x * y1 - x1 * y) / 2
            if b:
                sweep = 4 * atan(b)
                r = hypot(x1 - x, y1 - y) * (1 + b * b) / (4 * abs(b))
                total += r * r * (sweep - sin(sweep)) / 2
        return abs(total)

    def length(self):
        total = 0.0
        for x, y, x1, y1, b in self.segments():
            chord = hypot(x1 - x, y1 - y)
            total += chord * (1 + b * b) / (4 * abs(b)) * 4 * atan(abs(b)) if b else chord
        return total

    def bounds(self):
        xs, ys = [], []
        for x, y, x1, y1, b in self.segments():
            xs.append(x)
            ys.append(y)
            if b:
                # Centre on the chord's left for an arc of under a half turn counter-clockwise.
                k = (1 / b - b) / 4
                cx, cy = (x + x1) / 2 - (y1 - y) * k, (y + y1) / 2 + (x1 - x) * k
                r = hypot(x - cx, y - cy)
                start, sweep = atan2(y - cy, x - cx), 4 * atan(b)
                for quarter in range(4):
                    turn = (quarter * pi / 2 - start) % (2 * pi)
                    if sweep < 0:
                        turn -= 2 * pi
                    if 0 <= turn / sweep <= 1:
                        xs.append(cx + r * cos(quarter * pi / 2))
                        ys.append(cy + r * sin(quarter * pi / 2))
        return min(xs), min(ys), max(xs), max(ys)

    def placed(self, p):
        turns = {0: lambda x, y: (x, y), 90: lambda x, y: (-y, x), 180: lambda x, y: (-x, -y), 270: lambda x, y: (y, -x)}
        turn = turns[p["turn_deg"]]
        moved = []
        for x, y, b in self.vertices:
            tx, ty = turn(x, y)
            moved.append((tx + p["x_mm"], ty + p["y_mm"], b))
        return Line(self.layer, moved, self.round)


class Drawing:
    """Lines of one file; `size` is the page; a sheet also has notes."""

    def __init__(self, lines, size, is_sheet):
        self.lines, self.size, self.is_sheet = lines, size, is_sheet

    def by_layer(self):
        layers = {}
        for line in self.lines:
            layers.setdefault(line.layer, []).append(line)
        return layers


class Expected:
    def __init__(self, job):
        self.job = job
        self.parts = {p["id"]: self.part_lines(p) for p in job["parts"]}

    @staticmethod
    def part_lines(part):
        return [Line(c["layer"], c["vertices"], c["operation"] in ("drill", "countersink")) for c in part["contours"]]

    def drawings(self):
        for part in self.job["parts"]:
            yield part, Drawing(self.parts[part["id"]], (part["x_mm"], part["y_mm"]), False)
        for sheet in self.job["sheets"]:
            lines = [line.placed(p) for p in sheet["placements"] for line in self.parts[p["part"]]]
            yield sheet, Drawing(lines, (sheet["length_mm"], sheet["width_mm"]), True)


def bounds_of(lines):
    all_bounds = [line.bounds() for line in lines]
    return tuple(f(b[i] for b in all_bounds) for i, f in enumerate((min, min, max, max)))


def near(a, b, relative, absolute=0.0):
    return abs(a - b) <= max(absolute, relative * max(abs(a), abs(b)))


def all_near(a, b, absolute):
    return all(abs(x - y) <= absolute for x, y in zip(a, b))


def paired(found, wanted):
    """Each wanted line with the nearest that is left of those found, by bounds and then area; both as (area, bounds, whatever)."""
    left = list(found)
    for line in wanted:
        apart = lambda f: (round(max(abs(a - b) for a, b in zip(f[1], line[1])), 2), abs(f[0] - line[0]))
        nearest = min(range(len(left)), key=lambda i: apart(left[i]))
        yield left.pop(nearest)[2], line[2]
