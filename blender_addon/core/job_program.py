"""The program's name and version, as its manifest says."""

from __future__ import annotations

import tomllib
from functools import cache
from pathlib import Path

MANIFEST = Path(__file__).parent.parent / "blender_manifest.toml"


@cache
def program() -> tuple[str, str]:
    """Return the name and the version of this program.

    Examples
    --------
    >>> program()[0]
    'riseline'
    """
    manifest = tomllib.loads(MANIFEST.read_text(encoding="utf-8"))
    return manifest["id"], manifest["version"]
