"""The two environments in the repository, one for each Python that Blender carries."""

from __future__ import annotations

import hashlib
import os
import shutil
import time
from typing import TYPE_CHECKING

from heard import hear
from place import ROOT, TOOLS, MissingError, say
from pythons import find_python

if TYPE_CHECKING:
    from pathlib import Path

NEWEST, OLDEST = "3.13", "3.11"


def venv_python(version: str, root: Path = ROOT) -> Path:
    """Return where the Python of an environment is."""
    folder = root / f".venv-{version}"
    return folder / "Scripts" / "python.exe" if os.name == "nt" else folder / "bin" / "python"


def stamp_of(requirements: Path) -> str:
    """Return what changes when the wanted packages change."""
    return hashlib.sha256(requirements.read_bytes()).hexdigest()


def ready(version: str) -> Path:
    """Return the Python of an environment that holds what is wanted; make it when it does not.

    Raises
    ------
    MissingError
        If there is no such Python, or its packages cannot be installed.
    """
    requirements = TOOLS / f"requirements-{version}.txt"
    python, folder = venv_python(version), ROOT / f".venv-{version}"
    stamp, wanted = folder / "riseline-stamp", stamp_of(requirements)
    if python.exists() and stamp.exists() and stamp.read_text(encoding="utf-8") == wanted:
        return python
    base, began = find_python(version), time.monotonic()
    say(f"Setting up .venv-{version} with {base}: once, some minutes.")
    if folder.exists():
        shutil.rmtree(folder)
    made = hear([base, "-m", "venv", folder])
    if made.code:
        raise MissingError(
            f"{base} cannot make an environment:\n{made.tail()}\nOn Debian, install python3-venv."
        )
    pip = [python, "-m", "pip", "--disable-pip-version-check", "install", "--requirement"]
    installed = hear([*pip, requirements], longest_s=3600)
    (folder / "install.log").write_text(installed.text, encoding="utf-8")
    if installed.code:
        raise MissingError(
            f"The packages of {requirements.name} cannot be installed:\n{installed.tail()}\n"
            "Check the network and that the disk has 3 GB free, and run this again."
        )
    stamp.write_text(wanted, encoding="utf-8")
    say(f"Set up .venv-{version} in {time.monotonic() - began:.0f} s.")
    return python


def newest_ready() -> Path:
    """Return the newest environment that this machine can make.

    Raises
    ------
    MissingError
        If it has neither Python.
    """
    try:
        return ready(NEWEST)
    except MissingError as missing:
        say(f"{missing}\nTrying Python {OLDEST}.")
        return ready(OLDEST)
