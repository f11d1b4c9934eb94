"""Starting a program and hearing all that it prints."""

from __future__ import annotations

import os
import subprocess
import time
from dataclasses import dataclass

from place import ROOT


@dataclass(frozen=True)
class Heard:
    """How a program ended: exit code, seconds, what it printed."""

    code: int
    seconds: float
    text: str

    def tail(self, lines: int = 8) -> str:
        """Return the last lines, where programs say what went wrong."""
        return "\n".join(self.text.splitlines()[-lines:])


def hear(command: list[object], longest_s: float = 1800.0, **settings: str) -> Heard:
    """Run a command in the repository, without input; stop it after a time.

    ``settings`` are added to the environment variables. A program that does not start, or that
    had to be stopped, has exit code 1.
    """
    began = time.monotonic()
    env = {**os.environ, "PYTHONDONTWRITEBYTECODE": "1", "PYTHONIOENCODING": "utf-8", **settings}
    try:
        done = subprocess.run(
            list(map(str, command)), cwd=ROOT, env=env, timeout=longest_s, check=False,
            stdin=subprocess.DEVNULL, stdout=subprocess.PIPE, stderr=subprocess.STDOUT,
        )  # fmt: skip
        code, printed = done.returncode, done.stdout
    except subprocess.TimeoutExpired as slow:
        code, printed = 1, (slow.stdout or b"") + f"\nstopped after {longest_s:.0f} s".encode()
    except OSError as error:
        code, printed = 1, str(error).encode()
    return Heard(code, time.monotonic() - began, printed.decode("utf-8", "replace"))
