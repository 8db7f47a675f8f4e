#!/bin/sh
# SPDX-License-Identifier: GPL-3.0-or-later
#
# Usage: test-data.sh SOURCE-ROOT BUILD-ROOT CLI-PROGRAM
#
# What is installed besides programs is valid, and what is to be translated is listed.

set -u

root=$1
build=$2
cli=$3
id=org.oleograph.Oleograph

. "$root/tests/tap.sh"
cd "$root" || exit 1

unlisted_sources ()
{
  grep -lE '\b(_|N_|C_|NC_|ngettext|g_dngettext|g_dpgettext2?) *\("|translatable="yes"' -r src ui \
      --include='*.c' --include='*.h' --include='*.ui' | sort >"$tap_output.found"
  grep -vE '^(#|$)' po/POTFILES.in | sort >"$tap_output.listed"
  comm -23 "$tap_output.found" "$tap_output.listed"
  rm -f "$tap_output.found" "$tap_output.listed"
}

listed_but_missing ()
{
  grep -vE '^(#|$)' po/POTFILES.in | while read -r file; do
    [ -e "$file" ] || echo "$file"
  done
}

listed_twice ()
{
  grep -vE '^(#|$)' po/POTFILES.in | sort | uniq -d
}

# Messages that a whole catalogue needs: the extraction must at least find the verbs of the command line.
extraction_works ()
{
  grep -vE '^(#|$)' po/POTFILES.in >"$tap_output.files"
  xgettext --files-from="$tap_output.files" --directory=. --from-code=UTF-8 \
    --keyword=_ --keyword=N_ --keyword=C_:1c,2 --keyword=NC_:1c,2 --keyword=g_dngettext:2,3 --keyword=ngettext:1,2 \
    --output="$tap_output.pot" \
    && grep -q 'Predict an oil from its fatty acids' "$tap_output.pot" \
    && msgfmt --check-format --output-file=/dev/null "$tap_output.pot"
  status=$?
  rm -f "$tap_output.files" "$tap_output.pot"
  return $status
}

languages ()
{
  grep -vE '^(#|$)' po/LINGUAS
}

schema_has_default_for ()
{
  GSETTINGS_SCHEMA_DIR=$build/data GSETTINGS_BACKEND=memory gsettings get "$id" "$1"
}

check "desktop file" desktop-file-validate "$build/data/$id.desktop"
check "metainfo" appstreamcli validate --no-net "$build/data/$id.metainfo.xml"
check "settings schema" glib-compile-schemas --strict --dry-run data
for key in window-width window-height window-maximized palette-width panel-width last-folder chart-axis; do
  check "setting $key can be read from the build folder" schema_has_default_for $key
done
check "MIME type" xmllint --noout "$build/data/$id.mime.xml"
for icon in data/icons/hicolor/*/apps/*.svg; do
  check "icon ${icon##*/}" xmllint --noout "$icon"
done

for template in ui/*.ui ui/*.xml; do
  check "${template##*/} is well-formed" xmllint --noout "$template"
done

check "the library checks itself" "$cli" check
for demo in data/demo/*.oleograph; do
  check "demo ${demo##*/} has no blocking finding" "$cli" check "$demo"
done

check "POTFILES.in lists every source with messages" nothing unlisted_sources
check "POTFILES.in lists nothing that is gone" nothing listed_but_missing
check "POTFILES.in lists nothing twice" nothing listed_twice
check "messages can be extracted" extraction_works
for language in $(languages); do
  check "translation $language is well-formed" msgfmt --check --output-file=/dev/null "po/$language.po"
done

for script in src/start.sh src/packages.sh tests/run.sh tests/tap.sh .ci/run; do
  check "$script is a shell script" sh -n "$script"
done

done_testing
