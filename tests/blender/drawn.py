"""Panels drawn on a layout that writes down what they ask for: words, fields and buttons."""

from __future__ import annotations

import dataclasses
import inspect
from types import SimpleNamespace

import bpy

from blender_addon.ui.registration import CLASSES

SIDEBAR_PX = 280
"""Width of Blender's sidebar as it comes, at a scale of 1; measured in a window."""


@dataclasses.dataclass(frozen=True)
class Button:
    """An operator on a panel: what stands on it, and what it is told when it is pressed."""

    name: str
    text: str
    enabled: bool
    told: SimpleNamespace = dataclasses.field(default_factory=SimpleNamespace, compare=False)


class Layout:
    """Stands in for Blender's layout: any call that draws is written down by one pad."""

    def __init__(self, pad=None, *, enabled=True):
        self.pad = pad if pad is not None else SimpleNamespace(words=[], buttons=[], fields=[])
        self.enabled = enabled

    def label(self, *, text="", **_how):
        self.pad.words.append(text)

    def progress(self, *, text="", **_how):
        self.pad.words.append(text)

    def operator(self, name, *, text=None, **_how):
        shown = operator_rna(name).name if text is None else text
        button = Button(name, shown, self.enabled)
        self.pad.buttons.append(button)
        self.pad.words.append(shown)
        return button.told

    def operator_menu_enum(self, name, _property, *, text=None, **_how):
        self.operator(name, text=text)

    def template_icon(self, *_args, **_how):
        pass

    def menu(self, _name, *, text="", **_how):
        self.pad.words.append(text)

    def prop(self, data, name, *, text=None, **_how):
        known = data.bl_rna.properties[name]
        self.pad.fields.append((data, name))
        self.pad.words.append(known.name if text is None else text)

    def template_list(self, kind, _id, data, listed, *_rest, **_how):
        drawn = next(one for one in CLASSES if getattr(one, "bl_idname", "") == kind)
        for item in getattr(data, listed):
            fake = SimpleNamespace(layout=self)
            drawn.draw_row(fake, context(), self, item)

    def separator(self, **_how):
        pass

    def _within(self, *_args, **_how):
        return Layout(self.pad, enabled=self.enabled)

    row = column = box = split = grid_flow = _within


def operator_rna(name):
    """Return what Blender knows of an operator."""
    module, function = name.split(".")
    return getattr(getattr(bpy.ops, module), function).get_rna_type()


def context():
    """Return Blender's context with a sidebar, which it has not without a window."""

    class Context:
        region = SimpleNamespace(width=SIDEBAR_PX)
        preferences = SimpleNamespace(system=SimpleNamespace(ui_scale=1.0))

        def __getattr__(self, name):
            return getattr(bpy.context, name)

    return Context()


def drawn():
    """Draw every panel of ours that shows now; return what is on each by its name."""
    found = {}
    for kind in CLASSES:
        if not issubclass(kind, bpy.types.Panel):
            continue
        here = context()
        if "poll" in dir(kind) and not kind.poll(here):
            continue
        layout = Layout()
        panel = _Panel(kind, layout)
        for step in ("draw_header_preset", "draw"):
            if step in dir(kind) and not inspect.ismethoddescriptor(getattr(kind, step)):
                getattr(kind, step)(panel, here)
        found[kind.__name__] = layout.pad
    return found


class _Panel:
    """Stands in for a panel, which only Blender can make: its own functions on our layout."""

    def __init__(self, kind, layout):
        self.layout, self._kind = layout, kind

    def __getattr__(self, name):
        value = getattr(self._kind, name)
        return value.__get__(self) if inspect.isfunction(value) else value
