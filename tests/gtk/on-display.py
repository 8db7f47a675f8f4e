#!/usr/bin/python3
# SPDX-License-Identifier: GPL-3.0-or-later
"""Runs a test program on a display, session bus and home of its own.

usage: on-display.py PROGRAM [ARG...]
"""
import subprocess
import sys

import stage

stage.enter()
with stage.Stage(None):
    code = subprocess.call(sys.argv[1:])
sys.exit(code)
