"""Longer texts, in as many lines as the room asks for."""

from __future__ import annotations

import re
import textwrap

AFTER_FOLDER = re.compile(r"(?<=[/\\])")


class _Wrapper(textwrap.TextWrapper):
    """Parts a path that is longer than a line between its folders, not within their names."""

    def _split(self, text: str) -> list[str]:
        return [
            part
            for word in super()._split(text)
            for part in (AFTER_FOLDER.split(word) if len(word) > self.width else [word])
            if part
        ]


def wrapped(text: str, letters: int) -> list[str]:
    """Return a text in lines of so many letters at the most.

    Examples
    --------
    >>> wrapped("Written to /home/potter/garden/toadstool_mold", 20)
    ['Written to /home/', 'potter/garden/', 'toadstool_mold']
    """
    return _Wrapper(letters).wrap(text)
