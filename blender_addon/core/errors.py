"""Everything that can be wrong with what a user gives us.

The text of each says what is wrong, where, and what to do. Anything else that is raised is our own
fault and must show as such.
"""

from __future__ import annotations

from typing import Any

from .sentences import Sentence, marked


def _as_raised(
    kind: type[RiselineError], args: tuple[Any, ...], told: dict[str, Any]
) -> RiselineError:
    error = kind.__new__(kind)
    error.args = args
    error.__dict__.update(told)
    return error


class RiselineError(Exception):
    """The root: window and command line catch this one only.

    Its text is a ``Sentence``, so that lengths in it can be read in inches too.
    """

    def __str__(self) -> str:
        """Return the text in millimetres, which knows how it reads in inches."""
        return Sentence(marked(self.args[0])) if self.args else ""

    def __reduce__(self) -> tuple[Any, ...]:
        """Bring an error from one process to another as it was raised."""
        return _as_raised, (type(self), self.args, self.__dict__)


class CancelledError(RiselineError):
    """The user stopped the work."""

    def __init__(self) -> None:
        super().__init__("Cancelled: nothing was changed.")


class LostWorkError(RiselineError):
    """The process that computes ended in the middle."""

    def __init__(self, code: int) -> None:
        super().__init__(
            f"The computation ended by itself (code {code}), perhaps for want of memory. "
            "Close other programs or use a coarser scan, then lay out the mold again."
        )


class UnreadableFileError(RiselineError, ValueError):
    """A file holds no mesh that can be read."""

    def __init__(self, path: str, what: str, advice: str) -> None:
        self.path, self.what = path, what
        super().__init__(f"{path}: {what}. {advice}")


class UnwritableFolderError(RiselineError, OSError):
    """A folder cannot be written, or holds something that is not ours."""

    def __init__(self, path: str, what: str, advice: str) -> None:
        self.path, self.what = path, what
        super().__init__(f"{path}: {what}. {advice}")


class UnwritableFileError(RiselineError, OSError):
    """A file cannot be written; what stood there before still stands."""

    def __init__(self, path: str, what: str, advice: str) -> None:
        self.path, self.what = path, what
        super().__init__(f"{path}: {what}. {advice}")


class UnusableMeshError(RiselineError, ValueError):
    """The mesh was read, but nothing can be molded from it."""


class BadSettingError(RiselineError, ValueError):
    """A setting is out of its range, or of the wrong kind."""

    def __init__(self, name: str, what: str) -> None:
        self.name = name
        super().__init__(f"Setting {name}: {what}")


class OpenPartError(RiselineError, ValueError):
    """A part to print did not come out as one closed solid."""


class UnknownPartError(RiselineError, ValueError):
    """There is no such part to write, or no such way to write it."""


class NoWayForSlitError(RiselineError, ValueError):
    """Every way for the slit is barred by the maker's own marks or settings, or by the piece."""

    def __init__(self, message: str, at_mm: tuple[float, float, float]) -> None:
        self.at_mm = at_mm
        super().__init__(message)
