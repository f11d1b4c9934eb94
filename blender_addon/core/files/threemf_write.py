"""Named solids as a 3MF package in millimetres."""

from __future__ import annotations

import io
import zipfile
from dataclasses import dataclass
from typing import TYPE_CHECKING
from xml.sax.saxutils import quoteattr

import numpy as np

from .threemf_model import ROOT_RELATION

if TYPE_CHECKING:
    from collections.abc import Iterable, Sequence

    from ..arrays import Floats
    from ..geometry.mesh import Mesh

MODEL_PATH = "3D/3dmodel.model"
CORE = "http://schemas.microsoft.com/3dmanufacturing/core/2015/02"
PACKAGE = "http://schemas.openxmlformats.org/package/2006"
XML = '<?xml version="1.0" encoding="UTF-8"?>\n'
TYPES = (
    f'{XML}<Types xmlns="{PACKAGE}/content-types">'
    '<Default Extension="rels" '
    'ContentType="application/vnd.openxmlformats-package.relationships+xml"/>'
    '<Default Extension="model" '
    'ContentType="application/vnd.ms-package.3dmanufacturing-3dmodel+xml"/></Types>'
)
RELATIONS = (
    f'{XML}<Relationships xmlns="{PACKAGE}/relationships">'
    f'<Relationship Id="rel0" Target="/{MODEL_PATH}" Type="{ROOT_RELATION}"/></Relationships>'
)


@dataclass(frozen=True, eq=False)
class NamedSolid:
    """A closed mesh in mm, its name, and where it is placed (4, 4)."""

    name: str
    mesh: Mesh
    matrix: Floats | None = None


def threemf_bytes(solids: Sequence[NamedSolid]) -> bytes:
    """Return a 3MF package of the solids; the same solids give the same bytes.

    References
    ----------
    .. [1] 3MF Core Specification 1.4.0, 2025, sections 2.1, 3.4 and 4, appendix C.
    """
    out = io.BytesIO()
    with zipfile.ZipFile(out, "w", zipfile.ZIP_DEFLATED) as package:
        for path, text in (
            ("[Content_Types].xml", TYPES),
            ("_rels/.rels", RELATIONS),
            (MODEL_PATH, "".join(_model(solids))),
        ):
            entry = zipfile.ZipInfo(
                path
            )  # bears the oldest date a zip knows: no clock in the bytes
            entry.compress_type = zipfile.ZIP_DEFLATED
            package.writestr(entry, text.encode())
    return out.getvalue()


def _model(solids: Sequence[NamedSolid]) -> Iterable[str]:
    yield f'{XML}<model unit="millimeter" xml:lang="en-US" xmlns="{CORE}"><resources>'
    for number, solid in enumerate(solids, 1):
        yield f'<object id="{number}" type="model" name={quoteattr(solid.name)}><mesh><vertices>'
        yield "".join(
            f'<vertex x="{x:.9g}" y="{y:.9g}" z="{z:.9g}"/>'
            for x, y, z in solid.mesh.vertices.tolist()
        )
        yield "</vertices><triangles>"
        yield "".join(
            f'<triangle v1="{a}" v2="{b}" v3="{c}"/>' for a, b, c in solid.mesh.faces.tolist()
        )
        yield "</triangles></mesh></object>"
    yield "</resources><build>"
    for number, solid in enumerate(solids, 1):
        yield f'<item objectid="{number}"{_transform(solid.matrix)}/>'
    yield "</build></model>"


def _transform(matrix: Floats | None) -> str:
    if matrix is None or np.array_equal(matrix, np.eye(4)):
        return ""
    numbers = np.asarray(matrix)[:3].T.reshape(-1).tolist()  # row by row, of one that acts on rows
    return f' transform="{" ".join(f"{number:.9g}" for number in numbers)}"'
