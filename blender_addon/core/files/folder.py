"""A folder that is written whole or not at all, and never over somebody else's files."""

from __future__ import annotations

import contextlib
import os
import secrets
import shutil
from pathlib import Path
from typing import TYPE_CHECKING

from ..errors import UnwritableFolderError

if TYPE_CHECKING:
    from collections.abc import Callable, Iterator

ELSEWHERE = "Name a new folder, or empty this one."


def refuse_foreign(path: str | Path, own_files: Callable[[Path], frozenset[str]]) -> None:
    """Raise if a folder cannot be replaced: ask before long work.

    Parameters
    ----------
    path : str or Path
        The folder; it need not exist.
    own_files : callable
        Told the folder; names what in it may be replaced, relative and with forward slashes.

    Raises
    ------
    UnwritableFolderError
        If it is a file, holds anything else, or is the folder one stands in.
    """
    folder, name = _resolved(path), str(path)
    try:
        if folder.exists():
            _refuse_standing(folder, name, own_files)
            return
        above = next((one for one in folder.parents if one.exists()), folder)
    except UnwritableFolderError:
        raise
    except OSError as error:
        raise _unwritable(name, error) from error
    if not above.is_dir():
        what = f"{above} is a file, so no folder can be in it"
        raise UnwritableFolderError(name, what, ELSEWHERE)


def _refuse_standing(folder: Path, name: str, own_files: Callable[[Path], frozenset[str]]) -> None:
    if not folder.is_dir():
        raise UnwritableFolderError(name, "a file of this name is in the way", ELSEWHERE)
    here = Path.cwd()
    if folder == here or folder in here.parents:
        what = "this is the folder you stand in, and it cannot be replaced"
        raise UnwritableFolderError(name, what, "Name a folder inside it.")
    if strange := _strange(folder, own_files(folder)):
        more = f" and {len(strange) - 1} more" if len(strange) > 1 else ""
        what = f"it holds what is not ours ({strange[0]}{more})"
        raise UnwritableFolderError(name, what, ELSEWHERE)


@contextlib.contextmanager
def whole_folder(path: str | Path, own_files: Callable[[Path], frozenset[str]]) -> Iterator[Path]:
    """Give a new folder to write to, and put it in place of ``path`` when all went well.

    Parameters
    ----------
    path : str or Path
        The folder wanted; folders above it are made. It is replaced only if it is empty or holds
        nothing but its own files.
    own_files : callable
        As for `refuse_foreign`.

    Yields
    ------
    Path
        Beside ``path``, so that it can be renamed; gone when anything is raised.

    Raises
    ------
    UnwritableFolderError
        If it holds what is not ours, or the system refuses or runs out of room.
    """
    refuse_foreign(path, own_files)
    folder, name = _resolved(path), str(path)
    fresh = folder.parent / f".{folder.name}.{secrets.token_hex(4)}.part"
    made: list[Path] = []
    try:
        _make_parents(folder.parent, made)
        fresh.mkdir()
        yield fresh
        refuse_foreign(path, own_files)  # somebody may have put a file there meanwhile
        _put(fresh, folder)
    except BaseException as error:
        shutil.rmtree(fresh, ignore_errors=True)
        for one in reversed(made):
            with contextlib.suppress(OSError):  # something else was put there: it stays
                one.rmdir()
        if isinstance(error, OSError) and not isinstance(error, UnwritableFolderError):
            raise _unwritable(name, error) from error
        raise


def _resolved(path: str | Path) -> Path:
    try:
        return Path(path).resolve()
    except (OSError, ValueError, RuntimeError) as error:
        what = f"this is no name of a folder ({error})"
        raise UnwritableFolderError(str(path), what, "Name a new folder.") from error


def _unwritable(name: str, error: OSError) -> UnwritableFolderError:
    what = f"it cannot be written ({error.strerror or error})"
    return UnwritableFolderError(name, what, "Free some room, or name another folder.")


def _strange(folder: Path, own: frozenset[str]) -> list[str]:
    """Return what stands in a folder and is neither an own file nor a folder that one lies in."""
    above = {str(one.as_posix()) for name in own for one in Path(name).parents}
    found = []
    for root, folders, files in os.walk(folder, onerror=_raise):
        place = Path(root).relative_to(folder)
        links = [one for one in folders if (Path(root) / one).is_symlink()]
        found += [one for name in (*files, *links) if (one := (place / name).as_posix()) not in own]
        found += [
            one
            for name in folders
            if name not in links and (one := (place / name).as_posix()) not in above
        ]
    return sorted(found)


def _raise(error: OSError) -> None:
    raise error


def _make_parents(folder: Path, made: list[Path]) -> None:
    missing = [one for one in (folder, *folder.parents) if not one.exists()]
    for one in reversed(missing):
        one.mkdir()
        made.append(one)


def _put(fresh: Path, folder: Path) -> None:
    """Rename the fresh folder into place; the old one comes back if that fails."""
    if not folder.exists():
        fresh.rename(folder)
        return
    shutil.copymode(folder, fresh)
    old = fresh.with_suffix(".old")
    folder.rename(old)
    try:
        fresh.rename(folder)
    except BaseException:
        old.rename(folder)
        raise
    shutil.rmtree(old, ignore_errors=True)
