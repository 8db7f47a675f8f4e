#!/usr/bin/python3
# SPDX-License-Identifier: GPL-3.0-or-later
"""The room in which a product is made ready to leave: by keyboard and through the accessibility bus."""
import json
import os
import sys

import stage
from stage import is_quiet, same, until, walk_through

stage.enter()

PROGRAM, DATA = sys.argv[1:3]
DEMO = os.path.join(DATA, "demo", "slipway-body-oil.oleograph")


def field(s, name):
    return s.find("text", name)


def enters_by_keyboard(s):
    s.start(s.copy)
    s.find("page tab", "Label")
    s.key("ctrl+3")
    s.find(None, "Sketch of the label")
    s.find(None, "Limits and cautions: *")
    s.find(None, "Keeping time: Estimated * at room temperature")
    s.find(None, "Natural origin: *")


def lists_ingredients(s):
    s.find("list item", "Helianthus Annuus Seed Oil, *, In order of weight*")
    # Regulation (EC) 1223/2009, Annex III: named above 0.001 % of what stays on the skin
    s.find("list item", "Linalool, *")


def changes_market(s):
    s.expect_focus("Market")
    s.key("Return", "Down", "Return")
    # 21 CFR 701.3 as practised: the common name in brackets; allergens are not named
    s.find("list item", "Helianthus Annuus (Sunflower) Seed Oil, *")
    s.gone("list item", "Linalool, *")


def types_the_content(s):
    s.key("Tab")
    s.expect_focus("Net content")
    s.key("ctrl+a")
    s.type("150")
    s.key("Tab")
    until(lambda: s.title().startswith("• Slipway body oil"), "no unsaved mark")
    s.act("win.undo")
    s.expect_text(lambda: field(s, "Net content"), "100")
    s.act("win.redo")
    s.expect_text(lambda: field(s, "Net content"), "150")


def refuses_a_month(s):
    s.atspi.EditableText.set_text_contents(field(s, "Best before, year and month"), "2027-31")
    s.find("label", "Year and month, such as 2027-08")
    s.atspi.EditableText.set_text_contents(field(s, "Best before, year and month"), "2027-12")
    s.gone("label", "Year and month, such as 2027-08")


def design_is_out_of_reach(s):
    same(s.can("win.remove-line"), False, "a line can be removed unseen")
    same(s.can("win.add-phase"), False, "a phase can be added unseen")


def copies(s):
    s.press("push button", "Copy ingredient list")
    s.find(None, "The ingredient list was copied")


def goes_to_the_line(s):
    for _ in range(40):
        node = s.focused()
        if node is not None and node.get_name().startswith("Helianthus"):
            break
        s.key("Tab")
    s.key("Down", "Return")
    s.find("text", "Name of the recipe")
    same(s.can("win.add-phase"), True, "the recipe is out of reach")


def saves(s):
    s.key("ctrl+s")
    s.find(None, "Saved")
    with open(s.copy) as f:
        saved = json.load(f)
    same(saved["package"]["nominal"], 150, "net content")


walk_through(PROGRAM, DEMO, "label", [
    ("enters by keyboard", enters_by_keyboard),
    ("lists the ingredients in order", lists_ingredients),
    ("follows the market", changes_market),
    ("types the content, and undoes it", types_the_content),
    ("refuses a month that is none", refuses_a_month),
    ("the recipe cannot be changed unseen", design_is_out_of_reach),
    ("copies the list", copies),
    ("goes to the line of a name", goes_to_the_line),
    ("saves", saves),
    ("no warnings", is_quiet),
])
