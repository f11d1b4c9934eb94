"""What runs again when a setting changes: asked of the job itself, so the two agree."""

from __future__ import annotations

from dataclasses import fields
from functools import cache
from typing import TYPE_CHECKING, Any, TypeVar, cast

import numpy as np

from .geometry.mesh import Mesh
from .memo import Memo
from .pipeline import lay_out
from .settings import Settings

if TYPE_CHECKING:
    from collections.abc import Callable, Collection

    from .watch import Watch

Result = TypeVar("Result")


class _Made:
    """Stands for what a stage would have found, and for anything within it."""

    def __init__(self, stage: str) -> None:
        self._stage = stage

    def __getattr__(self, name: str) -> _Made:
        return self

    @property
    def stage(self) -> str:
        """The stage's name."""
        return self._stage


class _Reader(Memo):
    """Runs nothing: writes down by what each stage was given."""

    def __init__(self) -> None:
        super().__init__()
        self.inputs: dict[str, set[str]] = {}

    def __call__(
        self, label: str, stage: Callable[..., Result], *inputs: Any, watch: Watch
    ) -> Result:
        """Return a stand-in for the result."""
        del stage, watch
        name = label.lower()
        given = self.inputs.setdefault(name, set())
        given |= {one.stage for one in inputs if isinstance(one, _Made)} - {name}
        return cast("Result", _Made(name))


@cache
def inputs_of_stages() -> dict[str, frozenset[str]]:
    """Return the stages whose results each stage takes, in the order in which they run.

    Examples
    --------
    >>> sorted(inputs_of_stages()["funnel"])
    ['case']
    """
    reader = _Reader()
    nothing = Mesh(np.zeros((3, 3)), np.zeros((0, 3), dtype=np.int64))
    lay_out(nothing, Settings(), reader)
    return {stage: frozenset(given) for stage, given in reader.inputs.items()}


def stages_after(changed: Collection[str]) -> tuple[str, ...]:
    """Return the stages that run again when the settings of some change, themselves included.

    Parameters
    ----------
    changed : collection of str
        Names of stages.

    Examples
    --------
    >>> stages_after({"funnel"})[0], "scan" in stages_after({"case"})
    ('funnel', False)
    """
    again: list[str] = []
    for stage, given in inputs_of_stages().items():
        if stage in changed or given & set(again):
            again.append(stage)
    return tuple(again)


def changed_stages(old: dict[str, Any], new: dict[str, Any]) -> tuple[str, ...]:
    """Return the stages whose own settings differ between two sets of tables.

    Parameters
    ----------
    old, new : dict
        As `settings.as_tables`. A setting that an older version did not know does not count.

    Examples
    --------
    >>> changed_stages({"cut": {"tooth_mm": 8.0}}, {"cut": {"tooth_mm": 9.0, "newer": 1.0}})
    ('cut',)
    """
    names = [field.name for field in fields(Settings)]
    return tuple(
        stage
        for stage in names
        if any(
            key in old.get(stage, {}) and old[stage][key] != value
            for key, value in new.get(stage, {}).items()
        )
    )
