#!/usr/bin/python3
# SPDX-License-Identifier: GPL-3.0-or-later
"""Adds up TAP points over meson test logs.

Usage: tally.py LABEL=testlog.json...

Prints what failed and why, then one line "N passed, N failed" (and ", N skipped" if any were). A
program that dies, that stops short of its plan or that says nothing counts as one failure more; so
does a log that is missing or empty. Exit status 1 if anything failed or nothing passed.
"""

import json
import re
import sys

POINT = re.compile(r"^(not )?ok\b\s*\d*\s*(?:-\s*)?([^#]*)(?:#\s*(skip|todo)\b)?", re.IGNORECASE)
PLAN = re.compile(r"^1\.\.(\d+)")


def count(program):
    """Returns (passed, skipped, names of failed points) of one program of a log."""
    passed, skipped, failed = 0, 0, []
    plan = None
    for line in program.get("stdout", "").splitlines():
        point = POINT.match(line)
        if point:
            directive = (point.group(3) or "").lower()
            if directive == "skip" or (directive == "todo" and point.group(1)):
                skipped += 1
            elif point.group(1):
                failed.append(point.group(2).strip() or "unnamed point")
            else:
                passed += 1
        elif PLAN.match(line):
            plan = int(PLAN.match(line).group(1))
        elif line.startswith("Bail out!"):
            failed.append(line)

    points = passed + skipped + len(failed)
    if plan == 0 and points == 0:
        skipped += 1
    elif points == 0:
        failed.append("no test point in the output")
    elif plan is not None and points < plan:
        failed.append(f"{points} of {plan} planned points")
    if program["result"] not in ("OK", "SKIP", "EXPECTEDFAIL") and not failed:
        failed.append(f"ended with {program['result']}, status {program['returncode']}")
    return passed, skipped, failed


def read_log(path):
    try:
        with open(path, encoding="utf-8") as log:
            return [json.loads(line) for line in log if line.strip()]
    except OSError as error:
        print(f"{path}: {error.strerror}")
        return []


def main():
    passed, skipped, failed = 0, 0, 0
    for argument in sys.argv[1:]:
        label, path = argument.split("=", 1)
        programs = read_log(path)
        if not programs:
            print(f"FAILED {label}: no test ran")
            failed += 1
        for program in programs:
            good, left_out, bad = count(program)
            passed += good
            skipped += left_out
            failed += len(bad)
            for name in bad:
                print(f"FAILED {label}, {program['name']}: {name}")
    summary = f"{passed} passed, {failed} failed"
    print(summary + (f", {skipped} skipped" if skipped else ""))
    return 1 if failed or not passed else 0


sys.exit(main())
