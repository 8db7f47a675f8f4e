#!/usr/bin/python3
# SPDX-License-Identifier: GPL-3.0-or-later
"""The room where a recipe is made: batch, weighing list and stove, by keyboard and accessibility bus."""
import fnmatch
import json
import os
import sys
import time

import stage
from stage import is_quiet, same, until, walk_through

stage.enter()

PROGRAM, DATA = sys.argv[1:3]
DEMO = os.path.join(DATA, "demo", "harbour-gloss.oleograph")
CHART = "Temperature and viscosity of the pot against time"


def room(s):
    """The room alone: walking through the whole window would take seconds."""
    if getattr(s, "room", None) is None:
        s.room = s.find(None, "Make the recipe")
    return s.room


def item(s, pattern):
    return s.find("list item", pattern, room(s))


def field(s, name):
    return s.find("text", name, room(s))


def focused(s):
    """Name of what has the focus in the room: of the choice that a button opens, not of the button."""
    for node in s.walk(room(s)):
        try:
            if "focused" in s.states(node):
                name = node.get_name() or ""
                return node.get_parent().get_name() if name == "GtkToggleButton" else name
        except Exception:  # it went away while we looked
            continue
    return None


def expect_focus(s, name):
    until(lambda: focused(s) == name, lambda: "the focus is at “%s”, not at “%s”" % (focused(s), name))


def retype(s, name, text):
    """Puts the focus into a field, types over what is in it and commits."""
    s.click(field(s, name))
    expect_focus(s, name)
    s.key("ctrl+a")
    s.type(text)
    s.key("Return")


def opens(s):
    s.start(s.copy)
    s.key("ctrl+2")
    expect_focus(s, "Size told by")
    s.key("Tab")
    expect_focus(s, "Size of the batch")
    item(s, "To be made: 200.00 g")
    item(s, "Castor oil: 82.00 g*")
    item(s, "2. Dry all tools*batch of 200 g*")
    same(s.can("win.normalise"), False, "scaling the grid from another room")


def takes_another_size(s):
    s.key("ctrl+a")
    s.type("300")
    s.key("Return")
    item(s, "To be made: 300.00 g")
    item(s, "Castor oil: 123.00 g*")  # 41 % of 300 g
    item(s, "2. Dry all tools*batch of 300 g*")
    same(s.title().startswith("•"), False, "unsaved mark")
    s.press("push button", "Use as the recipe's batch", room(s))
    until(lambda: s.title().startswith("•"), "no unsaved mark")
    s.act("win.undo")
    until(lambda: not s.title().startswith("•"), "still an unsaved mark")
    item(s, "To be made: 300.00 g")


def counts_containers(s):
    item(s, "Containers: *")
    retype(s, "Declared content", "20")
    until(lambda: s.title().startswith("•"), "no unsaved mark")
    s.find("list item", "Blocking: *than the container holds*", room(s))
    s.act("win.undo")
    s.expect_text(lambda: field(s, "Declared content"), "6")
    s.gone("list item", "Blocking: *than the container holds*", room(s))
    retype(s, "Declared content", "none")
    s.find(None, "“none” is not a number.", room(s))
    until(lambda: "invalid" in s.states(field(s, "Declared content")), "the field is not invalid")
    s.key("Escape")
    s.expect_text(lambda: field(s, "Declared content"), "6")


def names_balances(s):
    s.press("push button", "Balances…", room(s))
    s.find(None, "Balances")
    s.expect_focus("Balance")
    s.type("Old kitchen balance")
    s.key("Tab")
    s.type("1")
    s.key("Return")  # something is missing
    s.find("label", "How much does it bear at most?")
    s.key("Tab", "Tab")
    s.expect_focus("Bears, g")
    s.type("5000")
    s.key("Return")
    s.gone("label", "How much does it bear at most?")
    item(s, "Castor oil: 123 g. Old kitchen balance, to *")
    item(s, "Tocopherol: 1 g. Old kitchen balance, to *")
    item(s, "Together: 300 g")
    s.find("label", "The rounding makes it *")


def sets_the_stove(s):
    s.click(s.find(None, "Glass beaker, 600 ml, in a room of 25 °C", room(s)))
    retype(s, "Room and shelf, °C", "18,5")
    s.find(None, "Glass beaker, *, in a room of 18.5 °C", room(s))
    retype(s, "Room and shelf, °C", "90")
    s.find(None, "This has to lie above *", room(s))
    s.key("Escape")
    retype(s, "Vessel holds, ml", "100")
    item(s, "Blocking: *")
    retype(s, "Vessel holds, ml", "1000")
    s.gone("list item", "Blocking: *", room(s))
    s.click(s.find(None, "Glass beaker, 1*000 ml, in a room of 18.5 °C", room(s)))


def reads_the_chart(s):
    chart = s.find(None, CHART, room(s))

    def says(start):
        until(lambda: (chart.get_description() or "").startswith(start),
              lambda: "the chart says “%s”, not “%s”" % (chart.get_description(), start))

    says("The pot goes from 18 °C up to 110 °C")
    s.click(chart)
    expect_focus(s, CHART)
    s.key("Home")
    says("after 0 min: 18 °C")
    s.key("Right")
    until(lambda: not chart.get_description().startswith("after 0 min"), "the reading stays")
    s.key("Escape")
    says("The pot goes from")


def keeps_oil_back(s):
    """From the chart by keyboard: a line is split in one step of the history, and the plan follows."""
    split = "Split it so. Step 6: *from 110 to 85 °C at once."

    def at(pattern):
        until(lambda: fnmatch.fnmatch(focused(s) or "", pattern),
              lambda: "the focus is at “%s”, not at “%s”" % (focused(s), pattern))

    s.key("Tab")
    at(split)
    s.key("space")
    item(s, "6. Stir in slowly: Sunflower oil, high oleic (*")
    s.gone("push button", split, room(s))
    at("1. Stir the jar *")
    s.key("ctrl+z")
    s.find("push button", split, room(s))


def checks_filled(s):
    s.press("push button", "Check filled containers…", room(s))
    s.find(None, "Empty container with closure")
    s.expect_focus("Empty container with closure, g")
    s.type("12.4")
    s.key("Tab")
    s.expect_focus("Filled containers weigh, g, with space between")
    s.type("18.1 18.3 18.0")
    s.find("list item", "Containers weighed: 3")
    s.find("list item", "Declared content: 6.00 ml")
    s.key("Escape")
    s.gone(None, "Empty container with closure")


def names_every_stop(s):
    """Once around the room by Tab: whatever takes the focus says what it is, and a list is one stop."""
    s.click(field(s, "Size of the batch"))
    s.key("Tab", "Tab", "Down", "Down")
    expect_focus(s, "Containers: 53. 4.85 g are left over")
    s.click(field(s, "Size of the batch"))
    seen = []
    for _ in range(19):
        s.key("Tab")
        name = focused(s)
        if name is None:
            break  # the header of the window
        if not name or name.startswith("Gtk"):
            raise AssertionError("something unnamed (“%s”) after %s" % (name, seen[-1:]))
        seen.append(name)
    for name in ["Declared content", "Filled at, °C", "Balances…", "Melt", CHART, "1. Stir the jar *"]:
        if not fnmatch.filter(seen, name):
            raise AssertionError("“%s” is not reached by Tab: %s" % (name, seen))


def saves(s):
    retype(s, "Filled to the brim, ml", "8,2")
    s.key("ctrl+s")
    s.find(None, "Saved")
    with open(s.copy) as f:
        saved = json.load(f)
    same(saved["package"]["capacity_ml"], 8.2, "capacity")
    same(saved["batch_g"], 200, "batch")
    s.key("ctrl+1")
    s.find("tree table", "Recipe")
    time.sleep(0.3)
    s.key("ctrl+2")
    expect_focus(s, "Filled to the brim, ml")  # where it was


walk_through(PROGRAM, DEMO, "make", [
    ("shows batch, weighing list and steps", opens),
    ("takes another size, and gives it to the recipe", takes_another_size),
    ("counts containers, and undoes another one", counts_containers),
    ("rounds to a balance named by keyboard", names_balances),
    ("follows room and vessel", sets_the_stove),
    ("reads the chart by keyboard", reads_the_chart),
    ("keeps oil back at a press", keeps_oil_back),
    ("judges filled containers", checks_filled),
    ("names every stop of the Tab key", names_every_stop),
    ("saves the container", saves),
    ("no warnings", is_quiet),
])
