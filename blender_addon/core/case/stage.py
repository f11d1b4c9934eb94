"""The case: which tube, where the master stands in it, and how high the rubber."""

from __future__ import annotations

from typing import TYPE_CHECKING

import numpy as np

from ..arrays import locked
from ..errors import BadSettingError
from ..sentences import a_length
from ..units import ML_PER_MM3
from .choose import choose
from .footprint import footprint, used_points
from .result import CaseChoice, CaseResult
from .warn import case_warnings

if TYPE_CHECKING:
    from collections.abc import Sequence

    from ..arrays import Floats
    from ..catalog.tube import Tube
    from ..scan.result import ScanResult
    from ..watch import Watch
    from .bore import Bore
    from .case import Case
    from .settings import CaseSettings
    from .trial import Stand


M_PER_MM = 1e-3


def case_stage(
    scan: ScanResult, stock: Sequence[Tube], settings: CaseSettings, watch: Watch
) -> CaseResult:
    """Choose the case and stand the master in it, its pour channel towards +y.

    Parameters
    ----------
    scan : ScanResult
        The master on its riser; closed, though it may cross itself.
    stock : sequence of Tube
        The tubes to choose from, narrowest first.
    settings : CaseSettings
        Rubber, channel, cover and front.
    watch : Watch
        Told of progress.

    Raises
    ------
    UnusableMeshError
        If the master has no extent in plan.
    BadSettingError
        If a tube is asked for and none does, or the riser is higher than the piece.
    """
    plan = footprint(scan.mesh, settings.least_channel_mm)
    _refuse_riser(scan)
    watch.at(0.2)
    level_mm = float(scan.mesh.bounds[1][2]) + settings.cover_mm
    height_mm = level_mm + settings.freeboard_mm
    chosen = choose(plan, stock, settings, height_mm, watch)
    watch.at(0.9)
    case, stand = chosen.case, chosen.case.stand
    placement = _placement(stand)
    master = scan.mesh.moved(placement)
    least, least_at = _thinnest(case.bore, used_points(master))
    drop = placement[:2, :2] @ stand.channel_at + placement[:2, 3]
    listed = [_choice(one, level_mm, height_mm, scan) for one in (case, *chosen.others)]
    return CaseResult(
        name=case.name,
        kind=case.kind,
        bore=case.bore,
        wall_mm=case.wall_mm,
        height_mm=height_mm,
        level_z_mm=level_mm,
        riser_mm=scan.riser_mm,
        cover_mm=settings.cover_mm,
        placement=locked(placement, np.float64),
        master=master,
        riser_outline=tuple(
            locked(outline @ placement[:2, :2].T + placement[:2, 3], np.float64)
            for outline in scan.riser_outline
        ),
        center_mm=(float(placement[0, 3]), float(placement[1, 3])),
        least_rubber_mm=least,
        least_rubber_at_mm=least_at,
        channel_mm=stand.channel_mm,
        channel_at_mm=(float(drop[0]), float(drop[1])),
        front=_front(placement, settings.front_deg),
        choices=tuple(listed[1:]),
        taken=listed[0],
        warnings=chosen.notices + case_warnings(case, plan, scan, settings),
        bore_slack_mm=_slack_mm(case.tube),
        shadow_mm=locked(plan.edges @ placement[:2, :2].T + placement[:2, 3], np.float64),
    )


def _refuse_riser(scan: ScanResult) -> None:
    low, high = (float(corner[2]) for corner in scan.mesh.bounds)
    if scan.riser_mm > high - low:
        message = (
            f"the riser is {a_length(scan.riser_mm)} high, the piece on it only"
            f" {a_length(high - low)}. Take a lower riser, or check the scan's height."
        )
        raise BadSettingError("scan.riser_mm", message)


def rubber_ml(bore: Bore, level_mm: float, scan: ScanResult) -> float:
    """Return what fills a case up to a level, less the master and its riser."""
    riser_mm2 = sum(_area_mm2(outline) for outline in scan.riser_outline)
    return (bore.area_mm2 * level_mm - riser_mm2 * scan.riser_mm) * ML_PER_MM3 - scan.volume_ml


def _choice(case: Case, level_mm: float, height_mm: float, scan: ScanResult) -> CaseChoice:
    price = case.tube.price_per_m * height_mm * M_PER_MM if case.tube else 0.0
    return CaseChoice(
        name=case.name,
        kind=case.kind,
        inner_diameter_mm=case.bore.inner_diameter_mm,
        wall_mm=case.wall_mm,
        least_rubber_mm=case.stand.least_rubber_mm,
        channel_mm=case.stand.channel_mm,
        rubber_ml=rubber_ml(case.bore, level_mm, scan),
        height_mm=height_mm,
        tube_price=price,
    )


def _slack_mm(tube: Tube | None) -> float:
    if tube is None:
        return 0.0
    return max(tube.inner_diameter_mm - tube.least_inner_diameter_mm, 0.0) / 2.0


def _placement(stand: Stand) -> Floats:
    """Return the turn about z and the shift that bring the axis to 0 and the back to +y."""
    x, y = (float(part) for part in stand.back)
    turn = np.array([[y, -x], [x, y]])
    placement = np.eye(4)
    placement[:2, :2] = turn
    placement[:2, 3] = -turn @ stand.axis
    return placement


def _front(placement: Floats, front_deg: float) -> tuple[float, float]:
    """Return where the marked front looks in the job frame, away from the channel if none is."""
    if front_deg < 0.0:
        return 0.0, -1.0
    turn = np.radians(front_deg)
    x, y = placement[:2, :2] @ [np.cos(turn), np.sin(turn)]
    return float(x), float(y)


def _thinnest(bore: Bore, points: Floats) -> tuple[float, tuple[float, float, float]]:
    """Return the least rubber beside a surface and where; an upright convex wall is nearest there.

    On a flat triangle no place is nearer to such a wall than its nearest corner.
    """
    off = bore.distances_mm(points[:, :2])
    x, y, z = points[off.argmin()]
    return float(off.min()), (float(x), float(y), float(z))


def _area_mm2(outline: Floats) -> float:
    """Return the signed area of a closed polygon (k, 2)."""
    x, y = (outline - outline[0]).T
    return float(x @ np.roll(y, -1) - y @ np.roll(x, -1)) / 2.0
