"""Which tubes there are to choose from."""

from __future__ import annotations

from typing import TYPE_CHECKING

from ..catalog.tubes import tubes
from .stock_lists import COMMON, OWN

if TYPE_CHECKING:
    from ..catalog.tube import Tube
    from .settings import CaseSettings


def stock_of(settings: CaseSettings) -> tuple[Tube, ...]:
    """Return the tubes to choose from, narrowest first.

    An own tube goes before a common one of the same name.

    Parameters
    ----------
    settings : CaseSettings
        Whose list, and where the own one is.

    Raises
    ------
    UnreadableFileError, BadSettingError
        If the own list cannot be used.

    Examples
    --------
    >>> from blender_addon.core.case.settings import CaseSettings
    >>> stock_of(CaseSettings())[0].name
    'PVC pipe 2 in Schedule 40'
    """
    if not settings.stock_file or settings.stock == COMMON:
        return tubes()
    own = tubes(settings.stock_file)
    if settings.stock == OWN:
        return own
    named = {one.name: one for one in (*tubes(), *own)}
    return tuple(sorted(named.values(), key=lambda one: (one.inner_diameter_mm, one.wall_mm)))
