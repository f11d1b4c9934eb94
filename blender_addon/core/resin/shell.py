"""The shell of resin that is turned by hand, and the cavity that it leaves."""

from __future__ import annotations

from dataclasses import dataclass, replace
from typing import TYPE_CHECKING

import numpy as np
from scipy import ndimage
from scipy.spatial.transform import Rotation

from ..arrays import locked
from ..constants.common import SMALLEST_ML
from ..constants.resin import (
    RIM_REACH_SHARE,
    SHELL_BAND_CELLS,
    SHELL_CELLS,
    SHELL_KNOTS,
    SHELL_TURN_DEG,
)
from ..geometry.mesh import Mesh
from ..geometry.positive_part import positive_shares
from ..geometry.solid import enclosed_volume_ml
from ..geometry.surface_distance import SampledSurface
from ..geometry.voxels import voxels_at
from ..units import ML_PER_MM3
from .copy import copy_of
from .width import level_widths

if TYPE_CHECKING:
    import numpy.typing as npt

    from ..arrays import Bools, Floats
    from ..geometry.voxels import Voxels
    from ..scan.result import ScanResult
    from ..watch import Watch


@dataclass(frozen=True, eq=False)
class Cavity:
    """What a shell leaves open: ``total_ml``, of which ``cut_off_ml`` has no way to the rim.

    ``cells`` (n, 4) tell how it is spread: the middles of cells of ``pitch_mm`` in the frame of the
    scan, and the ml in each, which add up to the total.
    ``hollow_ml`` is what no rubber gets to, in the piece or under its base: not in the copy yet.
    ``miscounted_ml`` is what a surface that crosses itself counts too often or the wrong way round.
    ``by_shell`` (k, 2) tells of other shells, from none to one twice as thick: mm, and ml of shell
    as the coarser grid has it. ``widths`` (n, 2), as `level_widths` returns them.
    """

    total_ml: float
    cut_off_ml: float
    cells: npt.NDArray[np.float32]
    pitch_mm: float
    hollow_ml: float
    miscounted_ml: float
    by_shell: Floats
    widths: Floats


def cavity_in(scan: ScanResult, shell_mm: float, watch: Watch) -> Cavity:
    """Measure what of the copy is farther than the shell from all rubber.

    The distance is exact at the points of a grid about the inside of the shell, and runs straight
    between them. That errs by the square of the pitch; two grids tell by how much [1]_. No shell
    grows on the rim at z = 0: for the grid, the riser goes on below it.

    Parameters
    ----------
    scan : ScanResult
        The master on its riser.
    shell_mm : float
        Thickness of the shell.
    watch : Watch
        Told of progress.

    References
    ----------
    .. [1] Richardson: The approximate arithmetical solution by finite differences of physical
       problems, Phil. Trans. A 210, 1911.
    """
    turn = np.eye(4)
    turn[:3, :3] = Rotation.from_euler("zyx", SHELL_TURN_DEG, degrees=True).as_matrix()
    solid, rubber, doubled_ml = _sealed_copy(scan)
    solid, rubber, up = solid.moved(turn), rubber.moved(turn), turn[:3, 2]
    low, high = solid.bounds
    pitches = [float(np.max(high - low)) / cells for cells in SHELL_CELLS]
    surface = SampledSurface(rubber.corners, pitches[0] / 2.0)
    watch.at(0.3)
    fine = _cavity_on_grid(solid, surface, shell_mm, pitches[0], up)
    watch.at(0.7)
    thick_mm = np.linspace(0.0, 2.0 * shell_mm, 2 * SHELL_KNOTS + 1)
    left_ml = _left_on_grid(solid, surface, thick_mm, pitches[1], up)
    gain = (SHELL_CELLS[0] / SHELL_CELLS[1]) ** 2
    total = (gain * fine.total_ml - float(left_ml[SHELL_KNOTS])) / (gain - 1.0)
    cells = fine.cells @ _turned_back(turn)
    seam_ml = max(doubled_ml - fine.miscounted_ml, 0.0)  # no part of the copy as it is measured
    miscounted_ml = max(fine.miscounted_ml - doubled_ml, 0.0)
    total = max(total - seam_ml, 0.0)
    cells[:, 3] *= total / max(fine.total_ml, SMALLEST_ML)
    by_shell = locked(np.column_stack([thick_mm, left_ml[0] - left_ml]), np.float64)
    return replace(
        fine, total_ml=total, miscounted_ml=miscounted_ml, cells=locked(cells, np.float32),
        by_shell=by_shell, widths=level_widths(copy_of(scan).mesh, shell_mm),
    )  # fmt: skip


def _turned_back(turn: Floats) -> Floats:
    """Return what brings rows of x, y, z, ml back into the frame before a turn (4, 4)."""
    back: Floats = np.eye(4)
    back[:3, :3] = turn[:3, :3]
    return back


def _sealed_copy(scan: ScanResult) -> tuple[Mesh, Mesh, float]:
    """Seal the seam of the copy and prolong its rim.

    Returns what bounds it then, the faces in rubber, and how much riser was put into the master.
    """
    low, high = scan.mesh.bounds
    below = RIM_REACH_SHARE * float(np.max(high - low))
    copy = copy_of(scan, below)
    foot = scan.mesh.corners[scan.base_faces][:, :, 2]
    into = float(np.max(foot, initial=scan.riser_mm)) - scan.riser_mm
    sealed = copy_of(scan, below, into).mesh
    doubled_ml = enclosed_volume_ml(sealed) - enclosed_volume_ml(copy.mesh)
    return sealed, Mesh(copy.mesh.vertices, copy.mesh.faces[copy.in_rubber]), doubled_ml


def _left_on_grid(
    copy: Mesh, surface: SampledSurface, thick_mm: Floats, pitch: float, up: Floats
) -> Floats:
    """Return the ml that shells of ascending thickness leave open."""
    solid, height = _grid_over(copy, pitch, up)
    depth = _depth_mm(surface, solid, float(thick_mm[0]), float(thick_mm[-1]))
    shares = [float(positive_shares(np.minimum(depth - mm, height)).sum()) for mm in thick_mm]
    return np.array(shares) * pitch**3 * ML_PER_MM3


def _grid_over(copy: Mesh, pitch: float, up: Floats) -> tuple[Voxels, Floats]:
    """Return the copy on a grid, and how high above the rim the middle of each cell lies."""
    low, high = copy.bounds
    origin = low - 1.5 * pitch
    nx, ny, nz = (int(n) for n in np.ceil((high - origin) / pitch) + 2)
    solid = voxels_at(copy, origin, pitch, (nx, ny, nz))
    x, y, z = (
        u * (o + pitch * np.arange(n)) for u, o, n in zip(up, origin, (nx, ny, nz), strict=True)
    )
    return solid, x[:, None, None] + y[:, None] + z


def _cavity_on_grid(
    copy: Mesh, surface: SampledSurface, shell_mm: float, pitch: float, up: Floats
) -> Cavity:
    solid, height = _grid_over(copy, pitch, up)
    field = np.minimum(_depth_mm(surface, solid, shell_mm, shell_mm) - shell_mm, height)
    cell_ml = pitch**3 * ML_PER_MM3
    ml = positive_shares(field) * cell_ml
    hollow = ndimage.binary_fill_holes(solid.inside) & ~solid.inside
    held = np.nonzero(ml > 0.0)
    middles = np.asarray(solid.origin_mm) + pitch * (np.column_stack(held) + 0.5)
    return Cavity(
        total_ml=float(ml.sum()),
        cut_off_ml=_cut_off_cells(field, height <= 2.0 * pitch) * cell_ml,
        cells=np.column_stack([middles, ml[held]]).astype(np.float32),
        pitch_mm=pitch,
        hollow_ml=int(np.count_nonzero(hollow)) * cell_ml,
        miscounted_ml=solid.miscounted * cell_ml,
        by_shell=np.zeros((1, 2)),
        widths=np.zeros((1, 2)),
    )


def _depth_mm(surface: SampledSurface, solid: Voxels, least_mm: float, most_mm: float) -> Floats:
    """Return the depth below the surface, negative outside: exact from the least to the most."""
    pitch = solid.pitch_mm
    free = np.ones(solid.inside.shape, dtype=np.bool_)
    free[tuple(solid.cells_of(surface.samples).T)] = False
    depth = np.asarray(ndimage.distance_transform_edt(free), dtype=np.float64) * pitch
    depth = np.where(solid.inside, depth, -depth)
    band = SHELL_BAND_CELLS * pitch
    near = np.nonzero((depth >= least_mm - band) & (depth <= most_mm + band))
    exact = surface.distances_mm(solid.centers_mm(np.column_stack(near)))
    depth[near] = np.where(solid.inside[near], exact, -exact)
    return depth


def _cut_off_cells(field: Floats, at_rim: Bools) -> int:
    """Count the cells of the cavity that no way leads to from the rim."""
    label, _ = ndimage.label(field > 0.0)
    count = np.bincount(label.ravel())
    count[np.union1d(label[at_rim], 0)] = 0
    return int(count.sum())
