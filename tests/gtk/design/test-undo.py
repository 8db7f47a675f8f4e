#!/usr/bin/python3
# SPDX-License-Identifier: GPL-3.0-or-later
"""Ctrl+Z: whom it belongs to, and that it takes back exactly the last edit. Real keys and pointer throughout."""
import json
import os
import sys

import stage
from stage import is_quiet, same, until, walk_through

stage.enter()

PROGRAM, DATA = sys.argv[1:3]
DEMO = os.path.join(DATA, "demo", "harbour-gloss.oleograph")
FIELDS = ("Name of the recipe", "Purpose of the recipe", "Target viscosity from*", "Target viscosity up to*",
          "Batch size, g", "Name of phase Melt", "Temperature of phase Melt*", "Castor oil, wt %", "Castor oil, g",
          "Sunflower oil, high oleic, wt %", "Search materials")


def read(path):
    with open(path) as f:
        return json.load(f)


def field(s, name):
    return until(lambda: next((n for n in s.look(None, name) if s.box(n)[2] > 0), None), "there is no " + name)


def leaves_the_recipe_alone(s):
    s.start(s.copy)
    s.expect_text(lambda: s.cell("Castor oil", "wt %"), "41.00")
    for name in FIELDS:
        s.click(field(s, name))
        s.expect_focus(name)
        s.key("ctrl+z", "ctrl+z", "ctrl+z")
        s.key("Tab")
    same(s.can("win.undo"), False, "undo")
    s.key("ctrl+s")
    s.find(None, "Saved")
    same(read(s.copy), read(DEMO), "what was saved")


def edit(s, name, text, keys=("Tab",)):
    s.click(field(s, name))
    s.key("ctrl+a")
    s.type(text)
    s.key(*keys)


def takes_back_each_field(s):
    """Edit, leave the field, one Ctrl+Z: as it was, and nothing else is left to undo."""
    for name, text, key, was in (("Name of the recipe", "Other", "Return", "Harbour gloss"),
                                 ("Purpose of the recipe", "Other", "Tab", "A lip oil with some body*"),
                                 ("Target viscosity from*", "500", "Return", "300"),
                                 ("Batch size, g", "50", "Tab", "200"),
                                 ("Temperature of phase Melt*", "95", "Tab", "110"),
                                 ("Polyamide-3, wt %", "3,5", "Return", "2.20"),
                                 ("Polyamide-3, g", "10", "Tab", "4.40")):
        edit(s, name, text, (key,))
        until(lambda: s.can("win.undo"), "%s: no step was made" % name)
        s.key("ctrl+z", "ctrl+shift+z")
        until(lambda: s.can("win.undo"), "%s: the step is not made again" % name)
        s.key("ctrl+z")
        s.expect_text(lambda: field(s, name), was)
        until(lambda: not s.can("win.undo"), "%s: something is left to undo" % name)


def takes_back_a_name(s):
    edit(s, "Name of phase Last", "Cold", ("Tab",))
    s.find("text", "Name of phase Cold")
    s.key("ctrl+z")
    s.find("text", "Name of phase Last")
    same(s.can("win.undo"), False, "undo")


def typing_comes_first(s):
    edit(s, "Polyamide-3, wt %", "3.5", ("Return",))
    s.click(field(s, "Squalane, wt %"))
    s.key("ctrl+a")
    s.type("9")
    s.expect_text(lambda: field(s, "Squalane, wt %"), "9")
    for _ in range(3):  # GTK may take what replaced the selection and what was typed as two steps
        if s.text(field(s, "Squalane, wt %")) != "8.00":
            s.key("ctrl+z")
    s.expect_text(lambda: field(s, "Squalane, wt %"), "8.00")
    s.expect_text(lambda: field(s, "Polyamide-3, wt %"), "3.50")  # the recipe waits
    s.key("ctrl+shift+z")
    until(lambda: s.text(field(s, "Squalane, wt %")) != "8.00", "the typing does not come again")
    s.key("Escape")
    s.expect_text(lambda: field(s, "Squalane, wt %"), "8.00")
    s.key("ctrl+z")
    s.expect_text(lambda: field(s, "Polyamide-3, wt %"), "2.20")
    same(s.can("win.undo"), False, "undo")


def search_is_text(s):
    edit(s, "Polyamide-3, wt %", "3.5", ("Return",))
    s.click(field(s, "Search materials"))
    s.type("jojoba")
    while s.text(field(s, "Search materials")) != "":
        s.key("ctrl+z")
    s.expect_text(lambda: field(s, "Polyamide-3, wt %"), "3.50")
    s.key("ctrl+z")
    s.expect_text(lambda: field(s, "Polyamide-3, wt %"), "2.20")


def many_edits(s):
    """As many steps back as there were edits, from wherever the last one left the focus."""
    for i in range(6):
        edit(s, "Polyamide-3, wt %", "%.1f" % (2.3 + i / 10), ("Return",))
    for i in range(6):
        s.key("ctrl+z")
    s.expect_text(lambda: field(s, "Polyamide-3, wt %"), "2.20")
    same(s.can("win.undo"), False, "undo")


def adds_moves_and_drops(s):
    rows = s.lines()
    s.click(field(s, "Polyamide-3, wt %"))
    s.key("ctrl+f")
    s.type("jojoba oil")
    until(lambda: s.look("label", "Jojoba*", s.find("list", "Materials")), "no jojoba")
    s.key("Return")
    until(lambda: "Jojoba oil" in s.lines(), "it is not added")
    s.expect_focus("Jojoba oil, wt %")
    s.key("ctrl+z")
    until(lambda: s.lines() == rows, lambda: "rows are %s" % s.lines())
    s.click(field(s, "Polyamide-3, wt %"))
    s.key("alt+Up")
    until(lambda: s.lines() != rows, "it does not move")
    s.key("ctrl+z")
    until(lambda: s.lines() == rows, lambda: "rows are %s" % s.lines())
    material = s.find("label", "Jojoba*", s.find("list", "Materials"))
    s.drag(s.point(material), s.point(field(s, "Squalane, wt %"), 0.5, 0.2))
    until(lambda: s.lines() != rows, "nothing was dropped")
    s.key("ctrl+z")
    until(lambda: s.lines() == rows, lambda: "rows are %s" % s.lines())
    s.drag(s.point(s.find("image", "Drag to move Polyamide-3"), 0.3),
           s.point(s.find("image", "Drag to move Castor oil"), 0.3, 0.2))
    until(lambda: s.lines() != rows, "the line was not moved")
    s.key("ctrl+z")
    until(lambda: s.lines() == rows, lambda: "rows are %s" % s.lines())
    same(s.can("win.undo"), False, "undo")


def removes(s):
    rows = s.lines()
    s.click(field(s, "Squalane, wt %"))
    s.key("alt+Delete")
    until(lambda: "Squalane" not in s.lines(), "it is still there")
    s.key("ctrl+z")
    until(lambda: s.lines() == rows, lambda: "rows are %s" % s.lines())
    same(s.can("win.undo"), False, "undo")


def saves_what_was_there(s):
    s.key("ctrl+s")
    s.find(None, "Saved")
    same(read(s.copy), read(DEMO), "what was saved")


walk_through(PROGRAM, DEMO, "undo", [
    ("a field nobody typed in gives Ctrl+Z away", leaves_the_recipe_alone),
    ("each field, left by Tab and by Enter", takes_back_each_field),
    ("the name of a phase", takes_back_a_name),
    ("what is being typed comes first", typing_comes_first),
    ("so it does in the search", search_is_text),
    ("many edits, as many steps back", many_edits),
    ("adding, moving and dropping", adds_moves_and_drops),
    ("removing", removes),
    ("the file is as it was", saves_what_was_there),
    ("no warnings", is_quiet),
])
