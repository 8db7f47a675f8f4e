#!/usr/bin/python3
# SPDX-License-Identifier: GPL-3.0-or-later
"""Versions of one recipe: kept, laid side by side, gone back to, renamed, removed, saved, restored."""
import json
import os
import sys
import time

import stage
from stage import is_quiet, same, until, walk_through

stage.enter()

PROGRAM, DATA = sys.argv[1:3]
DEMO = os.path.join(DATA, "demo", "harbour-gloss.oleograph")


def read(path):
    with open(path) as f:
        return json.load(f)


def amount(s, material, text):
    s.click(s.cell(material, "wt %"))
    s.key("ctrl+a")
    s.type(text)
    s.key("Return")


def versions(s):
    """Names of the versions in the list, the newest first."""
    ticks = s.look("check box", "Lay “*” beside the recipe")
    return [t.get_name()[5:-len("” beside the recipe")] for t in ticks if s.box(t)[3] > 0]


def expect_versions(s, *names):
    until(lambda: versions(s) == list(names), lambda: "the versions are %s" % versions(s))


def tick(s, name):
    s.click(s.find("check box", "Lay “%s” beside the recipe" % name))


def opens(s):
    s.start(s.copy)
    s.press("push button", "Versions")
    s.key("ctrl+j")  # more room for the page
    s.find("label", "No version is kept yet*")
    same(s.look("check box", "Lay *"), [], "versions")


def keeps_by_keys(s):
    s.key("ctrl+k")
    s.find(None, "Keep this as a version")
    s.key("Return")  # under the name it proposes
    s.gone(None, "Keep this as a version")
    expect_versions(s, "Version 1")
    s.find(None, "Kept as “Version 1”")
    s.find("label", "*as it stands")
    same(s.title().startswith("•"), True, "unsaved")
    same(s.look("push button", "Go back to “Version 1”"), [], "going back to what it is")


def escapes(s):
    s.key("ctrl+k")
    s.find(None, "Keep this as a version")
    s.key("Escape")
    s.gone(None, "Keep this as a version")
    expect_versions(s, "Version 1")


def refuses_a_name_twice(s):
    s.click(s.find("push button", "Keep this as a version…"))
    s.find(None, "Keep this as a version")
    s.key("ctrl+a")
    s.type("Version 1")
    s.key("Return")
    s.find(None, "Another version has this name.")
    s.key("ctrl+a")
    s.type("Softer")
    s.key("Tab")
    s.type("less wax")
    s.key("Return")
    s.gone(None, "Keep this as a version")
    expect_versions(s, "Softer", "Version 1")
    s.find("label", "less wax")


def undoes_keeping(s):
    s.key("ctrl+z")
    expect_versions(s, "Version 1")
    s.key("ctrl+shift+z")
    expect_versions(s, "Softer", "Version 1")


def lays_beside(s):
    amount(s, s.material, "3.5")
    tick(s, "Version 1")
    s.find("label", "What is different in “Version 1”")
    s.find("label", "• %s: less, %s %% instead of 3.5 %%." % (s.material, s.was))
    s.find("label", "%s, As it stands: 3.5" % s.material)
    s.find("label", "%s, Version 1: ▼ %s, less" % (s.material, s.was))
    s.find("label", "Times as thick when poured, Version 1: 0.*")
    s.find("image", "Viscosity against *")
    chart = s.find("image", "Viscosity against *")
    until(lambda: "Version 1" in s.look("image", "Viscosity against *")[0].get_description(),
          lambda: "the chart says " + chart.get_description())


def follows_the_recipe(s):
    amount(s, s.material, "4")
    s.find("label", "• %s: less, %s %% instead of 4 %%." % (s.material, s.was))
    s.act("win.undo")
    s.find("label", "• %s: less, %s %% instead of 3.5 %%." % (s.material, s.was))


def takes_three_at_most(s):
    for name in ("Third", "Fourth"):
        s.key("ctrl+k")
        s.find(None, "Keep this as a version")
        s.key("ctrl+a")
        s.type(name)
        s.key("Return")
        s.gone(None, "Keep this as a version")
    expect_versions(s, "Fourth", "Third", "Softer", "Version 1")
    tick(s, "Third")
    tick(s, "Softer")
    s.find("label", "Poured, mPa·s, Softer: *")
    fourth = s.find("check box", "Lay “Fourth” beside the recipe")
    until(lambda: "sensitive" not in s.states(fourth), "a fourth one could be laid beside")
    tick(s, "Third")
    until(lambda: "sensitive" in s.states(fourth), "none could be laid beside")
    s.gone("label", "Poured, mPa·s, Third: *")


def goes_back(s):
    s.press("push button", "Go back to “Version 1”")
    s.expect_text(lambda: s.cell(s.material, "wt %"), s.was + "*")
    s.find(None, "The recipe is “Version 1” again")
    s.find("label", "Nothing: it is as it stands.")
    s.key("ctrl+z")
    s.expect_text(lambda: s.cell(s.material, "wt %"), "3.5*")
    s.key("ctrl+shift+z")
    s.expect_text(lambda: s.cell(s.material, "wt %"), s.was + "*")


def renames(s):
    s.press("push button", "Actions for the version “Softer”")
    s.choose("Rename…")
    s.find(None, "Rename the version")
    s.key("ctrl+a")
    s.type("Softest")
    s.key("Return")
    expect_versions(s, "Fourth", "Third", "Softest", "Version 1")
    s.find("label", "less wax")  # the note stays
    s.find("label", "Poured, mPa·s, Softest: *")  # and it stays beside


def removes(s):
    s.press("push button", "Actions for the version “Third”")
    s.choose("Remove")
    expect_versions(s, "Fourth", "Softest", "Version 1")
    s.key("ctrl+z")
    expect_versions(s, "Fourth", "Third", "Softest", "Version 1")
    s.key("ctrl+shift+z")
    expect_versions(s, "Fourth", "Softest", "Version 1")


def saves(s):
    s.key("ctrl+s")
    until(lambda: read(s.copy)["version"] == 2, "not saved")
    document = read(s.copy)
    same([v["name"] for v in document["versions"]], ["Version 1", "Softest", "Fourth"], "names")
    same(document["versions"][1]["note"], "less wax", "note")
    same(document["versions"][0]["date"], time.strftime("%Y-%m-%d"), "date")
    s.act("win.close")
    same(s.ended(), 0, "exit status")
    s.start(s.copy)
    s.press("push button", "Versions, 3")
    s.key("ctrl+j")
    expect_versions(s, "Fourth", "Softest", "Version 1")


def restores_after_a_crash(s):
    s.key("ctrl+k")
    s.find(None, "Keep this as a version")
    s.key("ctrl+a")
    s.type("Never saved")
    s.key("Return")
    drafts = os.path.join(s.home, "data", "oleograph", "drafts")
    until(lambda: os.path.isdir(drafts)
          and any("Never saved" in open(os.path.join(drafts, n)).read() for n in os.listdir(drafts)),
          "no draft", 15)
    s.crash()
    s.start()
    s.find(None, "*This recipe can be restored: “Harbour gloss”")
    s.press("push button", "Restore")
    s.press("push button", "Versions, 4")
    s.key("ctrl+j")
    expect_versions(s, "Never saved", "Fourth", "Softest", "Version 1")
    s.act("win.close")
    s.press("push button", "Discard")
    same(s.ended(), 0, "exit status")


def run(s):
    document = read(DEMO)
    line = max((l for p in document["phases"] for l in p["lines"] if l["ingredient"].startswith("polyamide")),
               key=lambda l: l["amount"])
    s.was = "%g" % (line["amount"] / 10000)
    s.material = "Polyamide-" + line["ingredient"].split("-")[1]


walk_through(PROGRAM, DEMO, "versions", [
    ("a recipe of the demo", run),
    ("a page without versions", opens),
    ("keeping with two keys", keeps_by_keys),
    ("Escape keeps nothing", escapes),
    ("a name only once", refuses_a_name_twice),
    ("undo of keeping", undoes_keeping),
    ("side by side, in words and in the chart", lays_beside),
    ("what is beside follows the recipe", follows_the_recipe),
    ("three beside the recipe at most", takes_three_at_most),
    ("going back, and undo of it", goes_back),
    ("another name", renames),
    ("removing, and undo of it", removes),
    ("saved with the recipe", saves),
    ("kept through a crash", restores_after_a_crash),
    ("no warnings", is_quiet),
])
