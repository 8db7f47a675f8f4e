#!/usr/bin/python3
# SPDX-License-Identifier: GPL-3.0-or-later
"""Editing a recipe: by keyboard, through actions and through the accessibility bus."""
import json
import os
import sys

import stage
from stage import is_quiet, same, until, walk_through

stage.enter()

PROGRAM, DATA = sys.argv[1:3]
DEMO = os.path.join(DATA, "demo", "harbour-gloss.oleograph")


def total(s):
    return s.text(s.find("label", "*100 %*complete*"))


def opens(s):
    s.start(s.copy)
    s.expect_text(lambda: s.cell("Castor oil", "wt %"), "41.00")
    s.expect_text(lambda: s.cell("Castor oil", "g"), "82.00")
    s.expect_text(lambda: s.cell("Sunflower oil, high oleic", "wt %"), "47.15")
    same(s.can("win.undo"), False, "undo")
    total(s)


def tabs_along(s):
    s.click(s.cell("Castor oil", "wt %"))
    s.expect_focus("Castor oil, wt %")
    for name in ("Castor oil, g", "Amount of Castor oil: held", "Sunflower oil, high oleic, wt %"):
        s.key("Tab")
        s.expect_focus(name)
    for name in ("Amount of Castor oil: held", "Castor oil, g", "Castor oil, wt %", "Add a material to phase Melt"):
        s.key("shift+Tab")
        s.expect_focus(name)


def arrows_go_everywhere(s):
    """Up and down in the column, left and right along the row from the ends of a text."""
    s.click(s.cell("Castor oil", "wt %"))
    s.key("Home")
    for key, name in (("Left", "Castor oil"), ("Right", "Castor oil, wt %"), ("Right", "Castor oil, g"),
                      ("Right", "Amount of Castor oil: held"), ("Right", "Actions for Castor oil"),
                      ("Right", "Actions for Castor oil"), ("Left", "Amount of Castor oil: held"),
                      ("Down", "Sunflower oil, high oleic takes the rest*"), ("Left", "Sunflower oil, high oleic, g"),
                      ("Down", "Polyamide-3, g"), ("Down", "Squalane, g"), ("Up", "Polyamide-3, g")):
        s.key(key)
        s.expect_focus(name)
    s.key("End", "Left")  # inside the text they move the cursor
    s.expect_focus("Polyamide-3, g")
    s.key("Right", "Right")
    s.expect_focus("Amount of Polyamide-3: as typed")


def edits_percent(s):
    s.click(s.cell("Polyamide-3", "wt %"))
    s.key("ctrl+a")
    s.type("3,5")
    s.key("Return")
    s.expect_text(lambda: s.cell("Polyamide-3", "wt %"), "3.50")
    s.expect_text(lambda: s.cell("Polyamide-3", "g"), "7.00")
    # 47.15 + 2.20 - 3.50
    s.expect_text(lambda: s.cell("Sunflower oil, high oleic", "wt %"), "45.85")
    s.expect_focus("Squalane, wt %")  # Enter goes down, over the phase
    total(s)
    until(lambda: s.title().startswith("• Harbour gloss"), "no unsaved mark")


def edits_grams(s):
    s.click(s.cell("Squalane", "g"))
    s.key("ctrl+a")
    s.type("20 g")
    s.key("Tab")
    s.expect_text(lambda: s.cell("Squalane", "wt %"), "10.00")
    s.expect_text(lambda: s.cell("Squalane", "g"), "20.00")


def reads_amounts_as_written(s):
    """20 g of 200 g are 10 %; the sums are worked out by hand."""
    for material, column, text, wanted in (("Squalane", "wt %", "0.2/20*100", "1.00"),
                                           ("Squalane", "wt %", "12.6 g", "6.30"),
                                           ("Squalane", "g", "3 %", "3.00"),
                                           ("Squalane", "wt %", "0,02 kg", "10.00"),
                                           ("Squalane", "g", "(1+2)*4 mg", "0.006"),
                                           ("Squalane", "wt %", "10", "10.00")):
        s.click(s.cell(material, column))
        s.key("ctrl+a")
        s.type(text)
        s.key("Return")
        s.expect_text(lambda: s.cell(material, "wt %"), wanted)
    s.click(s.cell("Squalane", "g"))
    s.key("ctrl+a")
    s.type("1,000")
    s.key("Return")
    s.find(None, "*1,000*can mean 1 or 1*000*")
    s.expect_text(lambda: s.cell("Squalane", "wt %"), "10.00")
    s.key("Escape")
    s.click(s.cell("Squalane", "g"))
    s.key("ctrl+a")
    s.type("3 lb")
    s.key("Return")
    s.find(None, "*lb*is no unit for this*")
    s.key("Escape")
    s.expect_text(lambda: s.cell("Squalane", "g"), "20.00")


def grams_make_the_batch(s):
    """Squalane from 20 to 30 g makes 210 g of 200 g, and no other line weighs another thing."""
    s.click(s.find(None, "The batch is fixed: *"))
    s.choose("The batch is the sum*")
    s.find(None, "The batch is the sum of the lines*")
    s.click(s.cell("Squalane", "g"))
    s.key("ctrl+a")
    s.type("30")
    s.key("Return")
    s.expect_text(lambda: s.find("text", "Batch size, g"), "210")
    s.expect_text(lambda: s.cell("Castor oil", "g"), "82.00")
    s.expect_text(lambda: s.cell("Sunflower oil, high oleic", "g"), "87.70")
    s.expect_text(lambda: s.cell("Squalane", "g"), "30.00")
    total(s)
    s.key("ctrl+z")
    s.expect_text(lambda: s.find("text", "Batch size, g"), "200")
    s.key("ctrl+z")
    s.find(None, "The batch is fixed*")
    s.expect_text(lambda: s.cell("Squalane", "g"), "20.00")


def splits_a_line(s):
    """Part hot, the rest cold: 15 of 41 % castor oil go into the last phase, as a second line."""
    s.click(s.cell("Castor oil", "wt %"))
    s.key("ctrl+shift+d")
    s.expect_focus("Part to take out*")
    s.key("ctrl+a")
    s.type("50")
    s.key("Return")
    s.find(None, "A part lies between 0 and the 41 %*")
    s.key("ctrl+a")
    s.type("30 g")  # of 200 g
    s.key("Return")
    until(lambda: s.lines().count("Castor oil") == 2, lambda: "rows are %s" % s.lines())
    rows = s.lines()
    same(rows.index("Slip and colour") < len(rows) - 1 - rows[::-1].index("Castor oil"), True, "the part comes later")
    amounts = sorted(s.text(n) for n in s.look("text", "Castor oil, wt %", s.recipe()) if s.box(n)[2] > 0)
    same(amounts, ["15.00", "26.00"], "parts")
    total(s)
    s.key("ctrl+z")
    until(lambda: s.lines().count("Castor oil") == 1, lambda: "rows are %s" % s.lines())
    s.click(s.cell("Squalane", "wt %"))
    s.key("ctrl+d")
    until(lambda: s.lines().count("Squalane") == 2, lambda: "rows are %s" % s.lines())
    s.key("ctrl+z")
    until(lambda: s.lines().count("Squalane") == 1, lambda: "rows are %s" % s.lines())


def escape_restores(s):
    s.click(s.cell("Squalane", "wt %"))
    s.key("ctrl+a")
    s.type("77")
    s.key("Escape")
    s.expect_text(lambda: s.cell("Squalane", "wt %"), "10.00")
    s.key("Tab")
    s.expect_text(lambda: s.cell("Squalane", "wt %"), "10.00")


def bad_text_stays(s):
    s.click(s.cell("Squalane", "wt %"))
    s.key("ctrl+a")
    s.type("abc")
    s.key("Return")
    s.expect_text(lambda: s.cell("Squalane", "wt %"), "abc")
    until(lambda: "invalid" in s.states(s.cell("Squalane", "wt %")), "the cell is not invalid")
    s.find(None, "*abc*is not a number*")
    s.expect_focus("Squalane, wt %")
    s.key("ctrl+a")
    s.type("140")
    s.key("Tab")
    s.expect_text(lambda: s.cell("Squalane", "wt %"), "140")
    s.find(None, "*between 0 and 100*")
    s.expect_text(lambda: s.cell("Squalane", "g"), "20.00")


def undo_reverts_bad_text(s):
    s.act("win.undo")  # the grams of squalane
    s.expect_text(lambda: s.cell("Squalane", "wt %"), "8.00")
    until(lambda: "invalid" not in s.states(s.cell("Squalane", "wt %")), "still invalid")
    s.gone("label", "*between 0 and 100*")
    s.act("win.redo")
    s.expect_text(lambda: s.cell("Squalane", "wt %"), "10.00")


def decide(s, name, choice):
    """Opens the choice by its button, whose name says what holds now, and takes another one."""
    s.click(s.find(None, name, s.recipe()))
    s.choose(choice)


def decides_an_amount(s):
    decide(s, "Amount of Castor oil: held", "The rest to 100*")
    # both share what the others leave: 100 - 3.5 - 10 - 1.2 - 0.45
    s.expect_text(lambda: s.cell("Castor oil", "wt %"), "42.425")
    s.expect_text(lambda: s.cell("Sunflower oil, high oleic", "wt %"), "42.425")
    s.find(None, "Castor oil takes the rest*", s.recipe())
    total(s)
    s.key("ctrl+z")
    s.expect_text(lambda: s.cell("Castor oil", "wt %"), "41.00")
    s.find(None, "Amount of Castor oil: held", s.recipe())


def says_what_is_typed(s):
    """An amount typed into the line that took the rest stands, and choosing so again changes nothing."""
    s.click(s.cell("Sunflower oil, high oleic", "wt %"))
    s.key("ctrl+a")
    s.type("40")
    s.key("Return")
    s.find(None, "Amount of Sunflower oil, high oleic: as typed", s.recipe())
    decide(s, "Amount of Sunflower oil, high oleic: as typed", "As typed")
    s.expect_text(lambda: s.cell("Sunflower oil, high oleic", "wt %"), "40.00")
    decide(s, "Amount of Sunflower oil, high oleic: as typed", "Held*")
    s.find(None, "Amount of Sunflower oil, high oleic: held", s.recipe())
    s.key("ctrl+z", "ctrl+z")
    s.expect_text(lambda: s.cell("Sunflower oil, high oleic", "wt %"), "43.85")
    s.find(None, "Sunflower oil, high oleic takes the rest*", s.recipe())


def tells_what_is_missing(s):
    decide(s, "Sunflower oil, high oleic takes the rest*", "As typed")
    s.click(s.cell("Squalane", "wt %"))
    s.key("ctrl+a")
    s.type("8.5")
    s.key("Return")
    s.find("label", "1.5 % missing*")
    same(s.can("win.normalise"), True, "scaling")
    s.act("win.normalise")
    total(s)
    s.expect_text(lambda: s.cell("Castor oil", "wt %"), "41.00")  # held
    for _ in range(3):
        s.act("win.undo")
    s.expect_text(lambda: s.cell("Squalane", "wt %"), "10.00")


def adds_a_material(s):
    s.click(s.cell("Polyamide-3", "wt %"))
    s.act("win.find-material")
    s.expect_focus("Search materials")
    s.type("jojoba oil")
    until(lambda: s.look("label", "Jojoba*", s.find("list", "Materials")), "no jojoba")
    s.key("Return")
    until(lambda: "Jojoba oil" in s.lines(), lambda: "rows are %s" % s.lines())
    rows = s.lines()
    same(rows.index("Jojoba oil"), rows.index("Polyamide-3") + 1, "place of the new line")
    s.expect_focus("Jojoba oil, wt %")
    s.type("5")
    s.key("Return")
    s.expect_text(lambda: s.cell("Jojoba oil", "wt %"), "5.00")


def reorders(s):
    s.click(s.cell("Jojoba oil", "wt %"))
    s.key("alt+Up")
    until(lambda: s.lines().index("Jojoba oil") < s.lines().index("Polyamide-3"), "it did not move")
    s.expect_focus("Jojoba oil, wt %")
    s.key("alt+Down", "alt+Down")  # into the next phase
    until(lambda: s.lines().index("Jojoba oil") == s.lines().index("Slip and colour") + 1,
          lambda: "rows are %s" % s.lines())


def leaves_backwards(s):
    s.click(s.cell("Castor oil", "wt %"))
    s.act("win.replace-material")
    choice = s.box(until(s.focused, "nothing has the focus"))
    s.key("shift+Tab")
    until(lambda: s.focused() is not None and s.box(s.focused()) != choice,
          "the focus stays in the page")
    s.act("win.replace-material")
    until(lambda: s.focused() is not None and s.box(s.focused()) == choice,
          "the focus does not come back")


def removes_and_takes_back(s):
    s.click(s.cell("Jojoba oil", "wt %"))
    s.key("alt+Delete")
    until(lambda: "Jojoba oil" not in s.lines(), "it is still there")
    s.find(None, "Jojoba oil was removed")
    s.expect_focus("Squalane")
    s.press("push button", "Undo", s.find(None, "Jojoba oil was removed"))
    until(lambda: "Jojoba oil" in s.lines(), "it did not come back")


def renames_a_phase(s):
    s.click(s.find("text", "Name of phase Last"))
    s.key("ctrl+a")
    s.type("Cool down")
    s.key("Tab")
    s.find("text", "Name of phase Cool down")
    s.expect_focus("Temperature of phase Cool down*")
    s.type("60")
    s.key("Tab")
    s.expect_text(lambda: s.find("text", "Temperature of phase Cool down*"), "60")


def sets_head(s):
    s.click(s.find("text", "Batch size, g"))
    s.key("ctrl+a")
    s.type("50")
    s.key("Return")
    s.expect_text(lambda: s.cell("Castor oil", "g"), "20.50")
    s.click(s.find("text", "Target viscosity from*"))
    s.key("ctrl+a")
    s.type("5000")
    s.key("Return")
    s.find(None, "The lower end of the target*")
    s.key("Escape")
    s.expect_text(lambda: s.find("text", "Target viscosity from*"), "300")


def edits_through_the_bus(s):
    cell = s.cell("Tocopherol", "wt %")
    s.atspi.EditableText.set_text_contents(cell, "0.6")
    s.click(cell)
    s.key("Return")
    s.expect_text(lambda: s.cell("Tocopherol", "g"), "0.30")


def undoes_and_redoes_all(s):
    n = 0
    while s.can("win.undo"):
        s.act("win.undo")
        n += 1
    if n < 8:
        raise AssertionError("only %d steps" % n)
    s.expect_text(lambda: s.cell("Polyamide-3", "wt %"), "2.20")
    until(lambda: s.title().startswith("Harbour gloss"), "the unsaved mark stays")
    for _ in range(n):
        s.act("win.redo")
    same(s.can("win.redo"), False, "redo")
    s.expect_text(lambda: s.cell("Tocopherol", "g"), "0.30")


def saves(s):
    s.key("ctrl+s")
    s.find(None, "Saved")
    with open(s.copy) as f:
        saved = json.load(f)
    same(saved["batch_g"], 50, "batch")
    names = [p["name"] for p in saved["phases"]]
    same(names, ["Melt", "Slip and colour", "Cool down"], "phases")


def has_no_unsaved_mark(s):
    until(lambda: s.title().startswith("Harbour gloss"), "the unsaved mark stays")


walk_through(PROGRAM, DEMO, "edit", [
    ("opens a recipe", opens),
    ("Tab halts three times a line", tabs_along),
    ("arrow keys go everywhere", arrows_go_everywhere),
    ("wt % by keyboard, with a comma", edits_percent),
    ("grams by keyboard, with the unit", edits_grams),
    ("Escape brings the value back", escape_restores),
    ("text that is no amount stays and says why", bad_text_stays),
    ("undo does not leave refused text behind", undo_reverts_bad_text),
    ("lines that take the rest share it", decides_an_amount),
    ("an amount is as typed, held or the rest", says_what_is_typed),
    ("the total says what is missing", tells_what_is_missing),
    ("amounts as people write them", reads_amounts_as_written),
    ("grams make the batch", grams_make_the_batch),
    ("a line is split and duplicated", splits_a_line),
    ("a material by keyboard", adds_a_material),
    ("lines move by keyboard", reorders),
    ("the page of replacements can be left backwards", leaves_backwards),
    ("removing offers undo", removes_and_takes_back),
    ("phases have names and temperatures", renames_a_phase),
    ("batch and target", sets_head),
    ("a cell through the accessibility bus", edits_through_the_bus),
    ("everything can be undone and redone", undoes_and_redoes_all),
    ("saves", saves),
    ("the mark of unsaved changes goes", has_no_unsaved_mark),
    ("no warnings", is_quiet),
])
