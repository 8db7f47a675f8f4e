#!/usr/bin/python3
# SPDX-License-Identifier: GPL-3.0-or-later
"""The ledger by keyboard: two deliveries, a batch from the plan to the stock it took."""
import os
import sqlite3
import sys
import time

import stage
from stage import is_quiet, same, until, walk_through

stage.enter()

PROGRAM, DATA = sys.argv[1:3]
DEMO = os.path.join(DATA, "demo", "harbour-gloss.oleograph")


def ask(s, question):
    """One number from the ledger on the disk, read beside the program."""
    path = os.path.join(s.home, "data", "oleograph", "ledger.sqlite")
    with sqlite3.connect("file:%s?mode=ro" % path, uri=True) as ledger:
        return ledger.execute(question).fetchone()[0]


def expect_at(s, name):
    """The focus is there; other windows remember one of their own."""
    until(lambda: any("focused" in s.states(n) for n in s.look(None, name)),
          lambda: "the focus is not at “%s”" % name)


def opens(s):
    s.start(s.copy)
    s.find("push button", "Add phase")
    s.key("ctrl+l")
    s.find(None, "Ledger")
    expect_at(s, "Find in the stock")
    s.find("label", "Nothing is in stock yet.*")


def deliver(s, words, lot, grams, preset):
    """All by keyboard: search, first hit, then from field to field."""
    s.press("push button", "Receive…")
    s.find(None, "Receive a delivery")
    if preset:  # the selected material is there already
        expect_at(s, "Lot")
        s.key("shift+Tab")
    expect_at(s, "Material")
    s.key("ctrl+a")
    s.type(words)
    s.key("Return")
    s.key("Tab")
    expect_at(s, "Lot")
    s.type(lot)
    s.key("Tab")
    expect_at(s, "Amount, g")
    s.type(grams)


def refuses_a_day(s):
    deliver(s, "castor oil", "TQ 1", "500", False)
    for _ in range(3):
        s.key("Tab")
    expect_at(s, "Best before")
    s.type("2027-13-01")
    s.key("Return")
    s.find("label", "This is no day*")
    same(ask(s, "SELECT count (*) FROM journal"), 0, "entries of the journal")
    s.key("ctrl+a")
    s.type("2027-12-01")
    s.key("Return")
    s.gone(None, "Receive a delivery")
    s.find("label", "500.00")


def receives_another(s):
    time.sleep(0.5)  # the window manager hands the focus back
    s.key("ctrl+f")
    expect_at(s, "Find in the stock")
    deliver(s, "squalane", "TQ 2", "500", True)
    s.key("Return")
    s.gone(None, "Receive a delivery")
    until(lambda: len(s.look("label", "500.00")) >= 2, "the second lot is missing")


def plans_a_batch(s):
    s.key("ctrl+w")
    s.gone(None, "Ledger")
    s.key("ctrl+2")
    s.press("push button", "Start a batch record")
    s.find("label", "Batch 20??-001")
    expect_at(s, "At work")
    s.type("Mia")


def weighs(s):
    s.key("Tab")  # the lots to choose from: the only one is chosen
    s.key("Tab")
    expect_at(s, "Castor oil, weighed, g")
    s.type("eighty")
    s.key("Return")
    s.find("label", "“eighty” is not a number.")
    s.key("ctrl+a")
    s.type("82")
    s.key("Return")
    s.find("label", "82.00 g weighed")
    expect_at(s, "Sunflower oil, high oleic, weighed, g")
    for grams, name in (("94.3", "Polyamide-3*"), ("4.4", "Squalane*"),
                        ("16", "Red iron oxide in castor oil*"), ("2.4", "Tocopherol*")):
        s.type(grams)
        s.key("Return")
        expect_at(s, name)
    s.find("label", "82.00 g · lot TQ 1 · Mia*")
    same(ask(s, "SELECT count (*) FROM weighing"), 5, "weighings")


def goes_on_after_a_crash(s):
    s.crash()
    s.start(s.copy)
    s.find("push button", "Add phase")
    s.key("ctrl+l")
    s.find(None, "Ledger")
    s.key("ctrl+3")
    expect_at(s, "Find a batch")
    s.key("Return")
    s.find("label", "Batch 20??-001")
    s.find("label", "94.30 g weighed")


def closes(s):
    s.atspi.EditableText.set_text_contents(s.find("text", "Tocopherol, weighed, g"), "0.9")
    s.press("push button", "Weigh" if not s.look("push button", "Tocopherol, Weigh")
            else "Tocopherol, Weigh")
    s.find("label", "0.90 g weighed")
    s.press("push button", "Close the batch…")
    s.find("label", "Close this batch?*")
    time.sleep(0.3)
    s.key("Return")
    s.find("label", "Closed · *")
    s.gone("push button", "Close the batch…")


def stock_has_fallen(s):
    s.key("ctrl+w")
    s.gone("label", "Batch 20??-001")
    s.key("ctrl+l")
    s.key("ctrl+1")
    s.find("label", "418.00")
    s.find("label", "484.00")
    s.key("ctrl+2")
    s.find("label", "−82.00")


walk_through(PROGRAM, DEMO, "ledger", [
    ("opens the ledger", opens),
    ("a day that does not exist is told at its field", refuses_a_day),
    ("receives another lot", receives_another),
    ("plans a batch where it is made", plans_a_batch),
    ("weighs by keyboard", weighs),
    ("goes on after a crash", goes_on_after_a_crash),
    ("closes the batch", closes),
    ("the stock has fallen", stock_has_fallen),
    ("no warnings", is_quiet),
])
