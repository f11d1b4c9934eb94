"""The lanes of the test run: lint, types, core and Blender on both Pythons, the window."""

from __future__ import annotations

import os
import time
from concurrent.futures import ThreadPoolExecutor
from dataclasses import replace
from typing import TYPE_CHECKING, Callable

import window
from heard import hear
from place import BUILD, ROOT, MissingError, say
from tally import Outcome, closing_line, from_junit, single, table
from venvs import NEWEST, OLDEST, ready

if TYPE_CHECKING:
    from pathlib import Path

CHECKED = ["blender_addon", "tests", "tools", "sample_scenes"]
CHECKS = {
    "lint": ["ruff", "check", *CHECKED],
    "format": ["ruff", "format", "--check", *CHECKED],
    "types": ["mypy"],
}
PYTEST_LANES = {
    "core": ["tests/core", "tests/samples", "tests/tools", "blender_addon/core"],
    "blender": ["tests/blender"],
}
EVERY_LANE = (*CHECKS, *PYTEST_LANES, "window")
NOT_AGAIN = ["-m", "not once"]
"""Words that leave out what the newest Python is enough for."""


def check(lane: str, python: Path) -> Outcome:
    """Run lint, the format's check or the types."""
    return single(lane, hear([python, "-m", *CHECKS[lane]]))


def pytest_lane(kind: str, version: str, python: Path, extra: list[str]) -> Outcome:
    """Run a folder of tests on one Python; its report lands in build/test."""
    report = BUILD / "test" / f"{kind}-{version}.xml"
    report.parent.mkdir(parents=True, exist_ok=True)
    report.unlink(missing_ok=True)
    folders = [one for one in PYTEST_LANES[kind] if (ROOT / one).exists()]
    words = ["-q", "-p", "no:cacheprovider", f"--junitxml={report}", *folders, *extra]
    return from_junit(f"{kind}, Python {version}", report, hear([python, "-m", "pytest", *words]))


def plan(
    environments: dict[str, Path], wanted: set[str], extra: list[str]
) -> list[Callable[[], list[Outcome]]]:
    """Return the lanes that can run, each as a function of nothing, in the order to begin them.

    The window's comes first, as it waits for a Blender to start and to draw and so cannot be made
    shorter; then the quick checks; then the longer lanes before the shorter ones, lest the last
    one runs alone.
    """

    def left_out(version: str) -> list[str]:
        return NOT_AGAIN if version != NEWEST and NEWEST in environments else []

    lanes: list[Callable[[], list[Outcome]]] = []
    if "window" in wanted and environments:
        lanes.append(lambda: window_lane(next(iter(environments.values()))))
    if NEWEST in environments:
        newest = environments[NEWEST]
        lanes += [lambda lane=lane: [check(lane, newest)] for lane in CHECKS if lane in wanted]
    for kind in PYTEST_LANES:
        lanes += [
            lambda k=kind, v=version, p=python: [pytest_lane(k, v, p, [*extra, *left_out(v)])]
            for version, python in environments.items()
            if kind in wanted
        ]
    return lanes


def environments_of(outcomes: list[Outcome]) -> dict[str, Path]:
    """Make both environments; note what cannot be made."""
    found = {}
    for version in (NEWEST, OLDEST):
        python, missing = attempt(version)
        if python:
            found[version] = python
        else:
            outcomes.append(Outcome(f"Python {version}", absent=missing))
    return found


def attempt(version: str) -> tuple[Path | None, str]:
    """Return the Python of an environment, or None and what is missing for it."""
    try:
        return ready(version), ""
    except MissingError as missing:
        return None, str(missing)


def window_lane(python: Path) -> list[Outcome]:
    """Use the installed zip in a Blender, or say why that cannot be."""
    try:
        return window.lane(python)
    except MissingError as missing:
        return [Outcome("window", absent=str(missing))]


def tell(outcomes: list[Outcome]) -> list[Outcome]:
    """Say how a lane went, and show all it printed when it failed."""
    for outcome in outcomes:
        if outcome.failed and outcome.log:
            say(f"----- {outcome.lane}\n{outcome.log.rstrip()}\n-----")
        say(table([outcome]))
    return outcomes


def run(wanted: set[str], extra: list[str]) -> int:
    """Run the lanes; return the exit code. On CI, what is missing is a failure."""
    began, outcomes = time.monotonic(), []
    environments = environments_of(outcomes)
    with ThreadPoolExecutor(max(1, min(2, os.cpu_count() or 1))) as pool:
        told = pool.map(lambda lane: tell(lane()), plan(environments, wanted, extra))
        outcomes += [outcome for lane in told for outcome in lane]
    if os.environ.get("CI") == "true":
        outcomes = [replace(one, failed=1) if one.absent else one for one in outcomes]
    print(table(outcomes))
    print(closing_line(outcomes, time.monotonic() - began), flush=True)
    return int(any(one.failed for one in outcomes) or not any(one.passed for one in outcomes))
