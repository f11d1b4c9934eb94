"""Who may import whom: one order for the whole package, read from the source."""

from __future__ import annotations

import ast
from pathlib import Path

import pytest

PACKAGE = Path(__file__).resolve().parents[2] / "blender_addon"

ORDER = (
    "constants", "units", "sentences", "errors", "arrays", "notices", "fields", "watch",
    "geometry", "files", "catalog",
    "scan", "bubbles", "case", "funnel", "cut", "rubber", "resin", "parts", "pictures", "sheet",
    "settings", "presets", "layout", "memo", "job", "pipeline", "desk",
)  # fmt: skip
"""The layers of core from the ground up; a module imports only what stands before its own layer.

``job_plain`` and its like belong to ``job``. A file of ``constants`` named like a layer belongs
to that layer: those before it do not know it.
"""

SIDES = {
    "": {"ui"},
    "cli": {"core"},
    "ui": {"core", "bridge", "cli"},
    "bridge": {"core"},
    "core": set(),
}
"""Which parts of the package each part may import, besides itself; "" is what lies at the top."""

BLENDER = {"bpy", "bmesh", "mathutils", "gpu", "bpy_extras", "bl_math", "blf", "aud"}


def layer_of(name):
    """Return the layer that a module of core belongs to: ``job_plain`` is of ``job``."""
    return name if name in ORDER else name.split("_")[0]


def imports_of(source, path):
    """Yield line and the full path of what is imported, or of what is named to be loaded later.

    ``path`` is the module's own, from the package's top, as a tuple. Absolute names come as they
    are; relative ones begin with an empty part, then the path from the top.
    """
    for node in ast.walk(ast.parse(source)):
        if isinstance(node, ast.Import):
            for alias in node.names:
                yield node.lineno, tuple(alias.name.split("."))
        elif isinstance(node, ast.ImportFrom):
            module = tuple(node.module.split(".")) if node.module else ()
            if node.level == 0:
                yield node.lineno, module
                continue
            base = ("", *path[: len(path) - node.level], *module)
            yield from ((node.lineno, (*base, alias.name)) for alias in node.names)
        elif isinstance(node, ast.Call) and _is_loader(node.func) and node.args:
            yield from _loaded(node, path)


def _is_loader(function):
    name = function.attr if isinstance(function, ast.Attribute) else getattr(function, "id", "")
    return name in {"import_module", "__import__", "find_spec"}


def _loaded(call, path):
    name = call.args[0].value if isinstance(call.args[0], ast.Constant) else ""
    if not isinstance(name, str) or not name:
        return
    dots = len(name) - len(name.lstrip("."))
    rest = tuple(name.lstrip(".").split("."))
    yield call.lineno, ("", *path[: len(path) - dots], *rest) if dots else rest


def faults_of(source, path):
    """Return what a module imports against the order, a line each."""
    where = ".".join(path)
    side = path[0] if len(path) > 1 or path[0] == "cli" else ""
    found = []
    for line, name in imports_of(source, path):
        said = f"{where}:{line} imports {'.'.join(name)}"
        if name[0] == PACKAGE.name:
            found.append(f"{said}: our own package by its full name")
        elif name[0] in BLENDER and side in ("core", "cli"):
            found.append(f"{said}: Blender")
        elif name[0] == "" and name[1] != side:
            if name[1] not in SIDES[side] and (side, name[1]) != ("", "cli"):
                found.append(f"{said}: {side or 'the top'} does not know {name[1]}")
        elif name[:3] == ("", "core", "constants") and not _may_use(path, name[3]):
            found.append(f"{said}: those constants belong to a later stage")
        elif name[:2] == ("", "core") == ("", side) and not _is_downward(path[1], name[2]):
            found.append(f"{said}: {name[2]} stands no lower than {path[1]}")
    return found


def _is_downward(own, other):
    mine, theirs = layer_of(own), layer_of(other)
    if mine == theirs:
        return True
    return mine in ORDER and theirs in ORDER and ORDER.index(theirs) < ORDER.index(mine)


def _may_use(path, subject):
    if path[0] != "core" or subject not in ORDER:
        return True
    own = layer_of(path[-1] if path[1] == "constants" else path[1])
    return own in ORDER and ORDER.index(subject) <= ORDER.index(own)


def modules():
    for file in sorted(PACKAGE.rglob("*.py")):
        parts = file.relative_to(PACKAGE).with_suffix("").parts
        yield file, parts


def test_the_package_imports_downward_only():
    faults = [
        fault
        for file, path in modules()
        for fault in faults_of(file.read_text(encoding="utf-8"), path)
    ]
    assert faults == []


def test_every_module_of_core_has_a_layer():
    names = {path[1] for _, path in modules() if path[0] == "core" and path[1] != "__init__"}
    assert {name for name in names if layer_of(name) not in ORDER} == set()
    assert {"geometry", "files", "scan", "parts", "job", "pipeline"} <= {layer_of(n) for n in names}


def test_the_package_itself_loads_nothing_of_ours_at_its_top():
    tree = ast.parse((PACKAGE / "__init__.py").read_text(encoding="utf-8"))
    loaded = [node for node in tree.body if isinstance(node, ast.ImportFrom) and node.level]
    assert loaded == []


PLANTED = {
    "a later stage": ("core.bubbles.stage", "from ..case.result import CaseResult"),
    "ground takes from a stage": ("core.geometry.mesh", "from ..scan.stage import scan_stage"),
    "inside a function": ("core.scan.stage", "def f():\n    from ..pipeline import lay_out"),
    "for types only": ("core.scan.stage", "if TYPE_CHECKING:\n    from ..job import job_of"),
    "the module itself": ("core.units", "from . import pipeline"),
    "core knows the bridge": ("core.scan.stage", "from ...bridge.mesh import read_mesh"),
    "core knows the command line": ("core.job", "from ..cli import main"),
    "the bridge knows the window": ("bridge.mesh", "from ..ui import ids"),
    "the command line knows the window": ("cli", "from .ui.command import run"),
    "our own name": ("core.scan.stage", "from blender_addon.core.errors import RiselineError"),
    "our own name, whole": ("ui.command", "import blender_addon.cli"),
    "Blender in core": ("core.files.read", "import bpy"),
    "a part of Blender": ("core.files.read", "def f():\n    from mathutils.bvhtree import BVHTree"),
    "Blender's types": ("core.job_plain", "if TYPE_CHECKING:\n    import bmesh"),
    "Blender on the command line": ("cli", "import gpu"),
    "loaded by name": ("core.scan.stage", "import_module('bpy.types')"),
    "loaded by a relative name": ("core.scan.stage", "lib.import_module('..parts.stage', x)"),
    "a later stage's constants": ("core.scan.stage", "from ..constants.cut import X"),
    "constants of a later stage": ("core.constants.scan", "from .cut import X"),
    "no layer": ("core.scan.stage", "from ..helpers import anything"),
}


@pytest.mark.parametrize("case", PLANTED)
def test_a_planted_fault_is_seen(case):
    module, source = PLANTED[case]
    assert len(faults_of(source, tuple(module.split(".")))) == 1


ALLOWED = {
    "earlier stage": ("core.cut.stage", "from ..case.result import CaseResult"),
    "same package": ("core.cut.stage", "from .teeth import teeth\nfrom . import settings"),
    "own constants": ("core.cut.stage", "from ..constants.cut import X"),
    "an earlier stage's constants": ("core.cut.stage", "from ..constants.case import X"),
    "shared constants": ("core.units", "from .constants.common import X"),
    "constants for the window": ("ui.panels.scan", "from ...core.constants.scan import X"),
    "ground": ("core.cut.stage", "import numpy as np\nfrom ..geometry.mesh import Mesh"),
    "job and its siblings": ("core.job", "from .job_plain import plain"),
    "a sibling of job": ("core.job_tables", "from .geometry.solid import open_edges"),
    "the window knows all below": (
        "ui.x",
        "import bpy\nfrom ..bridge import show\nfrom ..core import job",
    ),
    "the command line knows core": ("cli", "from .core.pipeline import lay_out"),
    "the program": ("__main__", "from .cli import main"),
}


@pytest.mark.parametrize("case", ALLOWED)
def test_what_the_order_allows_is_not_held_against_it(case):
    module, source = ALLOWED[case]
    assert faults_of(source, tuple(module.split("."))) == []
