#!/bin/sh
# SPDX-License-Identifier: GPL-3.0-or-later
#
# Builds Oleograph into the folder `build` and shows the demo recipe: in the window where there is a
# display, else as a recipe card and as its evaluation in the terminal.

set -eu

root=$(CDPATH='' cd -- "$(dirname -- "$0")/.." && pwd)
build=$root/build
demo=$root/data/demo/harbour-gloss.oleograph

. "$root/src/packages.sh"
install_missing $build_packages

if [ ! -f "$build/build.ninja" ]; then
  meson setup "$build" "$root"
fi
ninja -C "$build"

GSETTINGS_SCHEMA_DIR=$build/data
export GSETTINGS_SCHEMA_DIR

if [ -n "${DISPLAY:-}" ] || [ -n "${WAYLAND_DISPLAY:-}" ]; then
  # A copy, so that trying things out and saving them leaves the source tree as it is.
  copy=$build/harbour-gloss.oleograph
  [ -f "$copy" ] || cp "$demo" "$copy"
  exec "$build/src/gtk/oleograph" "$copy"
fi

cli=$build/src/cli/oleograph-cli
echo
for suffix in pdf md; do
  card=$build/harbour-gloss.$suffix
  "$cli" card "$demo" -o "$card"
  echo "Recipe card: $card"
done
echo
"$cli" evaluate "$demo"
