#!/usr/bin/python3
# SPDX-License-Identifier: GPL-3.0-or-later
"""A blend in place of a material, a target for the body, a draft from a brief: by keyboard and
through the accessibility bus."""
import fnmatch
import os
import sys

import stage
from stage import is_quiet, same, until, walk_through

stage.enter()

PROGRAM, DATA = sys.argv[1:3]
DEMO = os.path.join(DATA, "demo", "harbour-gloss.oleograph")


def to(s, name, key="Tab", most=40):
    """Presses a key until the focus is there."""
    for _ in range(most):
        node = s.focused()
        if node is not None and fnmatch.fnmatchcase(node.get_name() or "", name):
            return
        s.key(key)
    s.expect_focus(name)


def entry(s, name, text):
    s.atspi.EditableText.set_text_contents(s.find("text", name), text)


def opens(s):
    s.start(s.copy)
    s.find("push button", "Instead")
    s.key("ctrl+j")  # more room for the advice
    s.act("win.replace-material")
    s.expect_focus("Castor oil")
    s.find("list item", "*Distance *proven the nearest*")


def replaces_by_a_blend(s):
    row = s.find("list item", "*% * + *% *")
    title = row.get_name().split(". ")[0]
    shares = [int(part.split(" %")[0]) for part in title.split(" + ")]
    same(sum(shares), 100, "shares of the blend")
    s.press("push button", "Use *", row)
    s.find(None, "Done: Replace Castor oil by *")
    until(lambda: "Castor oil" not in s.lines(), "castor oil is still there")
    s.act("win.undo")
    until(lambda: "Castor oil" in s.lines(), "castor oil did not come back")


def compares(s):
    s.act("win.replace-material")
    s.press("push button", "Compare with *")
    s.find(None, "Compare")
    s.find("list item", "Poured*: *")
    to(s, "Keep the body*")
    s.key("space")
    s.find("label", "Reached*")
    s.key("Escape")
    s.gone("check box", "Keep the body*")
    same(s.can("win.redo"), True, "the undone step can be redone")


def leaves_out(s):
    s.act("win.replace-material")
    row = s.find("list item", "*Distance *")
    gone = row.get_name().split(". ")[0]
    s.press("push button", "Do not suggest *")  # of a blend: the first of its materials
    s.find(None, "Without (1)")
    until(lambda: s.look("list item", gone + "*") == [], "it is still suggested")


def aims(s):
    s.key("ctrl+t")
    to(s, "A word")
    s.key("Down")
    s.find("text", "Viscosity, mPa·s")
    to(s, "Viscosity, mPa·s")
    s.type("700")
    to(s, "Polyamide-3, at most, %")
    s.key("ctrl+a")
    s.type("4,5")
    to(s, "Find the amounts")
    s.key("Return")
    s.find("label", "Reached*")
    s.find("list item", "*Polyamide-3 2.2 → *Substantial: about 700 mPa·s*")
    to(s, "Use it: *Polyamide-3*")
    s.key("Return")
    s.find(None, "Done: Aim at 700 mPa·s")
    s.find("label", "about 700 mPa·s poured at 25 °C")
    s.act("win.undo")
    s.find("label", "about 510 mPa·s poured at 25 °C")
    s.gone("list item", "*Substantial: about 700 mPa·s*")


def cannot_be_reached(s):
    s.key("ctrl+t")
    entry(s, "Viscosity, mPa·s", "9e6")
    s.press("push button", "Find the amounts")
    s.find("label", "*Polyamide-3*4.5 %*")
    entry(s, "Viscosity, mPa·s", "-3")
    s.find("label", "This has to be above 0.")
    until(lambda: "sensitive" not in s.states(s.find("push button", "Find the amounts")),
          "it can be pressed")


def tells_the_levers(s):
    view = s.find("image", "What moves the body")
    until(lambda: fnmatch.fnmatchcase(view.get_description(), "*Polyamide-3: +*"),
          lambda: "levers: " + view.get_description())


def drafts(s):
    s.key("ctrl+shift+b")
    s.find(None, "Draft from a brief")
    s.expect_focus("Lip oil with applicator")
    s.find("list item", "Tocopherol, *%. *")
    to(s, "With a scent or flavour")
    s.key("space")
    until(lambda: "sensitive" in s.states(s.find("push button", "Start with this")),
          "there is no draft")
    s.press("push button", "Start with this")
    s.gone(None, "Draft from a brief")
    until(lambda: s.app.get_child_count() == 2, "no new window came up")


walk_through(PROGRAM, DEMO, "aim", [
    ("suggests what could stand in", opens),
    ("a blend takes the place of a material, and goes again", replaces_by_a_blend),
    ("compares, and keeps the body", compares),
    ("leaves a material out", leaves_out),
    ("finds the amounts for a viscosity, by keyboard", aims),
    ("says why a target is out of reach", cannot_be_reached),
    ("tells what moves the body", tells_the_levers),
    ("drafts a recipe from a brief in a new window", drafts),
    ("no warnings", is_quiet),
])
