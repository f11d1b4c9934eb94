"""Started as a script: makes the package known by its name without what needs Blender, and serves.

What is sent to and fro names its classes by the package's full name in Blender, which lies under
packages that only Blender has.
"""

from __future__ import annotations

import importlib
import json
import sys
from types import ModuleType


def stand_in(package: str, folder: str) -> None:
    """Put empty packages of that name in place, the last of which looks for modules in a folder.

    Parameters
    ----------
    package : str
        With dots.
    folder : str
        Where the modules of the last one lie.
    """
    names = package.split(".")
    for count in range(1, len(names) + 1):
        module = ModuleType(".".join(names[:count]))
        module.__path__ = [folder] if count == len(names) else []
        sys.modules[module.__name__] = module


if __name__ == "__main__":
    _package, _folder, _path = json.loads(sys.argv[1])
    sys.path[:] = _path
    stand_in(_package, _folder)
    importlib.import_module(f"{_package}.core.desk.serve").main()
