"""Drags a file onto a window and lets go of it, as a file manager does: python3 drop.py FILE X Y.

The protocol is XDND, version 5 (freedesktop.org, "Drag-and-Drop Protocol for the X Window System"):
Enter, Position, Status, Drop, the selection as text/uri-list, Finished. It runs in a process of its
own, since a window that is dragged over may wait for the answers of who drags.
"""

import sys
import time
from pathlib import Path

from Xlib import X, Xatom
from Xlib.display import Display
from Xlib.ext import xtest
from Xlib.protocol import event

VERSION = 5
LONGEST_S = 20.0


class Drag:
    """One file under way from a window of our own to the one under a place of the screen."""

    def __init__(self, file):
        self.display = Display()
        self.root = self.display.screen().root
        self.window = self.root.create_window(0, 0, 1, 1, 0, X.CopyFromParent)
        self.uris = f"{Path(file).as_uri()}\r\n".encode()
        self.list_type = self.atom("text/uri-list")
        self.told = []
        self.window.set_selection_owner(self.atom("XdndSelection"), X.CurrentTime)
        self.display.sync()

    def atom(self, name):
        return self.display.intern_atom(name)

    def target(self):
        """Return the window on the screen that takes drops."""
        aware = self.atom("XdndAware")
        windows = self.root.query_tree().children
        return next(one for one in windows if one.get_full_property(aware, Xatom.ATOM))

    def send(self, target, name, *words):
        data = (32, [self.window.id, *words, *[0] * (4 - len(words))])
        told = event.ClientMessage(window=target, client_type=self.atom(name), data=data)
        target.send_event(told, event_mask=X.NoEventMask)
        self.display.flush()

    def wait_for(self, name):
        """Answer what is asked until a message of that name comes; return its words."""
        end_s = time.monotonic() + LONGEST_S
        while time.monotonic() < end_s:
            if not self.display.pending_events():
                time.sleep(0.01)
                continue
            heard = self.display.next_event()
            if heard.type == X.SelectionRequest:
                self.hand_over(heard)
            elif heard.type == X.ClientMessage:
                heard_name = self.display.get_atom_name(heard.client_type)
                self.told.append(heard_name)
                if heard_name == name:
                    return list(heard.data[1])
        raise TimeoutError(f"no {name} within {LONGEST_S} s, but {self.told}")

    def hand_over(self, asked):
        """Give the list of files to who asked for it, or nothing when another type is wanted."""
        ours = asked.target == self.list_type
        self.told.append(f"asked for {self.display.get_atom_name(asked.target)}")
        if ours:
            asked.requestor.change_property(asked.property, asked.target, 8, self.uris)
        answer = event.SelectionNotify(
            time=asked.time, requestor=asked.requestor, selection=asked.selection,
            target=asked.target, property=asked.property if ours else X.NONE,
        )  # fmt: skip
        asked.requestor.send_event(answer, event_mask=X.NoEventMask)
        self.display.flush()


def main(file, x, y):
    """Drag it there and let go; it was taken when its name was asked for and the end was told."""
    drag = Drag(file)
    target, copy = drag.target(), drag.atom("XdndActionCopy")
    drag.send(target, "XdndEnter", VERSION << 24, drag.list_type)
    for step in (40, 20, 0):
        xtest.fake_input(drag.display, X.MotionNotify, x=x - step, y=y)
        drag.display.sync()
        drag.send(target, "XdndPosition", 0, (x - step) << 16 | y, X.CurrentTime, copy)
        if not drag.wait_for("XdndStatus")[1] & 1:
            raise RuntimeError("the window does not take files")
    drag.send(target, "XdndDrop", 0, X.CurrentTime)
    drag.wait_for("XdndFinished")
    if "asked for text/uri-list" not in drag.told:
        raise RuntimeError(f"the window did not ask for the file's name, only {drag.told}")


if __name__ == "__main__":
    main(sys.argv[1], int(sys.argv[2]), int(sys.argv[3]))
