"""The command line: arguments, exit codes, progress. What is decided is decided in core."""

from __future__ import annotations

import argparse
import contextlib
import dataclasses
import math
import sys
import traceback
from pathlib import Path
from typing import IO, TYPE_CHECKING, NoReturn

from .core.constants.common import UNITS_MM
from .core.cut.patches import marks_of_patches
from .core.errors import RiselineError
from .core.files.read import read
from .core.job import job_text, refuse_folder, write_job
from .core.job_program import program
from .core.job_summary import summary
from .core.pipeline import lay_out
from .core.presets import PRESETS, preset
from .core.scan.settings import AXES
from .core.scan.warn import too_fine
from .core.settings import Settings, load
from .core.watch import Watch

if TYPE_CHECKING:
    from collections.abc import Sequence
    from types import TracebackType

WRITTEN, OUR_FAULT, BAD_INPUT = 0, 1, 2


def main(
    argv: Sequence[str], *, stdout: IO[str] | None = None, stderr: IO[str] | None = None
) -> int:
    """Run the command line.

    Parameters
    ----------
    argv : sequence of str
        What follows the program's name.
    stdout, stderr : text file, optional
        The system's if not given. Only the summary, the job or the help goes to ``stdout``.

    Returns
    -------
    int
        0 when a layout was written, 2 for bad input or when cancelled, 1 for a fault of ours.
    """
    out, err = stdout or sys.stdout, stderr or sys.stderr
    with _Faults(err) as faults:
        try:
            faults.code = _run(list(argv), out, err)
        except (RiselineError, _UsageError) as error:
            _say(err, str(error))
            faults.code = BAD_INPUT
        except KeyboardInterrupt:
            _say(err, "Cancelled: nothing was changed.")
            faults.code = BAD_INPUT
    return faults.code


class _Faults(contextlib.AbstractContextManager["_Faults"]):
    """Shows what nobody foresaw, in full, and ends with its own exit code."""

    def __init__(self, err: IO[str]) -> None:
        self.code = OUR_FAULT
        self._err = err

    def __exit__(
        self,
        kind: type[BaseException] | None,
        fault: BaseException | None,
        trace: TracebackType | None,
    ) -> bool:
        if not isinstance(fault, Exception):
            return False
        traceback.print_exception(kind, fault, trace, file=self._err)
        return True


class _UsageError(Exception):
    """The words on the command line make no sense."""


class _Parser(argparse.ArgumentParser):
    def error(self, message: str) -> NoReturn:
        """Raise instead of leaving the program: Blender may be the program."""
        raise _UsageError(f"{message}; --help shows how to write it.")


def _run(words: list[str], out: IO[str], err: IO[str]) -> int:
    try:
        with contextlib.redirect_stdout(out):  # where argparse prints help and version
            given = _parser().parse_args(_with_joined_axis(words))
    except SystemExit:
        return WRITTEN
    settings = _settings(given)
    refuse_folder(given.out)
    watch = Watch() if given.quiet else Watch(_Progress(err))
    watch.begin("Read")
    mesh = read(given.scan)
    for notice in too_fine(len(mesh.faces)):
        watch.begin("")
        _say(err, notice.text)
    marks = marks_of_patches(mesh, {name: read(name) for name in given.no_cut_here})
    layout = lay_out(mesh, settings, watch=watch, marks=marks)
    watch.begin("Write")
    job = write_job(layout, Path(given.scan).name, given.out, watch)
    watch.begin("")
    out.write(job_text(job) if given.json else summary(job, given.out))
    out.flush()
    return WRITTEN


def _parser() -> argparse.ArgumentParser:
    name, version = program()
    parser = _Parser(prog=name, description=_DESCRIPTION, allow_abbrev=False)
    parser.add_argument("--version", action="version", version=f"{name} {version}")
    commands = parser.add_subparsers(dest="command", required=True, metavar="COMMAND")
    layout = commands.add_parser("layout", help="lay out the mold of a scan", allow_abbrev=False)
    layout.add_argument("scan", metavar="SCAN", help="STL, PLY, OBJ or 3MF")
    layout.add_argument("--out", metavar="DIR", required=True, help="new folder for the job")
    sizes = layout.add_mutually_exclusive_group()
    for name, what in MEASURES.items():
        sizes.add_argument(f"--{name}-mm", metavar=name[0].upper(), type=_length_mm, help=what)
    sizes.add_argument("--unit", choices=UNITS_MM, help="instead, what the scan's numbers are")
    layout.add_argument("--preset", choices=PRESETS, help="settings for a size of piece")
    layout.add_argument("--up", metavar="AXIS", choices=AXES, help=f"one of {', '.join(AXES)}")
    layout.add_argument("--settings", metavar="FILE.toml", help="a table of settings a stage")
    layout.add_argument(
        "--no-cut-here", metavar="FILE", action="append", default=[],
        help="a mesh on the scan where no cut may go, such as some of its faces; more than once",
    )  # fmt: skip
    layout.add_argument("--json", action="store_true", help="print the job, not its summary")
    layout.add_argument("--quiet", action="store_true", help="tell nothing of the progress")
    return parser


MEASURES = {
    "height": "true height of the piece, base to top",
    "width": "instead, its true width along x once it stands upright",
    "depth": "instead, its true depth along y once it stands upright",
}

_DESCRIPTION = "Lays out a poured rubber mold from a scan of the clay."


def _with_joined_axis(words: list[str]) -> list[str]:
    """Return the words with ``--up -z`` as one, or ``-z`` would count as an option."""
    joined: list[str] = []
    for word in words:
        if joined and joined[-1] == "--up" and word in AXES:
            joined[-1] = f"--up={word}"
        else:
            joined.append(word)
    return joined


def _length_mm(word: str) -> float:
    try:
        length_mm = float(word)
    except ValueError:
        length_mm = math.nan
    if not 0.0 < length_mm < math.inf:
        raise argparse.ArgumentTypeError(f"{word!r} is no length in mm; measure the piece")
    return length_mm


def _settings(given: argparse.Namespace) -> Settings:
    settings = preset(given.preset) if given.preset is not None else Settings()
    if given.settings is not None:
        settings = load(given.settings, settings)
    scan = settings.scan
    height_mm, width_mm, depth_mm = given.height_mm, given.width_mm, given.depth_mm
    if height_mm or width_mm or depth_mm or given.unit:
        scan = dataclasses.replace(
            scan, height_mm=height_mm or 0.0, width_mm=width_mm or 0.0, depth_mm=depth_mm or 0.0,
            scale=UNITS_MM[given.unit or "millimeters"],
        )  # fmt: skip
    if given.up is not None:
        scan = dataclasses.replace(scan, up=given.up)
    return dataclasses.replace(settings, scan=scan)


class _Progress:
    """Writes a line a stage, or one line that changes where a person looks on."""

    def __init__(self, err: IO[str]) -> None:
        self._err, self._stage = err, ""
        self._lively = err.isatty()

    def __call__(self, stage: str, fraction: float) -> None:
        """Tell how far a stage is; no stage ends the telling."""
        if self._lively:
            text = f"{stage} {100.0 * fraction:.0f} %" if stage else ""
            self._err.write(f"\r{text:<40}" + ("" if stage else "\r"))
        elif stage and stage != self._stage:
            self._err.write(f"{stage} ...\n")
        self._stage = stage
        self._err.flush()


def _say(err: IO[str], text: str) -> None:
    """Write one line, whatever stands in the names that the text bears."""
    if err.isatty():
        err.write("\r")  # over the line of progress
    err.write(" ".join(text.split()) + "\n")
    err.flush()
