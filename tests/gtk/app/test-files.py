#!/usr/bin/python3
# SPDX-License-Identifier: GPL-3.0-or-later
"""Files: the welcome page, saving, conflicts, closing, drafts, the recipe card."""
import json
import os
import shutil
import subprocess
import sys
import time

import stage
from stage import is_quiet, same, until, walk_through

stage.enter()

PROGRAM, DATA = sys.argv[1:3]
DEMO = os.path.join(DATA, "demo", "slipway-body-oil.oleograph")


def read(path):
    with open(path) as f:
        return json.load(f)


def set_amount(s, material, text):
    s.click(s.cell(material, "wt %"))
    s.key("ctrl+a")
    s.type(text)
    s.key("Return")


def welcomes(s):
    s.start()
    s.find("push button", "Start an empty recipe")
    same(s.can("win.save"), False, "saving")
    same(s.can("win.export-card"), False, "the card")


def starts_empty(s):
    s.press("push button", "Start an empty recipe")
    s.expect_focus("Name of the recipe")
    s.type("Gull grey")
    s.key("Return")
    until(lambda: s.title().startswith("• Gull grey"), lambda: "the title is " + s.title())
    s.find("label", "Nothing in it yet")
    s.key("ctrl+f")
    s.type("castor oil")
    time.sleep(0.4)
    s.key("Return")
    # the first line makes up to 100 %
    s.expect_text(lambda: s.cell("Castor oil", "wt %"), "100.00")
    s.find("label", "100 % *complete")


def saves_under_a_name(s):
    s.key("ctrl+s")
    s.fill_file_chooser(os.path.join(s.home, "gull"))
    path = os.path.join(s.home, "gull.oleograph")  # the suffix is added
    until(lambda: os.path.exists(path), "no file")
    same(read(path)["title"], "Gull grey", "title")
    until(lambda: s.title().startswith("Gull grey"), lambda: "the title is " + s.title())


def closes_at_once_when_saved(s):
    s.key("ctrl+w")
    same(s.ended(), 0, "exit status")


def opens_again(s):
    s.start()
    s.press("push button", "gull")  # among those worked on last
    s.expect_text(lambda: s.cell("Castor oil", "wt %"), "100.00")


def asks_before_closing(s):
    s.key("ctrl+f")
    s.type("squalane")
    time.sleep(0.4)
    s.key("Return")
    until(lambda: s.title().startswith("•"), "not modified")
    s.act("win.close")
    s.find(None, "Save the changes to “Gull grey”?")
    s.key("Escape")
    s.gone("dialog", "Save the changes*")
    same(s.running(), True, "running")
    s.act("win.close")
    s.press("push button", "Discard")
    same(s.ended(), 0, "exit status")
    same(len(read(os.path.join(s.home, "gull.oleograph"))["phases"][0]["lines"]), 1, "lines")


def saves_on_closing(s):
    s.start(s.copy)
    s.material = s.lines()[1]
    set_amount(s, s.material, "12.34")
    s.act("win.close")
    s.press("push button", "Save", s.find("dialog", "Save the changes to*"))
    same(s.ended(), 0, "exit status")
    same('"amount": 123400,' in json.dumps(read(s.copy)), True, "the amount in the file")
    same(os.path.exists(s.copy + "~"), True, "the version before")


def keeps_open_when_it_cannot_save(s):
    folder = os.path.join(s.home, "gone")
    os.mkdir(folder)
    path = os.path.join(folder, "a.oleograph")
    shutil.copyfile(DEMO, path)
    s.start(path)
    set_amount(s, s.material, "9.5")
    shutil.rmtree(folder)
    with open(folder, "w") as f:
        f.write("a file where the folder was")
    s.act("win.close")
    s.press("push button", "Save", s.find("dialog", "Save the changes to*"))
    time.sleep(0.5)
    same(s.running(), True, "running")
    s.find(None, "The recipe could not be saved")
    s.key("Escape")
    same(s.title().startswith("•"), True, "still unsaved")
    s.act("win.close")
    s.press("push button", "Discard")
    same(s.ended(), 0, "exit status")


def tells_of_outside_changes(s):
    s.start(s.copy)
    other = read(s.copy)
    other["title"] = "Changed elsewhere"
    time.sleep(0.3)
    with open(s.copy, "w") as f:
        json.dump(other, f)
    s.find(None, "Another program changed this file*")
    set_amount(s, s.material, "11")
    s.press("push button", "Keep what is here")
    s.key("ctrl+s")
    s.find(None, "The file was changed by another program")
    s.key("Escape")  # cancel
    same(read(s.copy)["title"], "Changed elsewhere", "title")
    s.key("ctrl+s")
    s.press("push button", "Save anyway")
    until(lambda: read(s.copy)["title"] != "Changed elsewhere", "not saved")


def loads_again(s):
    other = read(s.copy)
    other["title"] = "Changed once more"
    time.sleep(0.3)
    with open(s.copy, "w") as f:
        json.dump(other, f)
    s.press("push button", "Load again")
    until(lambda: s.title().startswith("Changed once more"), lambda: "the title is " + s.title())


def brings_own_edits_back(s):
    set_amount(s, s.material, "12.5")
    other = read(s.copy)
    other["title"] = "Changed again"
    time.sleep(0.3)
    with open(s.copy, "w") as f:
        json.dump(other, f)
    s.find(None, "*undo brings back what you changed here*")
    s.press("push button", "Load again")
    s.press("push button", "Undo", s.find("alert", "Loaded again"))
    s.expect_text(lambda: s.cell(s.material, "wt %"), "12.50")
    until(lambda: s.title().startswith("• Changed once more"), lambda: "the title is " + s.title())
    s.act("win.redo")
    until(lambda: s.title().startswith("Changed again"), lambda: "the title is " + s.title())


def writes_pdf(s):
    path = os.path.join(s.home, "card.pdf")
    s.key("ctrl+e")
    s.fill_file_chooser(path)
    until(lambda: os.path.exists(path), "no file")
    with open(path, "rb") as f:
        same(f.read(5), b"%PDF-", "kind of file")
    if shutil.which("pdftotext"):
        text = subprocess.run(["pdftotext", path, "-"], capture_output=True, text=True).stdout
        same("Changed again" in text, True, "title on the card")
        same(s.material in text, True, "material on the card")
    s.find(None, "Recipe card written to card.pdf")


def writes_markdown(s):
    path = os.path.join(s.home, "card.md")
    s.press("push button", "Recipe card")
    s.choose("Plain text (Markdown)…")
    s.fill_file_chooser(path)
    until(lambda: os.path.exists(path), "no file")
    with open(path) as f:
        text = f.read()
    same("Changed again" in text and s.material in text, True, "title and material")


def brings_a_draft_back(s):
    set_amount(s, s.material, "10.01")
    drafts = os.path.join(s.home, "data", "oleograph", "drafts")
    until(lambda: os.path.isdir(drafts)
          and any("100100" in open(os.path.join(drafts, n)).read() for n in os.listdir(drafts)),
          "no draft", 15)
    s.crash()
    s.start()
    s.find(None, "*This recipe can be restored: “Changed again”")
    s.press("push button", "Throw away")
    s.find(None, "Throw away the recipe?")
    s.find(None, "*is lost then: “Changed again”")
    s.key("Escape")
    s.gone(None, "Throw away the recipe?")
    s.press("push button", "Restore")
    s.expect_text(lambda: s.cell(s.material, "wt %"), "10.01")
    same(s.title().startswith("•"), True, "unsaved")
    s.act("win.close")
    s.press("push button", "Discard")
    same(s.ended(), 0, "exit status")
    same(os.listdir(drafts), [], "drafts left")


def throws_a_draft_away(s):
    s.start(s.copy)
    set_amount(s, s.material, "10.02")
    drafts = os.path.join(s.home, "data", "oleograph", "drafts")
    until(lambda: os.path.isdir(drafts)
          and any("100200" in open(os.path.join(drafts, n)).read() for n in os.listdir(drafts)),
          "no draft", 15)
    s.crash()
    s.start()
    s.press("push button", "Throw away")
    s.find(None, "Throw away the recipe?")
    s.press("push button", "Throw away", s.find("dialog", "*"))
    s.gone(None, "*can be restored*")
    same(os.listdir(drafts), [], "drafts left")
    s.stop()


def refuses_a_bad_file(s):
    path = os.path.join(s.home, "bad.oleograph")
    with open(path, "w") as f:
        f.write('{"format": 1, ')
    s.start(path)
    s.find(None, "The recipe could not be opened")
    s.find("label", "*bad.oleograph*")
    s.key("Escape")
    s.find("push button", "Open the demo recipe")


def opens_the_demo(s):
    s.press("push button", "Open the demo recipe")
    until(lambda: s.lines(), "no lines")
    s.find("label", "Not saved yet")
    s.act("win.close")  # nothing was changed
    same(s.ended(), 0, "exit status")


def opens_a_table(s):
    path = os.path.join(s.home, "table.csv")
    with open(path, "w") as f:
        f.write("phase,ingredient,percent\nOne,castor-oil,balance\nOne,beeswax,7.5\n")
    s.start(path)
    s.expect_text(lambda: s.cell("Castor oil", "wt %"), "92.50")
    s.find("label", "Not saved yet")
    s.stop()


def says_what_it_lacks(s):
    os.environ["OLEOGRAPH_DATA_DIR"] = s.home
    s.start()
    s.find("label", "The list of materials cannot be read*")
    s.stop()
    os.environ["OLEOGRAPH_DATA_DIR"] = DATA


walk_through(PROGRAM, DEMO, "files", [
    ("a welcome page", welcomes),
    ("an empty recipe", starts_empty),
    ("saving under a name", saves_under_a_name),
    ("closing what is saved", closes_at_once_when_saved),
    ("opening what was worked on last", opens_again),
    ("a question before unsaved work is lost", asks_before_closing),
    ("saving on the way out", saves_on_closing),
    ("a failed save keeps the window", keeps_open_when_it_cannot_save),
    ("a file changed by another program", tells_of_outside_changes),
    ("loading the changed file", loads_again),
    ("own edits after loading again", brings_own_edits_back),
    ("the card as PDF", writes_pdf),
    ("the card as Markdown", writes_markdown),
    ("a draft after a crash", brings_a_draft_back),
    ("a draft thrown away", throws_a_draft_away),
    ("a damaged file", refuses_a_bad_file),
    ("the demo recipe", opens_the_demo),
    ("a recipe table", opens_a_table),
    ("a program without its data", says_what_it_lacks),
    ("no warnings", is_quiet),
])
