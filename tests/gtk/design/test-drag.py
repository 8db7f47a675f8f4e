#!/usr/bin/python3
# SPDX-License-Identifier: GPL-3.0-or-later
"""The pointer: dragging from the shelf of materials, moving lines and phases, menus."""
import os
import sys
import time

import stage
from stage import is_quiet, same, until, walk_through

stage.enter()

PROGRAM, DATA = sys.argv[1:3]
DEMO = os.path.join(DATA, "demo", "harbour-gloss.oleograph")


def row(s, name):
    return s.find("table row", name, s.recipe())


def shelf(s, words):
    """Filters the shelf and returns the label of its first material."""
    s.act("win.find-material")
    s.key("ctrl+a")
    s.type(words)
    time.sleep(0.5)
    materials = s.find("list", "Materials")
    return s.find("label", "Squalane" if words == "squalane" else "*Jojoba*", materials)


def drags_in(s):
    s.start(s.copy)
    s.before = s.lines()
    s.drag(s.point(shelf(s, "jojoba")), s.point(s.cell("Squalane", "wt %"), 0.5, 0.2))
    until(lambda: "Jojoba oil" in s.lines(), lambda: "rows are %s" % s.lines())
    rows = s.lines()
    same(rows.index("Jojoba oil"), rows.index("Squalane") - 1, "place of the new line")
    s.expect_text(lambda: s.cell("Squalane", "wt %"), "8.00")  # the entry took nothing
    s.expect_focus("Jojoba oil, wt %")


def drops_at_the_end(s):
    x, y, w, h = s.box(s.recipe())
    ox, oy = s._origin()
    s.drag(s.point(shelf(s, "squalane")), (ox + x + w // 2, oy + y + h - 20))
    until(lambda: s.lines()[-1] == "Squalane", lambda: "rows are %s" % s.lines())
    s.act("win.undo")
    until(lambda: s.lines()[-1] == "Tocopherol", lambda: "rows are %s" % s.lines())


def moves_a_line(s):
    s.drag(s.point(s.find("image", "Drag to move Polyamide-3")),
           s.point(s.find("image", "Drag to move Castor oil"), 0.5, 0.2))
    until(lambda: s.lines().index("Polyamide-3") < s.lines().index("Castor oil"),
          lambda: "rows are %s" % s.lines())
    s.drag(s.point(s.find("image", "Drag to move Polyamide-3")),
           s.point(s.find("image", "Drag to move Tocopherol"), 0.5, 0.8))
    until(lambda: s.lines()[-1] == "Polyamide-3", lambda: "rows are %s" % s.lines())


def takes_the_handle(s):
    """Wherever the handle is taken, the line comes along and the divider beside it stays."""
    x = s.box(s.recipe())[0]
    for across in (0.0, 0.5, 0.9):
        before = s.lines()
        s.drag(s.point(s.find("image", "Drag to move Polyamide-3"), across),
               s.point(s.find("image", "Drag to move Castor oil"), 0.5, 0.2))
        until(lambda: s.lines() != before, "the line did not move, taken at %g" % across)
        same(s.box(s.recipe())[0], x, "where the recipe begins")
        s.act("win.undo")
        until(lambda: s.lines() == before, lambda: "rows are %s" % s.lines())


def moves_a_phase(s):
    s.drag(s.point(s.find("image", "Drag to move Last")),
           s.point(s.find("image", "Drag to move Castor oil"), 0.5, 0.8))
    until(lambda: s.lines()[0] == "Last", lambda: "rows are %s" % s.lines())


def takes_all_back(s):
    while s.can("win.undo"):
        s.act("win.undo")
    until(lambda: s.lines() == s.before, lambda: "rows are %s" % s.lines())


def shows_the_line_menu(s):
    s.click(s.find("panel", "Castor oil", s.recipe()), 3)
    s.choose("Move down")
    until(lambda: s.can("win.undo"), "nothing happened")
    s.act("win.undo")
    s.press("push button", "Actions for Squalane")
    s.find("menu item", "Move to phase")
    s.choose("Remove line")
    until(lambda: "Squalane" not in s.lines(), "it is still there")
    s.act("win.undo")
    until(lambda: s.lines() == s.before, lambda: "rows are %s" % s.lines())


def keeps_notes(s):
    s.click(s.cell("Tocopherol", "wt %"))
    s.act("win.edit-line-note")
    s.expect_focus("Note*")
    s.type("from the new drum")
    s.key("Escape", "Escape")
    s.key("Tab")
    s.act("win.edit-line-note")
    s.expect_focus("Note*")
    s.type("from the new drum")
    s.key("Return")
    s.key("Escape")
    s.find(None, "Has a note", row(s, "Tocopherol"))
    s.expect_focus("Tocopherol")


def adds_to_a_phase(s):
    s.press("push button", "Add a material to phase Last")
    s.expect_focus("Search materials")
    s.key("ctrl+a")
    s.type("jojoba oil")
    time.sleep(0.5)
    s.key("Return")
    until(lambda: s.lines()[-1] == "Jojoba oil", lambda: "rows are %s" % s.lines())


def shows_keys_and_about(s):
    s.act("win.show-shortcuts")
    s.find("label", "Move the line up")
    s.key("Escape")
    time.sleep(0.3)
    s.act("win.about")
    s.find(None, "*predicts their body*")
    s.key("Escape")


def hides_the_sides(s):
    x, _, w, _ = s.box(s.recipe())
    s.act("win.show-palette")
    s.act("win.show-panel")
    until(lambda: s.box(s.recipe())[2] > w + 300, "the recipe did not get the room")
    s.act("win.show-palette")
    s.act("win.show-panel")


walk_through(PROGRAM, DEMO, "drag", [
    ("a material from the shelf lands where it is dropped", drags_in),
    ("the free space is the end of the recipe", drops_at_the_end),
    ("lines move within and between phases", moves_a_line),
    ("the handle is taken anywhere", takes_the_handle),
    ("phases move", moves_a_phase),
    ("all of it can be undone", takes_all_back),
    ("the menus of a line", shows_the_line_menu),
    ("notes of a line", keeps_notes),
    ("adding to a phase", adds_to_a_phase),
    ("keys and about", shows_keys_and_about),
    ("hiding the sides", hides_the_sides),
    ("no warnings", is_quiet),
])
