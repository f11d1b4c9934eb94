"""Finding a Python of a wanted version that really runs."""

from __future__ import annotations

import os
import shutil
import subprocess
import sys
from pathlib import Path

from place import MissingError

LETTERS = "import sys; print('%d.%d' % sys.version_info[:2]); print(sys.executable)"


def candidates(version: str, home: Path | None = None) -> list[list[str]]:
    """Return the commands that may start a Python of this version, the likeliest first.

    A name on the path comes before the folders of Python managers, and the Windows launcher last.
    """
    home = home or Path.home()
    found = [[sys.executable]] if sys.executable else []
    found += [
        [path] for name in (f"python{version}", "python3", "python") if (path := shutil.which(name))
    ]
    pyenv = [Path(os.environ["PYENV_ROOT"])] if os.environ.get("PYENV_ROOT") else []
    pyenv += [home / ".pyenv", home / ".pyenv" / "pyenv-win"]
    uv = (
        [Path(os.environ["UV_PYTHON_INSTALL_DIR"])]
        if os.environ.get("UV_PYTHON_INSTALL_DIR")
        else []
    )
    uv += [home / ".local" / "share" / "uv" / "python"]
    if os.environ.get("APPDATA"):
        uv.append(Path(os.environ["APPDATA"]) / "uv" / "python")
    for folder, pattern in [(one / "versions", f"{version}*") for one in pyenv] + [
        (one, f"cpython-{version}*") for one in uv
    ]:
        for one in sorted(folder.glob(pattern), reverse=True):
            found += [[str(one / "bin" / f"python{version}")], [str(one / "python.exe")]]
    if shutil.which("py"):
        found.append(["py", f"-{version}"])
    return found


def real_python(command: list[str], version: str) -> str | None:
    """Return the path of the Python that a command starts, or None when it is another or none.

    A name is not enough: the shim of a Python manager exists and still refuses to run.
    """
    try:
        done = subprocess.run(
            [*command, "-c", LETTERS], capture_output=True, text=True, timeout=60, check=False
        )
    except (OSError, subprocess.TimeoutExpired):
        return None
    lines = done.stdout.split("\n")
    return lines[1].strip() if done.returncode == 0 and lines[0].strip() == version else None


def find_python(version: str) -> str:
    """Return the path of a Python of this version.

    Raises
    ------
    MissingError
        If none runs on this machine.
    """
    for command in candidates(version):
        if path := real_python(command, version):
            return path
    raise MissingError(
        f"Python {version} was not found. Install it from your system's packages or python.org, or "
        f"by 'pyenv install {version}' or 'uv python install {version}', and run this again."
    )
