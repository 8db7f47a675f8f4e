#!/usr/bin/python3
# SPDX-License-Identifier: GPL-3.0-or-later
"""Readings from the bench and the words for the body: by keyboard and through the accessibility bus."""
import json
import os
import shutil
import sys
import time

import stage
from stage import is_quiet, same, until, walk_through

stage.enter()

PROGRAM, DATA = sys.argv[1:3]
DEMO = os.path.join(DATA, "demo", "harbour-gloss.oleograph")


def bench_log(s):
    path = os.path.join(s.home, "data", "oleograph", "bench-log.json")
    if not os.path.exists(path):
        return []
    with open(path) as f:
        return json.load(f)["measurements"]


def field(s, name):
    return s.find("text", name)


def ask(s):
    """The dialog, with the focus on its first number."""
    s.key("ctrl+r")
    s.find(None, "Record a reading")
    s.expect_focus("Time, s, reading 1")


def opens(s):
    s.start(s.copy)
    s.find("push button", "Bench")
    same(bench_log(s), [], "bench log")
    ask(s)
    s.find("label", "Still missing: Time, Temperature")


def escape_closes(s):
    s.key("Escape")
    s.gone(None, "Record a reading")


def marks_a_bad_time(s):
    ask(s)
    s.type("12")
    s.find("label", "Time: 12 s is outside 30 to 100 s*")
    same("invalid" in s.states(field(s, "Time, s, reading 1")), False, "invalid while typing")
    for _ in range(5):
        s.key("Tab")
    s.expect_focus("Temperature, °C")
    until(lambda: "invalid" in s.states(field(s, "Time, s, reading 1")), "the time is not invalid")
    s.type("25")
    s.find("label", "Time: 12 s is outside 30 to 100 s*")
    s.key("Return")  # nothing to save
    s.find(None, "Record a reading")


def records_by_keyboard(s):
    for _ in range(5):
        s.key("shift+Tab")
    s.expect_focus("Time, s, reading 1")
    s.key("ctrl+a")
    s.type("62")
    s.key("Tab")
    s.type("64")
    s.key("Tab")
    s.type("63,5")
    s.find("label", "about * mPa·s ±*")
    s.find("label", "It agrees: *standard deviations*")
    s.find("label", "Predicted at 25 °C and 100 per second, without any reading: *")
    s.key("Return")
    s.gone(None, "Record a reading")
    s.find(None, "The reading was recorded")
    s.find("label", "ISO 2431 cup, 6 mm: 63.2 s, mean of 3*25 °C*")
    s.find("label", "Moves the prediction for this recipe from * narrower.")
    s.find("push button", "Bench, 1")
    until(lambda: s.title().startswith("• Harbour gloss"), "no unsaved mark")


def records_a_material(s):
    ask(s)
    for _ in range(20):
        s.key("shift+Tab")
        node = s.focused()
        if node is not None and node.get_name().startswith(("This recipe, as", "One of its")):
            break
    s.expect_focus("This recipe, as it is now")
    s.key("Down")
    until(lambda: "checked" in s.states(s.find("check box", "One of its materials, neat")),
          "the material is not chosen")
    s.atspi.EditableText.set_text_contents(field(s, "Temperature, °C"), "25")
    s.atspi.EditableText.set_text_contents(field(s, "Time, s, reading 1"), "95")
    s.atspi.EditableText.set_text_contents(field(s, "Lot"), "TQ 7")
    s.find("label", "about 620 mPa·s ±*")
    s.press("push button", "Save reading")
    s.gone(None, "Record a reading")
    s.find(None, "The reading was recorded for all recipes")
    until(lambda: len(bench_log(s)) == 1, "the bench log is empty")
    same(bench_log(s)[0]["material"], "castor-oil", "material")
    same(bench_log(s)[0]["lot"], "TQ 7", "lot")
    s.find("push button", "Bench, 2")


def contradiction_waits(s):
    ask(s)
    s.press("push button", "Rotational")
    s.atspi.EditableText.set_text_contents(field(s, "Viscosity, mPa·s"), "40000")
    s.atspi.EditableText.set_text_contents(field(s, "Shear rate, 1/s"), "10")
    s.atspi.EditableText.set_text_contents(field(s, "Temperature, °C"), "25")
    s.find("label", "It contradicts the prediction: *")
    s.press("push button", "Save reading")
    s.gone(None, "Record a reading")
    s.find("label", "Contradicts: *until you accept it.")
    s.press("push button", "Accept")
    s.find("label", "Contradicts, and is learned from because you accepted it*")
    s.find(None, "The reading was accepted")
    s.act("win.undo")
    s.find("label", "Contradicts: *until you accept it.")
    s.press("push button", "Take out")
    s.find("label", "Taken out: kept, but nothing is learned from it.")


def deletes_by_the_menu(s):
    s.press(None, "Actions for the reading of This recipe")
    time.sleep(0.5)
    s.key("Down")
    time.sleep(0.2)
    s.key("Return")
    s.find(None, "The reading was deleted")
    s.gone("label", "Taken out: kept, but nothing is learned from it.")
    s.act("win.undo")
    s.find("label", "Taken out: kept, but nothing is learned from it.")
    s.act("win.redo")
    s.gone("label", "Taken out: kept, but nothing is learned from it.")


def sets_words(s):
    s.act("win.edit-words")
    s.find(None, "Words for the body")
    s.expect_focus("Thin, mPa·s")
    s.atspi.EditableText.set_text_contents(field(s, "Substantial, mPa·s"), "120")
    s.find("label", "This has to lie above the word before it.")
    s.atspi.EditableText.set_text_contents(field(s, "Substantial, mPa·s"), "300")
    s.atspi.EditableText.set_text_contents(field(s, "Syrupy, mPa·s"), "320,5")
    s.press("push button", "Apply")
    s.gone(None, "Words for the body")
    s.find("label", "Syrupy")
    s.act("win.undo")
    s.find("label", "Substantial")
    s.act("win.redo")
    s.find("label", "Syrupy")


def saves(s):
    s.key("ctrl+s")
    s.find(None, "Saved")
    with open(s.copy) as f:
        saved = json.load(f)
    same(len(saved["measurements"]), 1, "readings")
    same(saved["measurements"][0]["seconds"], [62, 64, 63.5], "seconds")
    same(saved["body_bounds"]["syrupy_mpa_s"], 320.5, "bound")


def another_recipe_learns(s):
    s.stop()
    other = os.path.join(s.home, "other.oleograph")
    shutil.copyfile(DEMO, other)
    s.start(other)
    s.find("push button", "Bench, 1")


walk_through(PROGRAM, DEMO, "bench", [
    ("asks for a reading", opens),
    ("Escape closes the dialog", escape_closes),
    ("a time out of range is marked and cannot be saved", marks_a_bad_time),
    ("records a reading by keyboard", records_by_keyboard),
    ("records a neat material for all recipes", records_a_material),
    ("a contradiction waits for a decision", contradiction_waits),
    ("deletes by the menu, and undoes it", deletes_by_the_menu),
    ("sets the words for the body", sets_words),
    ("saves", saves),
    ("another recipe learns from the material", another_recipe_learns),
    ("no warnings", is_quiet),
])
