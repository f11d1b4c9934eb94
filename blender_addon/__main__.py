"""``python -m blender_addon layout SCAN --out DIR``."""

from __future__ import annotations

import io
import sys

from .cli import main

if __name__ == "__main__":
    for stream in (sys.stdout, sys.stderr):
        if isinstance(stream, io.TextIOWrapper):
            stream.reconfigure(errors="backslashreplace")  # names of files may not fit the console
    sys.exit(main(sys.argv[1:]))
