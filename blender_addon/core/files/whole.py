"""One file, written whole or not at all."""

from __future__ import annotations

import contextlib
import secrets
from pathlib import Path

from ..errors import UnwritableFileError


def write_whole(path: str | Path, data: bytes) -> None:
    """Write a file beside its place and then put it there, so that no reader ever finds half of it.

    Parameters
    ----------
    path : str or Path
        The file; folders above it are made. One that stands there is replaced.
    data : bytes
        All of it.

    Raises
    ------
    UnwritableFileError
        If the system refuses or runs out of room; the old file is as it was.
    """
    where = Path(path)
    fresh = where.with_name(f".{where.name}.{secrets.token_hex(4)}.part")
    try:
        where.parent.mkdir(parents=True, exist_ok=True)
        fresh.write_bytes(data)
        fresh.replace(where)
    except OSError as error:
        with contextlib.suppress(OSError):
            fresh.unlink()
        what = f"it cannot be written ({error.strerror or error})"
        advice = "Free some room, or name another place."
        raise UnwritableFileError(str(path), what, advice) from error
