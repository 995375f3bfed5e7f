"""Labels of a chart, placed so that none lies on another or on a mark."""

from collections.abc import Iterable
from dataclasses import dataclass
from typing import NamedTuple

from witnessmark.pages.axis import place

LETTER = 6.7
"""Width allowed for a letter at the size of the drawing's text; a little more than most take."""
LINE = 14.0
RINGS = (0.0, 1.0, 2.0, 3.2, 4.6, 6.2, 8.0)


class Box(NamedTuple):
    """A rectangle of the drawing."""

    left: float
    top: float
    right: float
    bottom: float

    def meets(self, other: "Box") -> bool:
        """Whether the two share room."""
        return (
            self.left < other.right and other.left < self.right and self.top < other.bottom and other.top < self.bottom
        )


class Label(NamedTuple):
    """Words with their place and anchor; ``leader`` is the line back to what they name, '' where they stand by it."""

    x: str
    y: str
    anchor: str
    words: str
    leader: str


@dataclass(frozen=True, slots=True)
class Wanted:
    """Words wanted beside a spot; ``room`` is the half width of the mark that stands there."""

    x: float
    y: float
    words: str
    room: float


def _candidates(wanted: Wanted, width: float) -> Iterable[tuple[float, float, str, Box, bool]]:
    x, y, gap = wanted.x, wanted.y, wanted.room + 3
    for ring in RINGS:
        rise = ring * LINE
        for up in (-1, 1) if ring else (0,):
            base = y + 4 + up * rise
            for anchor, left in (("start", x + gap), ("end", x - gap - width)):
                spot = x + gap if anchor == "start" else x - gap
                yield spot, base, anchor, Box(left, base - LINE + 3, left + width, base + 3), ring > 1
            base = y + up * (gap + rise) + (LINE - 3 if up > 0 else -2)
            if up:
                yield x, base, "middle", Box(x - width / 2, base - LINE + 3, x + width / 2, base + 3), ring > 1


def placed(wanted: Iterable[Wanted], taken: Iterable[Box], frame: Box) -> tuple[Label, ...]:
    """The labels, each at the nearest free spot inside the frame.

    Words that find no room are left out: the table beside the chart has them all.
    """
    boxes = list(taken)
    labels = []
    for each in wanted:
        width = len(each.words) * LETTER
        for x, y, anchor, box, far in _candidates(each, width):
            inside = box.left >= frame.left and box.right <= frame.right
            inside = inside and box.top >= frame.top and box.bottom <= frame.bottom
            if not inside or any(box.meets(other) for other in boxes):
                continue
            boxes.append(box)
            near = min(max(each.x, box.left), box.right), box.bottom if box.bottom < each.y else box.top
            leader = f"M{place(each.x)} {place(each.y)}L{place(near[0])} {place(near[1])}" if far else ""
            labels.append(Label(place(x), place(y), anchor, each.words, leader))
            break
    return tuple(labels)
