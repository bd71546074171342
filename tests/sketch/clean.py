"""Whether a drawing can be read: nothing outside it, no text over another one or over what it must not cover."""

import math
from dataclasses import dataclass
from xml.etree import ElementTree

from vessels.sketch.text_width import text_width_em

SVG = "{http://www.w3.org/2000/svg}"
Point = tuple[float, float]
HIGH_EM, LOW_EM = 0.72, 0.2  # ascenders and descenders of the bundled font


@dataclass(frozen=True)
class Written:
    """A text and the corners of the rectangle that its letters take, turned as it is."""

    text: str
    corners: tuple[Point, ...]

    def overlaps(self, other: tuple[Point, ...]) -> bool:
        """Two convex polygons overlap unless one of their sides parts them (the theorem of the separating axis)."""
        for polygon in (self.corners, other):
            for (x1, y1), (x2, y2) in zip(polygon, (*polygon[1:], polygon[0]), strict=True):
                normal = y2 - y1, x1 - x2
                mine, others = ([x * normal[0] + y * normal[1] for x, y in points] for points in (self.corners, other))
                if max(mine) <= min(others) + 1e-6 or max(others) <= min(mine) + 1e-6:
                    return False
        return True


def read(svg: str) -> ElementTree.Element:
    """The drawing; raises where it is not well formed."""
    root = ElementTree.fromstring(svg)
    assert root.tag == f"{SVG}svg"
    return root


def texts(root: ElementTree.Element) -> list[Written]:
    return [_written(element) for element in root.iter(f"{SVG}text")]


def _written(element: ElementTree.Element) -> Written:
    size, text = float(element.get("font-size", "")), element.text or ""
    x, y = float(element.get("x", "")), float(element.get("y", ""))
    width = text_width_em(text, bold=element.get("font-weight") == "600") * size
    left = -{"start": 0.0, "middle": width / 2, "end": width}[element.get("text-anchor", "start")]
    turn = 0.0
    if element.get("transform"):
        name, *numbers = element.get("transform", "").replace("(", " ").replace(")", "").split()
        assert name == "rotate"
        assert [float(number) for number in numbers[1:]] == [round(x, 2), round(y, 2)]
        turn = math.radians(float(numbers[0]))
    sin, cos = math.sin(turn), math.cos(turn)
    box = ((left, -HIGH_EM), (left + width, -HIGH_EM), (left + width, LOW_EM), (left, LOW_EM))
    flat = [(along, down * size) for along, down in box]
    return Written(text, tuple((x + a * cos - d * sin, y + a * sin + d * cos) for a, d in flat))


def points(root: ElementTree.Element) -> list[Point]:
    """Outermost points of everything that is drawn."""
    found: list[Point] = []
    for element in root.iter():
        if element.tag == f"{SVG}path":
            numbers = element.get("d", "").replace("M", " ").replace("L", " ").replace("Z", "").replace("h.01", "")
            pairs = [float(number) for number in numbers.split()]
            found += list(zip(pairs[::2], pairs[1::2], strict=True))
        elif element.tag == f"{SVG}rect":
            x, y, width, height = (float(element.get(key, "")) for key in ("x", "y", "width", "height"))
            found += [(x, y), (x + width, y + height)]
        elif element.tag == f"{SVG}circle":
            x, y, radius = (float(element.get(key, "")) for key in ("cx", "cy", "r"))
            found += [(x - radius, y - radius), (x + radius, y + radius)]
    return found


def bodies(root: ElementTree.Element) -> list[tuple[Point, ...]]:
    """What no text may cover: flanges of nozzles in an elevation, bores in a plan."""
    found: list[tuple[Point, ...]] = []
    for group in root.iter(f"{SVG}g"):
        if not group.get("class", "").endswith("-nozzle"):
            continue
        for element in group:
            if element.tag == f"{SVG}rect":
                x, y, width, height = (float(element.get(key, "")) for key in ("x", "y", "width", "height"))
                found.append(((x, y), (x + width, y), (x + width, y + height), (x, y + height)))
            elif element.tag == f"{SVG}circle":
                x, y, radius = (float(element.get(key, "")) for key in ("cx", "cy", "r"))
                turns = [math.tau * number / 16 for number in range(16)]
                found.append(tuple((x + radius * math.cos(turn), y + radius * math.sin(turn)) for turn in turns))
    return found


def assert_clean(svg: str) -> ElementTree.Element:
    """Well formed, inside its box, no text over another one or over a nozzle; returns the drawing."""
    root = read(svg)
    left, top, width, height = (float(part) for part in root.get("viewBox", "").split())
    assert (left, top) == (0, 0)
    for x, y in points(root):
        assert -0.01 <= x <= width + 0.01, (x, width)
        assert -0.01 <= y <= height + 0.01, (y, height)
    written, covered = texts(root), bodies(root)
    for number, one in enumerate(written):
        for x, y in one.corners:
            assert 0 <= x <= width, (one, width)
            assert 0 <= y <= height, (one, height)
        for other in written[number + 1 :]:
            assert not one.overlaps(other.corners), (one, other)
        for body in covered:
            assert not one.overlaps(body), (one, body)
    return root


def assert_strict(svg: str) -> None:
    """Nothing that a strict content-security policy or a PDF engine would refuse."""
    for forbidden in ("style=", "<style", "<script", "onload", "href", "url(", "<image", "<foreignObject"):
        assert forbidden not in svg
