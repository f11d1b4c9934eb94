from __future__ import annotations

import sys
import tomllib
import zipfile
from pathlib import Path

import package
import pytest
import wheels
from packaging.tags import compatible_tags, cpython_tags
from packaging.utils import parse_wheel_filename
from place import ROOT, MissingError

MANIFEST = (ROOT / "blender_addon" / "blender_manifest.toml").read_text(encoding="utf-8")


def test_the_manifest_names_its_platform_and_wheels_and_keeps_all_else():
    before = tomllib.loads(MANIFEST)
    after = tomllib.loads(
        package.manifest_with_wheels(MANIFEST, "windows-x64", ["a-1-py3-none-any.whl"])
    )
    assert after.pop("platforms") == ["windows-x64"]
    assert after.pop("wheels") == ["./wheels/a-1-py3-none-any.whl"]
    assert after == before


def test_what_is_staged_is_the_extension_with_its_licence_and_no_leavings(tmp_path):
    wheel = tmp_path / "a-1-py3-none-any.whl"
    wheel.write_bytes(b"")
    package.stage(tmp_path / "staged", "linux-x64", [wheel])
    names = {str(one.relative_to(tmp_path / "staged")) for one in (tmp_path / "staged").rglob("*")}
    assert {"__init__.py", "LICENSE", "blender_manifest.toml"} <= names
    assert any(name.endswith("a-1-py3-none-any.whl") for name in names)
    assert not [name for name in names if "__pycache__" in name or name.endswith(".pyc")]
    assert not [name for name in names if name.startswith("test")]


@pytest.mark.parametrize("python", wheels.PYTHONS)
def test_every_carried_library_is_pinned_as_it_is_tested(python):
    pins = wheels.pins(python)
    assert [pin.split("==")[0] for pin in pins] == list(wheels.CARRIED)
    assert "numpy" not in str(pins)  # Blender brings its own


def test_our_platform_tags_are_those_of_the_standard():
    # PEP 425 and PEP 600 as the packaging library reads them: a wheel for CPython 3.13
    ours = wheels.PLATFORMS["linux-x64"]
    tags = set(cpython_tags((3, 13), platforms=ours)) | set(
        compatible_tags((3, 13), platforms=ours)
    )
    name = "scipy-1.18.1-cp313-cp313-manylinux_2_27_x86_64.manylinux_2_28_x86_64.whl"
    assert parse_wheel_filename(name)[3] & tags


def test_what_blenders_tool_refuses_is_said():
    with pytest.raises(MissingError, match="refuses the extension"):
        package.judge(["no-such-tool", "validate", "x.zip"])


def test_a_damaged_zip_is_refused_by_blenders_own_validator(tmp_path):
    broken = tmp_path / "broken.zip"
    with zipfile.ZipFile(broken, "w") as held:
        held.writestr("blender_manifest.toml", MANIFEST.replace("schema_version", "schema"))
        held.writestr("__init__.py", "")
    python = Path(sys.executable)
    with pytest.raises(MissingError, match="schema_version"):
        package.judge([python, package.blender_tool(python), "validate", broken])
