#!/bin/sh
# SPDX-License-Identifier: GPL-3.0-or-later
# The shipped parameters are those that the fit gives, to the last digit.
# usage: test-fit.sh FIT SOURCE-ROOT WORK-FOLDER
set -u
echo 1..2
if "$1" "$2/tests" "$2/data" "$3/parameters.json" >"$3/report.txt"; then
  echo "ok 1 the fit runs"
else
  echo "not ok 1 the fit runs"
fi
if cmp "$3/parameters.json" "$2/data/model/parameters.json" >&2; then
  echo "ok 2 data/model/parameters.json is what the fit writes"
else
  echo "not ok 2 data/model/parameters.json is what the fit writes"
fi
