"""What the maker should know about the case that was chosen."""

from __future__ import annotations

from typing import TYPE_CHECKING

from ..constants.case import HALF_BACK_DEG
from ..notices import Notice
from ..sentences import a_length, marked
from .case import PRINTED
from .sector import Sector
from .stand import find_stand

if TYPE_CHECKING:
    from ..scan.result import ScanResult
    from .case import Case
    from .footprint import Footprint
    from .settings import CaseSettings


def case_warnings(
    case: Case, plan: Footprint, scan: ScanResult, settings: CaseSettings
) -> tuple[Notice, ...]:
    """Return what is true of the chosen case and worth a line."""
    notices = []
    if _faces_front(case, settings):
        text = (
            "The back, where the cut will run, lies on the marked front's side: only so does a "
            "tube of the list fit. Add a wider tube to your own list to turn it away."
        )
        notices.append(Notice("back_at_front", text))
    if settings.cover_mm < settings.least_rubber_mm:
        text = (
            f"Over the top of the master stand {a_length(settings.cover_mm, 'g')} of rubber, less"
            f" than the {a_length(settings.least_rubber_mm, 'g')} asked of its sides. Raise the"
            " cover if the mold must stand on that face."
        )
        notices.append(Notice("thin_cover", text))
    if scan.riser_mm > 0.0 and not scan.riser_outline:
        text = "The master has no flat base, so its riser has no outline. Build its foot by hand."
        notices.append(Notice("riser_without_outline", text))
    if case.kind in PRINTED and case.wall_mm > settings.printed_wall_mm:
        text = (
            f"The rubber bends the flat sides of this case: its wall is {a_length(case.wall_mm)}"
            f" instead of the {a_length(settings.printed_wall_mm)} asked for."
        )
        notices.append(Notice("wall_raised", text))
    if notice := _narrow_tube(case, plan, settings):
        notices.append(notice)
    return tuple(notices)


def _faces_front(case: Case, settings: CaseSettings) -> bool:
    away = Sector(settings.front_deg + 180.0, HALF_BACK_DEG)
    return settings.front_deg >= 0.0 and not bool(away.holds(case.stand.back[None])[0])


def _narrow_tube(case: Case, plan: Footprint, settings: CaseSettings) -> Notice | None:
    """Warn when the standard lets a tube through in which the master would not stand."""
    if case.tube is None or case.tube.least_inner_diameter_mm >= case.tube.inner_diameter_mm:
        return None
    least_mm = case.tube.least_inner_diameter_mm
    if find_stand(plan, least_mm / 2.0, settings, (Sector(),)):
        return None
    text = (
        f"{marked(case.name)} may measure only {a_length(least_mm, 'g')} inside, and then"
        " leaves less than is asked. Measure yours across, both ways, and enter it in your own"
        " list."
    )
    return Notice("measure_tube", text)
