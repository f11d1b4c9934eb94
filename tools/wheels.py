"""The libraries that the extension carries along, as wheels for one platform and Python."""

from __future__ import annotations

import re
from typing import TYPE_CHECKING

from heard import hear
from place import BUILD, TOOLS, MissingError, say

if TYPE_CHECKING:
    from pathlib import Path

CARRIED = ("scipy", "manifold3d", "pydyf")
"""What core imports beside numpy, which is Blender's own."""

PLATFORMS = {
    "linux-x64": [f"manylinux_2_{n}_x86_64" for n in (28, 27, 26, 17)] + ["manylinux2014_x86_64"],
    "windows-x64": ["win_amd64"],
    "windows-arm64": ["win_arm64"],
    "macos-arm64": ["macosx_12_0_arm64"],
    "macos-x64": ["macosx_12_0_x86_64"],
}
"""Blender's names, and the tags that wheels bear for them (PEP 425, PEP 600)."""

PYTHONS = ("3.11", "3.13", "3.14")
"""Blender 4.5 LTS, Blender 5.2 LTS, and the Blender of Debian, which takes the system's Python."""


def pins(python: str) -> list[str]:
    """Return the carried libraries as 'name==version', as they are tested with that Python."""
    tested = TOOLS / f"requirements-{'3.11' if python == '3.11' else '3.13'}.txt"
    lines = re.findall(r"^([\w.-]+)(==\S+)", tested.read_text(encoding="utf-8"), re.MULTILINE)
    return [name + dict(lines)[name] for name in CARRIED]


def wheels_for(runner: Path, platform: str, python: str) -> list[Path]:
    """Return the wheels for a platform and Python, from the cache in build/ or downloaded.

    Raises
    ------
    MissingError
        If a library has no wheel for that platform and Python.
    """
    folder = BUILD / "wheels" / f"{platform}-{python}"
    wanted = pins(python)
    stamp = folder / "pins.txt"
    if not stamp.exists() or stamp.read_text(encoding="utf-8") != "\n".join(wanted):
        folder.mkdir(parents=True, exist_ok=True)
        for old in folder.glob("*.whl"):
            old.unlink()
        say(f"Downloading wheels for {platform}, Python {python}")
        download(runner, folder, platform, python, wanted)
        stamp.write_text("\n".join(wanted), encoding="utf-8")
    return sorted(folder.glob("*.whl"))


def download(runner: Path, folder: Path, platform: str, python: str, wanted: list[str]) -> None:
    """Fetch wheels into a folder by the runner's pip."""
    tags = [f"--platform={tag}" for tag in PLATFORMS[platform]]
    asked = ["--quiet", "--no-deps", "--only-binary=:all:", "--implementation=cp"]
    pip = [runner, "-m", "pip", "--disable-pip-version-check", "download", *asked]
    got = hear([*pip, f"--python-version={python}", *tags, "--dest", folder, *wanted])
    if got.code:
        errors = [line for line in got.text.splitlines() if line.startswith("ERROR")]
        raise MissingError(
            f"No wheels for {platform} with Python {python}: {(errors or [got.tail()])[0]}"
        )
