"""The extension's zip, one for a platform and Python, built and judged by Blender's own tool."""

from __future__ import annotations

import re
import shutil
import zipfile
from typing import TYPE_CHECKING

from heard import hear
from pages import write_pages
from place import BUILD, DIST, ROOT, MissingError, say
from wheels import wheels_for

if TYPE_CHECKING:
    from pathlib import Path

SOURCE = ROOT / "blender_addon"
SAMPLES = ROOT / "sample_scenes"
SAMPLE_ENDINGS = {".toml", ".ply", ".stl"}


def blender_tool(python: Path) -> Path:
    """Return Blender's builder and validator, which the bpy wheel of an environment carries."""
    pattern = "bpy/*/scripts/addons_core/bl_pkg/cli/blender_ext.py"
    found = sorted(python.parent.parent.rglob(pattern))
    if not found:
        raise MissingError(
            "The bpy wheel holds no blender_ext.py. Remove the .venv folders and run this again."
        )
    return found[-1]


def manifest_with_wheels(manifest: str, platform: str, wheels: list[str]) -> str:
    """Return a manifest that names its platform and the wheels that it carries."""
    lines = [f'platforms = ["{platform}"]', "wheels = ["]
    lines += [f'    "./wheels/{name}",' for name in wheels]
    head, brace, tables = manifest.partition("\n[")  # top-level keys stand before the first table
    return head.rstrip() + "\n\n" + "\n".join(lines) + "\n]\n" + brace + tables


def stage(folder: Path, platform: str, wheels: list[Path]) -> None:
    """Lay the files of the extension out as they are to lie in the zip."""
    shutil.rmtree(folder, ignore_errors=True)
    shutil.copytree(SOURCE, folder, ignore=shutil.ignore_patterns("__pycache__", "*.pyc", ".*"))
    shutil.copy(ROOT / "LICENSE", folder / "LICENSE")
    carry_samples(folder / "samples")
    write_pages(folder / "docs")
    (folder / "wheels").mkdir()
    for wheel in wheels:
        shutil.copy(wheel, folder / "wheels" / wheel.name)
    manifest = folder / "blender_manifest.toml"
    names = [one.name for one in wheels]
    text = manifest_with_wheels(manifest.read_text(encoding="utf-8"), platform, names)
    manifest.write_text(text, encoding="utf-8")


def carry_samples(folder: Path) -> None:
    """Copy the sample scans and their settings, which the add-on's menu opens."""
    folder.mkdir()
    for settings in sorted(SAMPLES.glob("*.toml")):
        for one in SAMPLES.glob(f"{settings.stem}.*"):
            if one.suffix in SAMPLE_ENDINGS:
                shutil.copy(one, folder / one.name)


def build(python: Path, platform: str, tag: str) -> Path:
    """Return the zip for a platform and Python, e.g. ("linux-x64", "3.13").

    Raises
    ------
    MissingError
        If a wheel is missing or Blender's validator refuses the zip; the text is the validator's.
    """
    folder = BUILD / "extension" / f"{platform}-{tag}"
    stage(folder, platform, wheels_for(python, platform, tag))
    DIST.mkdir(exist_ok=True)
    manifest = (SOURCE / "blender_manifest.toml").read_text(encoding="utf-8")
    version = re.findall(r'^version = "(.+)"', manifest, re.MULTILINE)[0]
    target = DIST / f"riseline-{version}-{platform}-py{tag.replace('.', '')}.zip"
    target.unlink(missing_ok=True)
    tool = [python, blender_tool(python)]
    judge([*tool, "build", "--source-dir", folder, "--output-filepath", target])
    judge([*tool, "validate", target])
    with zipfile.ZipFile(target) as held:
        size = f"{target.stat().st_size / 1e6:.1f} MB, {len(held.namelist())} files"
    say(f"{target.relative_to(ROOT)}: {size}, valid")
    return target


def judge(command: list[object]) -> None:
    """Run Blender's tool on the extension; raise MissingError with what it refuses."""
    judged = hear(command)
    if judged.code:
        raise MissingError(f"Blender's tool refuses the extension:\n{judged.text.rstrip()}")
