"""What several folders of core's tests ask for."""

from __future__ import annotations

from functools import partial

import pytest

from blender_addon.core.pictures import views_of
from blender_addon.core.pictures.raster import rendered
from blender_addon.core.sheet import cut_views

FEW_PIXELS = 48


@pytest.fixture
def coarse_pictures(monkeypatch):
    """Draw with few pixels, where it matters that pictures are written but not what is on them."""
    monkeypatch.setattr(views_of, "rendered", partial(rendered, pixels=FEW_PIXELS))
    monkeypatch.setattr(cut_views, "CUT_VIEW_PIXELS", FEW_PIXELS)
