#!/usr/bin/python3
# SPDX-License-Identifier: GPL-3.0-or-later
"""Contrast of what is painted, measured on pictures of the window.

Relative luminance and contrast ratio are those of the Web Content Accessibility Guidelines 2.2 (W3C
Recommendation, 2023), "relative luminance" and "contrast ratio"; 4.5 for text is its success criterion
1.4.3, 3 for marks and controls 1.4.11. What cannot be used at the moment is exempt there.
"""
import os
import shutil
import subprocess
import sys

import stage
from stage import Stage, Tap

stage.enter()

PROGRAM, DATA, THEME = sys.argv[1:4]
DEMO = os.path.join(DATA, "demo", "harbour-gloss.oleograph")
TEXT, MARK = 4.5, 3.0
LEAST_TEXTS, LEAST_MARKS = 40, 8
SLACK = 2  # px by which a text may stand out of what it is in
SEEN = 1.15  # below this nothing is painted there: it is scrolled away or covered


def luminance(colour):
    def linear(v):
        v /= 255
        return v / 12.92 if v <= 0.04045 else ((v + 0.055) / 1.055) ** 2.4

    r, g, b = colour
    return 0.2126 * linear(r) + 0.7152 * linear(g) + 0.0722 * linear(b)


def contrast(a, b):
    high, low = sorted((luminance(a), luminance(b)), reverse=True)
    return (high + 0.05) / (low + 0.05)


class Picture:
    """The screen as it is now."""

    def __init__(self):
        data = subprocess.run(["import", "-silent", "-window", "root", "-depth", "8", "ppm:-"],
                              check=True, capture_output=True).stdout
        kind, size, depth, self.data = data.split(b"\n", 3)
        self.width, self.height = map(int, size.split())
        assert kind == b"P6" and depth == b"255", "not a picture as asked for"

    def colours(self, x, y, width, height):
        """How often each colour stands in a box."""
        counts = {}
        for row in range(y, y + height):
            line = self.data[3 * (row * self.width + x):3 * (row * self.width + x + width)]
            for i in range(0, len(line), 3):
                colour = tuple(line[i:i + 3])
                counts[colour] = counts.get(colour, 0) + 1
        return counts

    def ratio(self, x, y, width, height):
        """Of the ink that stands out most, against the ground it stands on."""
        counts = self.colours(x, y, width, height)
        ground = max(counts, key=counts.get)
        return max(contrast(ground, colour) for colour in counts)


def usable(s, node):
    """Whether it and all around it can be used."""
    while node is not None and node.get_role_name() not in ("frame", "application"):
        if "sensitive" not in s.states(node):
            return False
        node = node.get_parent()
    return True


def inside(s, node, picture, origin):
    """Box on the screen; None where it is not wholly in all that it stands in."""
    x, y, w, h = s.box(node)
    around = node.get_parent()
    if w < 4 or h < 6:
        return None
    while around is not None and around.get_role_name() not in ("frame", "application"):
        if "Component" in around.get_interfaces():  # pages of a stack have none
            ax, ay, aw, ah = s.box(around)
            if x + SLACK < ax or y + SLACK < ay or x + w > ax + aw + SLACK or y + h > ay + ah + SLACK:
                return None
        around = around.get_parent()
    x, y = x + origin[0], y + origin[1]
    if x < 0 or y < 0 or x + w > picture.width or y + h > picture.height:
        return None
    return x, y, w, h


def measure(s, roles):
    """(ratio, name) of each node of @roles that is on the screen and in use."""
    picture = Picture()
    origin = s._origin()
    found = []
    nodes = list(s.walk()) + list(s.walk(s.find("list", "Materials")))
    for node in nodes:
        try:
            name = s.text(node) or node.get_name()
            if node.get_role_name() not in roles or not name or not usable(s, node):
                continue
            box = inside(s, node, picture, origin)
            ratio = picture.ratio(*box) if box else 0
        except s.gone_errors:
            continue
        if ratio >= SEEN:
            found.append((ratio, "%s “%s”" % (node.get_role_name(), name)))
    return found


def check(s, roles, least, fewest, what):
    found = measure(s, roles)
    weak = sorted({(round(r, 2), n) for r, n in found if r < least})
    print("# %d %s, weakest %.2f" % (len(found), what, min(r for r, _ in found)))
    if weak:
        raise AssertionError("%d of %d are too weak: %s" % (len(weak), len(found), weak[:40]))
    if len(found) < fewest:
        raise AssertionError("only %d %s were measured" % (len(found), what))


def texts(s):
    check(s, ("label", "text", "column header", "table column header"), TEXT, LEAST_TEXTS, "texts")


def marks(s):
    check(s, ("image", "icon", "push button", "toggle button"), MARK, LEAST_MARKS, "marks")


def opens(s):
    s.copy = os.path.join(s.home, "copy.oleograph")
    shutil.copyfile(DEMO, s.copy)
    s.start(s.copy)
    s.find("label", "100 %*")


def found(s):
    s.act("win.find-material")
    s.type("castor")
    texts(s)


tap = Tap()
with Stage(PROGRAM, theme=THEME) as s:
    from gi.repository import GLib
    s.gone_errors = (GLib.Error, AttributeError)
    tap.run("the window opens", opens, s)
    tap.run("text", texts, s)
    tap.run("marks and controls", marks, s)
    tap.run("what a search finds", found, s)
    if os.environ.get("OG_PICTURES"):
        s.picture(os.path.join(os.environ["OG_PICTURES"], "contrast-%s.png" % THEME.replace(":", "-")))
tap.end()
