#!/bin/sh
# SPDX-License-Identifier: GPL-3.0-or-later
#
# Usage: run.sh [--long]
#
# Builds and tests everything: with gcc and all suites, with clang, and with the address and undefined
# behaviour sanitizers; --long works the window under the sanitizers too, which takes ten minutes more.
# Needs neither a terminal nor a display, and no network once the packages are there. The last line of
# the output is "N passed, N failed", with ", N skipped" if any were.

set -u

case ${1:-} in
  '') long=false ;;
  --long) long=true ;;
  *) echo "Usage: run.sh [--long]" >&2; exit 2 ;;
esac

root=$(CDPATH='' cd -- "$(dirname -- "$0")/.." && pwd)
out=$root/build-tests

. "$root/src/packages.sh"
install_missing $build_packages \
  xvfb xauth dbus dbus-daemon at-spi2-core gir1.2-atspi-2.0 python3-gi openbox xdotool x11-utils imagemagick \
  fonts-noto-core fonts-noto-mono desktop-file-utils appstream poppler-utils clang libclang-rt-14-dev \
  libglib2.0-bin shared-mime-info libxml2-utils locales || exit 1

# Nothing is read from or written to the home folder of whoever runs this.
mkdir -p "$out/home" "$out/run" || exit 1
chmod 700 "$out/run"
HOME=$out/home
XDG_CONFIG_HOME=$out/home/config
XDG_DATA_HOME=$out/home/data
XDG_CACHE_HOME=$out/home/cache
XDG_STATE_HOME=$out/home/state
XDG_RUNTIME_DIR=$out/run
LC_ALL=C.UTF-8
# A language with a decimal comma and one that is written from right to left.
LOCPATH=$out/locale
mkdir -p "$LOCPATH"
for language in de_DE ar_EG; do
  localedef -i $language -f UTF-8 "$LOCPATH/$language.UTF-8" || exit 1
done
export LOCPATH HOME XDG_CONFIG_HOME XDG_DATA_HOME XDG_CACHE_HOME XDG_STATE_HOME XDG_RUNTIME_DIR LC_ALL
unset LANGUAGE DISPLAY WAYLAND_DISPLAY DBUS_SESSION_BUS_ADDRESS OLEOGRAPH_DATA_DIR GSETTINGS_SCHEMA_DIR

say ()
{
  echo
  echo "== $* =="
}

# build NAME COMPILER OPTION...: sets up and builds $out/NAME from nothing.
build ()
{
  name=$1
  compiler=$2
  shift 2
  say "build: $name"
  rm -rf "${out:?}/$name"
  CC=$compiler meson setup "$out/$name" "$root" -Dwerror=true "$@" && ninja -C "$out/$name"
}

# run_suites NAME LABEL OPTION...: runs suites of $out/NAME. The log is counted at the end; a build or a
# run that failed leaves none, which counts as failed. Window tests make themselves a display.
run_suites ()
{
  name=$1
  label=$2
  shift 2
  say "test: $name, $label"
  meson test -C "$out/$name" --no-rebuild --print-errorlogs --logbase "$label" "$@"
}

# In one process each, one after the other: they time what they do.
gtk_options="--suite gtk --no-suite screen --num-processes 1"
# They mostly wait for what happens on screen; side by side they need more patience.
screen_options="--suite screen --num-processes 3"
headless="--suite core --suite model --suite draw --suite cli"

if build gcc gcc; then
  run_suites gcc headless $headless --suite data
  run_suites gcc gtk $gtk_options
  OG_PATIENCE=30
  export OG_PATIENCE
  run_suites gcc screen $screen_options
fi

# What clang warns of does not hang on how much it optimises.
if build clang clang -Doptimization=0; then
  run_suites clang core --suite core
fi

# fast_unwind_on_malloc=0 shows longer traces of a leak, and takes twenty times as long.
if build sanitized gcc -Doptimization=1 -Db_sanitize=address,undefined -Db_lundef=false -Dc_args=-fno-omit-frame-pointer \
   && gcc -shared -fPIC -o "$out/keep-loaded.so" "$root/tests/keep-loaded.c"; then
  G_SLICE=always-malloc
  LD_PRELOAD=$out/keep-loaded.so
  UBSAN_OPTIONS=halt_on_error=1:print_stacktrace=1
  ASAN_OPTIONS=detect_leaks=1:verify_asan_link_order=0
  LSAN_OPTIONS=suppressions=$root/tests/lsan.supp:print_suppressions=0
  export G_SLICE LD_PRELOAD UBSAN_OPTIONS ASAN_OPTIONS LSAN_OPTIONS
  run_suites sanitized headless $headless --timeout-multiplier 5
  run_suites sanitized gtk $gtk_options --timeout-multiplier 5
  if $long; then
    # GTK 4.8 itself loses a date whenever a file is put on the list of recent ones.
    ASAN_OPTIONS=detect_leaks=0:verify_asan_link_order=0
    OG_PATIENCE=60
    run_suites sanitized screen $screen_options --timeout-multiplier 5
  fi
fi

unset LD_PRELOAD
say "result"
set -- \
  "gcc headless=$out/gcc/meson-logs/headless.json" \
  "gcc gtk=$out/gcc/meson-logs/gtk.json" \
  "gcc screen=$out/gcc/meson-logs/screen.json" \
  "clang core=$out/clang/meson-logs/core.json" \
  "sanitized headless=$out/sanitized/meson-logs/headless.json" \
  "sanitized gtk=$out/sanitized/meson-logs/gtk.json"
if $long; then
  set -- "$@" "sanitized screen=$out/sanitized/meson-logs/screen.json"
fi
/usr/bin/python3 "$root/tests/tally.py" "$@"
