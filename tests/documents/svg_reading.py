"""Reading a drawn SVG back: texts with the boxes that they take, points, places."""

import re
from dataclasses import dataclass
from xml.etree import ElementTree

from vessels.sketch.text_width import text_width_em

SVG = "{http://www.w3.org/2000/svg}"
Point = tuple[float, float]


@dataclass(frozen=True)
class Box:
    """A text and the rectangle that its letters take (ascenders and descenders of the bundled font)."""

    text: str
    left: float
    top: float
    right: float
    bottom: float

    def overlaps(self, other: "Box") -> bool:
        across = self.left < other.right and other.left < self.right
        return across and self.top < other.bottom and other.top < self.bottom


@dataclass(frozen=True)
class Drawing:
    root: ElementTree.Element

    @property
    def size(self) -> tuple[float, float]:
        left, top, width, height = (float(part) for part in self.root.get("viewBox", "").split())
        assert (left, top) == (0, 0)
        return width, height

    def places(self) -> set[str]:
        return {group.get("data-place", "") for group in self.root.iter(f"{SVG}g")} - {""}

    def of(self, place: str, kind: str = "") -> list[ElementTree.Element]:
        """Everything drawn in the groups of a place (of one kind: "level" leaves its dimension out)."""
        groups = [group for group in self.root.iter(f"{SVG}g") if group.get("data-place") == place]
        wanted = [group for group in groups if f"elevation-{kind}" in group.get("class", "")]
        return [element for group in wanted for element in group]

    def texts(self) -> list[str]:
        return [element.text or "" for element in self.root.iter(f"{SVG}text")]

    def boxes(self) -> list[Box]:
        return [_box(element) for element in self.root.iter(f"{SVG}text")]

    def points(self) -> list[Point]:
        """Every point of every line and rectangle."""
        found = [point for path in self.root.iter(f"{SVG}path") for point in path_points(path)]
        for element in self.root.iter(f"{SVG}rect"):
            x, y, width, height = (float(element.get(key, "")) for key in ("x", "y", "width", "height"))
            found += [(x, y), (x + width, y + height)]
        return found


def read_svg(svg: str) -> Drawing:
    return Drawing(ElementTree.fromstring(svg))


def path_points(path: ElementTree.Element) -> list[Point]:
    pairs = re.findall(r"[ML](-?[\d.]+) (-?[\d.]+)", path.get("d", ""))
    return [(float(x), float(y)) for x, y in pairs]


def _box(element: ElementTree.Element) -> Box:
    size, text = float(element.get("font-size", "")), element.text or ""
    x, y = float(element.get("x", "")), float(element.get("y", ""))
    width = text_width_em(text, bold=element.get("font-weight") == "600") * size
    shift = {"start": 0.0, "middle": width / 2, "end": width}[element.get("text-anchor", "start")]
    high, low = 0.72 * size, 0.2 * size
    if "rotate(-90" in element.get("transform", ""):
        return Box(text, x - high, y - width + shift, x + low, y + shift)
    return Box(text, x - shift, y - high, x - shift + width, y + low)
