"""What the lanes of a test run found, added up."""

from __future__ import annotations

import xml.etree.ElementTree as ET  # reads only what our own pytest wrote
from dataclasses import dataclass
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from pathlib import Path

    from heard import Heard


@dataclass(frozen=True)
class Outcome:
    """What one lane found. ``log`` is what it printed; ``absent`` says why it did not run."""

    lane: str
    passed: int = 0
    failed: int = 0
    skipped: int = 0
    seconds: float = 0.0
    log: str = ""
    absent: str = ""


def from_junit(lane: str, report: Path, run: Heard) -> Outcome:
    """Return what a pytest run found, from its JUnit report and its exit code.

    A run that ended without a report, or badly without a failed test, counts as one failure.
    """
    total = failed = skipped = 0
    if report.exists():
        for suite in ET.parse(report).getroot().iter("testsuite"):
            total += int(suite.get("tests", 0))
            failed += int(suite.get("failures", 0)) + int(suite.get("errors", 0))
            skipped += int(suite.get("skipped", 0))
    if run.code and not failed:
        total, failed = total + 1, 1
    return Outcome(lane, max(total - failed - skipped, 0), failed, skipped, run.seconds, run.text)


def single(lane: str, run: Heard) -> Outcome:
    """Return the outcome of a lane that is one check by its exit code."""
    return Outcome(lane, int(run.code == 0), int(run.code != 0), 0, run.seconds, run.text)


def table(outcomes: list[Outcome]) -> str:
    """Return a line for each lane: what ran, and plainly what did not."""
    lines = []
    for one in outcomes:
        found = f"{one.passed:5d} passed {one.failed:4d} failed {one.seconds:7.1f} s"
        lines.append(f"{one.lane:28s} " + (f"not run: {one.absent}" if one.absent else found))
    return "\n".join(lines)


def closing_line(outcomes: list[Outcome], seconds: float) -> str:
    """Return the last line of a run, in pytest's words.

    Examples
    --------
    >>> closing_line([Outcome("core", passed=3), Outcome("lint", failed=1)], 2.5)
    '===== 1 failed, 3 passed in 2.50s ====='
    """
    counts = {
        word: sum(getattr(one, word) for one in outcomes)
        for word in ("failed", "passed", "skipped")
    }
    said = ", ".join(f"{count} {word}" for word, count in counts.items() if count)
    return f"===== {said or 'no tests ran'} in {seconds:.2f}s ====="
