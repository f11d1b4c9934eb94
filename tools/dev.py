"""One door to the project: demo, test, check, layout, zip, screenshots, stalls, window, bench.

Runs with any Python from 3.9 on; makes the environments that it needs in .venv-3.13 and .venv-3.11.
"""

from __future__ import annotations

import argparse
import os
import subprocess
import sys

import lanes
import package
import stalls
import tour
import window
from place import ROOT, TOOLS, MissingError, say
from venvs import newest_ready
from wheels import PLATFORMS, PYTHONS


def main(argv: list[str]) -> int:
    """Return 0 when all went well, 1 when a test failed, 2 when something is missing."""
    parser = argparse.ArgumentParser(prog="dev.py", description=__doc__.split("\n", 1)[0])
    commands = parser.add_subparsers(dest="command", required=True)
    commands.add_parser("demo", help="lay out a sample scan; pictures and a .blend in build/demo")
    test = commands.add_parser("test", help="every check and test; the last line adds them up")
    test.add_argument(
        "--lanes", nargs="+", choices=lanes.EVERY_LANE, default=lanes.EVERY_LANE, help="only these"
    )
    test.add_argument("-k", default="", help="only tests whose names match, as in pytest")
    commands.add_parser("check", help="lint, format and types only")
    commands.add_parser("layout", help="lay out a scan by the command line", add_help=False)
    zips = commands.add_parser("zip", help="the extension's zips, in dist/")
    zips.add_argument("--only", choices=sorted(PLATFORMS), help="one platform")
    zips.add_argument("--python", choices=PYTHONS, help="one Python")
    shots = commands.add_parser("screenshots", help="take the pictures of docs/ anew")
    shots.add_argument("--scale", type=float, default=1.0, help="of the interface; 1 renews docs/")
    shots.add_argument(
        "--states", action="store_true", help="instead, all panels in every state; names cut labels"
    )
    shots.add_argument(
        "--tour", action="store_true", help="instead, the whole job by clicks, a picture a step"
    )
    commands.add_parser("window", help="open Blender with the extension installed")
    waits = commands.add_parser("stalls", help="how long the window stands still in a large run")
    waits.add_argument("scan", nargs="?", help="a file; else a dragon of 871 000 triangles")
    benches = commands.add_parser("bench", help="seconds of each stage, and of a changed case")
    benches.add_argument("scan", nargs="?", help="a file; else the samples")
    benches.add_argument(
        "--air", nargs="?", const="", metavar="SCAN",
        help="instead, trapped air against a general library, on SCAN or the toadstool",
    )  # fmt: skip
    options, rest = parser.parse_known_args(argv)
    if rest and options.command != "layout":
        parser.error(f"unknown: {' '.join(rest)}")
    try:
        return carry_out(options, rest)
    except MissingError as missing:
        say(str(missing))
        return 2
    except KeyboardInterrupt:
        say("Stopped.")
        return 130


def carry_out(options: argparse.Namespace, rest: list[str]) -> int:
    """Do what was asked; return the exit code."""
    pytest_words = ["-k", options.k] if getattr(options, "k", "") else []
    commands = {
        "demo": lambda: in_environment(str(TOOLS / "demo.py")),
        "test": lambda: lanes.run(set(options.lanes), pytest_words),
        "check": lambda: lanes.run({"lint", "format", "types"}, []),
        "layout": lambda: in_environment("-m", "blender_addon", "layout", *rest),
        "zip": lambda: zips(options.only, options.python),
        "window": lambda: window.open_blender(newest_ready()),
        "screenshots": lambda: pictures_of(options),
        "stalls": lambda: stalls.measure(newest_ready(), options.scan),
        "bench": lambda: bench(options),
    }
    return commands[options.command]()


def pictures_of(options: argparse.Namespace) -> int:
    """Take the pictures of docs/, or those of every state, or of the whole job."""
    take = window.panel_states if options.states else window.screenshots
    take = tour.tour if options.tour else take
    return take(newest_ready(), options.scale)


def bench(options: argparse.Namespace) -> int:
    """Time the stages, or trapped air alone, on the scan that is named."""
    tool, scan = (
        ("bench.py", options.scan) if options.air is None else ("bench_air.py", options.air)
    )
    return in_environment(str(TOOLS / tool), *filter(None, [scan]))


def in_environment(*arguments: str) -> int:
    """Run the newest environment's Python on arguments, where the user stands."""
    path = os.pathsep.join(filter(None, [str(ROOT), os.environ.get("PYTHONPATH", "")]))
    env = {**os.environ, "PYTHONPATH": path, "PYTHONDONTWRITEBYTECODE": "1"}
    return subprocess.run([str(newest_ready()), *arguments], env=env, check=False).returncode


def zips(platform: str | None, python: str | None) -> int:
    """Build the zips asked for, or all that users need."""
    builder = newest_ready()
    if platform or python:
        wanted = [(one, tag) for one in PLATFORMS for tag in PYTHONS
                  if one == (platform or one) and tag == (python or tag)]  # fmt: skip
    else:
        wanted = [(one, tag) for one in PLATFORMS for tag in PYTHONS[:2]]
        wanted.append(("linux-x64", PYTHONS[2]))
    for one, tag in wanted:
        package.build(builder, one, tag)
    return 0


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))
