"""The case: which tube, where the master stands in it, and how high the rubber."""

from __future__ import annotations

from typing import TYPE_CHECKING

import numpy as np

from ..arrays import locked
from ..units import ML_PER_MM3
from .bore import Bore, round_bore
from .choose import Case, choose
from .footprint import footprint, used_points
from .result import CaseChoice, CaseResult
from .warn import case_warnings

if TYPE_CHECKING:
    from collections.abc import Sequence

    from ..arrays import Floats
    from ..catalog.tube import Tube
    from ..scan.result import ScanResult
    from ..watch import Watch
    from .settings import CaseSettings
    from .trial import Stand


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
    """
    plan = footprint(scan.mesh, settings.least_channel_mm)
    watch.at(0.2)
    case, *others = choose(plan, stock, settings, watch)
    watch.at(0.9)
    stand = case.stand
    placement = _placement(stand)
    master = scan.mesh.moved(placement)
    points = used_points(master)
    level_mm = float(points[:, 2].max()) + settings.cover_mm
    bore = round_bore(case.inner_diameter_mm)
    drop = placement[:2, :2] @ stand.channel_at + placement[:2, 3]
    return CaseResult(
        name=case.name,
        kind=case.kind,
        bore=bore,
        wall_mm=case.wall_mm,
        height_mm=level_mm + settings.freeboard_mm,
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
        least_rubber_mm=stand.least_rubber_mm,
        least_rubber_at_mm=_thinnest_at(points),
        channel_mm=stand.channel_mm,
        channel_at_mm=(float(drop[0]), float(drop[1])),
        front=_front(placement, settings.front_deg),
        choices=tuple(_choice(one, level_mm, scan) for one in others),
        warnings=case_warnings(case, plan, scan, settings),
    )


def rubber_ml(bore: Bore, level_mm: float, scan: ScanResult) -> float:
    """Return what fills a case up to a level, less the master and its riser."""
    riser_mm2 = sum(_area_mm2(outline) for outline in scan.riser_outline)
    return (bore.area_mm2 * level_mm - riser_mm2 * scan.riser_mm) * ML_PER_MM3 - scan.volume_ml


def _choice(case: Case, level_mm: float, scan: ScanResult) -> CaseChoice:
    return CaseChoice(
        name=case.name,
        kind=case.kind,
        inner_diameter_mm=case.inner_diameter_mm,
        wall_mm=case.wall_mm,
        least_rubber_mm=case.stand.least_rubber_mm,
        channel_mm=case.stand.channel_mm,
        rubber_ml=rubber_ml(round_bore(case.inner_diameter_mm), level_mm, scan),
    )


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


def _thinnest_at(points: Floats) -> tuple[float, float, float]:
    """Return the point farthest from the axis; an upright round wall is nearest there."""
    x, y, z = points[np.argmax(np.einsum("ij,ij->i", points[:, :2], points[:, :2]))]
    return float(x), float(y), float(z)


def _area_mm2(outline: Floats) -> float:
    """Return the signed area of a closed polygon (k, 2)."""
    x, y = (outline - outline[0]).T
    return float(x @ np.roll(y, -1) - y @ np.roll(x, -1)) / 2.0
