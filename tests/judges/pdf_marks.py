"""What a PDF page draws, read back by pypdf: lines in mm with their pens, clips, and words."""

from __future__ import annotations

import io
from dataclasses import dataclass, field

import numpy as np
import pypdf
from pypdf.generic import ContentStream

MM_PER_POINT = 25.4 / 72.0
"""ISO 32000-1, 8.3.2.3: a unit of a page is 1/72 inch."""


@dataclass
class Stroke:
    """A path as it is stroked or filled: points (k, 2) on the page, and the clip it is cut by."""

    points_mm: np.ndarray
    width_mm: float
    dashed: bool
    filled: bool
    clip_mm: tuple[np.ndarray, np.ndarray] | None


@dataclass
class Page:
    size_mm: np.ndarray
    strokes: list[Stroke] = field(default_factory=list)
    words: str = ""
    images: int = 0


def pages_of(data: bytes) -> list[Page]:
    """Return every page of a PDF; curves count by their ends."""
    reader = pypdf.PdfReader(io.BytesIO(data), strict=True)
    return [_page(reader, page) for page in reader.pages]


def _page(reader, page):
    found = Page(np.array([float(one) for one in page.mediabox[2:]]) * MM_PER_POINT)
    found.words, found.images = page.extract_text(), len(page.images)
    pen = _Pen(found)
    for operands, operator in ContentStream(page.get_contents(), reader).operations:
        pen.take(operator.decode(), operands)
    return found


class _Pen:
    """The state of a page's content as it is read: ISO 32000-1, 8.4."""

    def __init__(self, page):
        self.page, self.state, self.stack = page, (np.eye(3), 1.0, False, None), []
        self.paths, self.clips = [], False

    def take(self, operator, operands):
        numbers = [float(one) for one in operands if isinstance(one, (int, float))]
        matrix, width, dashed, clip = self.state
        match operator:
            case "q":
                self.stack.append(self.state)
            case "Q":
                self.state = self.stack.pop()
            case "cm":
                a, b, c, d, e, f = numbers
                turned = np.array([[a, b, 0], [c, d, 0], [e, f, 1]]) @ matrix
                self.state = (turned, width, dashed, clip)
            case "w":
                self.state = (matrix, numbers[0], dashed, clip)
            case "d":
                self.state = (matrix, width, len(operands[0]) > 0, clip)
            case "W":
                self.clips = True
            case "S" | "f" | "f*" | "B" | "n":
                self.paint(operator)
            case _:
                self.draw(operator, numbers)

    def draw(self, operator, numbers):
        match operator:
            case "m":
                self.paths.append([numbers])
            case "l" | "c":
                self.paths[-1].append(numbers[-2:])
            case "h":
                self.paths[-1].append(self.paths[-1][0])
            case "re":
                x, y, w, h = numbers
                self.paths.append([[x, y], [x + w, y], [x + w, y + h], [x, y + h], [x, y]])

    def paint(self, operator):
        matrix, width, dashed, clip = self.state
        placed = [_placed(path, matrix) for path in self.paths]
        if self.clips:
            self.state = (matrix, width, dashed, (placed[0].min(axis=0), placed[0].max(axis=0)))
        elif operator != "n":
            width_mm = width * np.hypot(*matrix[0, :2]) * MM_PER_POINT
            filled = operator in ("f", "f*")
            self.page.strokes += [Stroke(one, width_mm, dashed, filled, clip) for one in placed]
        self.paths, self.clips = [], False


def _placed(path, matrix):
    points = np.column_stack([np.array(path), np.ones(len(path))]) @ matrix
    return points[:, :2] * MM_PER_POINT
