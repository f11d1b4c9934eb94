"""One file that is written whole or not at all."""

from __future__ import annotations

import os
import secrets
from pathlib import Path

from ..errors import UnwritableFolderError


def write_whole(path: str | Path, content: bytes) -> None:
    """Write a file beside its place and move it there when all of it is on the disk.

    Raises
    ------
    UnwritableFolderError
        If the system refuses or runs out of room; what stood there is as it was.
    """
    target = Path(path)
    fresh = target.with_name(f".{target.name}.{secrets.token_hex(4)}.part")
    try:
        with fresh.open("xb") as file:
            file.write(content)
            file.flush()
            os.fsync(file.fileno())
        fresh.replace(target)
    except OSError as error:
        fresh.unlink(missing_ok=True)
        what = f"it cannot be written ({error.strerror or error})"
        advice = "Free some room, or name another file."
        raise UnwritableFolderError(str(path), what, advice) from error
