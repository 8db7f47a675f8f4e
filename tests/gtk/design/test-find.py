#!/usr/bin/python3
# SPDX-License-Identifier: GPL-3.0-or-later
"""Finding a material by what is typed, with real keys and pointer."""
import os
import sys

import stage
from stage import is_quiet, same, until, walk_through

stage.enter()

PROGRAM, DATA = sys.argv[1:3]
DEMO = os.path.join(DATA, "demo", "harbour-gloss.oleograph")


def shelf(s, state="visible"):
    """Names of the materials in the list, also of some that are not on the screen."""
    return [i.get_name() for i in s.look("list item", "*", s.find("list", "Materials"))
            if state in s.states(i)]


def expect_shelf(s, first):
    """A search marks the first material that it finds."""
    until(lambda: shelf(s, "selected") == [first],
          lambda: "the first in the list is %s" % shelf(s, "selected"))


def expect_chosen(s, name):
    """The focus is in the list, at @name."""
    until(lambda: shelf(s, "focused") == [name],
          lambda: "the focus is not at “%s” of the list" % name)


def types(s, text):
    s.act("win.find-material")
    s.expect_focus("Search materials")
    s.key("ctrl+a")
    s.type(text)


def adds(s, text, name):
    """Enter adds @name and nothing else; it is taken back."""
    before = s.lines()
    types(s, text)
    s.key("Return")
    until(lambda: len(s.lines()) == len(before) + 1, lambda: "“%s” added nothing" % text)
    added = list(s.lines())
    for line in before:
        added.remove(line)
    same(added, [name], "what “%s” adds" % text)
    s.expect_focus("%s, wt %%" % name)
    s.act("win.undo")
    until(lambda: s.lines() == before, lambda: "rows are %s" % s.lines())


def starts(s):
    s.start(s.copy)
    s.find("list", "Materials")


def adds_exact_names(s):
    for text, name in [("tocopherol", "Tocopherol"), ("red 7 lake", "Red 7 lake"),
                       ("8001-79-4", "Castor oil"), ("cochineal", "Carmine"),
                       ("SUNFLOWER OIL", "Sunflower oil")]:
        adds(s, text, name)


def adds_the_only_hit(s):
    adds(s, "red 7 lake in", "Red 7 lake in castor oil")


def enters_the_list(s):
    """Of answers that are equally good, such as reds, the one that was used lately stands first."""
    before = s.lines()
    for text, first in [("polyamide", "Polyamide-3"), ("castr oil", "Castor oil"),
                        ("CI 15850", "Red 6 lake"), ("red pig", "Red 7 lake")]:
        types(s, text)
        expect_shelf(s, first)
        s.key("Return")
        expect_chosen(s, first)
        same(s.lines(), before, "lines after “%s” and Enter" % text)
        s.key("Escape")
        s.expect_focus("Search materials")


def chooses_in_the_list(s):
    before = s.lines()
    types(s, "polyamide")
    expect_shelf(s, "Polyamide-3")
    s.key("Return", "Down", "Return")
    until(lambda: "Polyamide-8" in s.lines(), lambda: "rows are %s" % s.lines())
    s.act("win.undo")
    until(lambda: s.lines() == before, lambda: "rows are %s" % s.lines())


def says_what_is_near(s):
    types(s, "jojba oil")
    expect_shelf(s, "Jojoba oil")
    s.find("label", "Nothing is called so. Near it:", s.find("list", "Materials"))
    types(s, "jojoba oil")
    s.gone("label", "Nothing is called so. Near it:", s.find("list", "Materials"))


def names_its_rows(s):
    types(s, "castor")
    expect_shelf(s, "Castor oil")
    unnamed = [n for n in shelf(s) if not n or n.startswith("Gtk")]
    same(unnamed, [], "rows without a name")


def clears_and_stays(s):
    types(s, "castor")
    entry = s.find(None, "Search materials")
    s.click(s.cell("Castor oil", "wt %"))
    s.expect_focus("Castor oil, wt %")
    x, y = s.point(entry, 1.0, 0.5)
    s._xdotool("mousemove", x - 4, y, "sleep", "0.1", "click", 1)
    until(lambda: s.text(entry) == "", lambda: "the field has “%s”" % s.text(entry))
    s.expect_focus("Search materials")


def shows_what_was_used(s):
    types(s, "tocopherol")
    s.key("Return")
    types(s, "x")
    s.key("BackSpace")
    expect_shelf(s, "Tocopherol")
    s.find("label", "Used lately", s.find("list", "Materials"))
    s.act("win.undo")


def pins(s):
    types(s, "beeswax")
    expect_shelf(s, "Beeswax")
    s.click(s.find("push button", "*Pin this material*"))
    types(s, "x")
    s.key("BackSpace")
    expect_shelf(s, "Beeswax")
    s.find("label", "Pinned", s.find("list", "Materials"))
    s.click(s.find("push button", "*Pin this material*"))
    types(s, "x")
    s.key("BackSpace")
    expect_shelf(s, "Tocopherol")


walk_through(PROGRAM, DEMO, "find", [
    ("the program starts", starts),
    ("Enter adds what is called so", adds_exact_names),
    ("Enter adds the only hit", adds_the_only_hit),
    ("Enter goes to the list where several are meant", enters_the_list),
    ("a material is chosen in the list", chooses_in_the_list),
    ("near spellings are said to be near", says_what_is_near),
    ("rows have names", names_its_rows),
    ("the field keeps the focus when it is cleared", clears_and_stays),
    ("what was used stands first", shows_what_was_used),
    ("what is pinned stands first of all", pins),
    ("no warnings", is_quiet),
])
