"""Where things are in this repository, and how its tools speak."""

from __future__ import annotations

import sys
from pathlib import Path

ROOT = Path(__file__).resolve().parent.parent
TOOLS = ROOT / "tools"
BUILD = ROOT / "build"
DIST = ROOT / "dist"


class MissingError(Exception):
    """Something that is needed is not on this machine; the text says how to get it."""


def say(text: str) -> None:
    """Tell a person how far the work is; programs read standard output, people both."""
    print(text, file=sys.stderr, flush=True)
