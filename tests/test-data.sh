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
  grep -lE '\b(_|N_|C_|NC_|NP_|ngettext|g_dngettext|g_dpgettext2?) *\("|translatable="yes"' -r src ui \
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

# Messages that print a floating-point number by themselves, in whatever form printf gives it; a
# share written "100 %" is none, nor is a flag of space.
messages_with_raw_numbers ()
{
  xgettext --files-from="$tap_output.sources" --directory=. --from-code=UTF-8 --no-wrap \
    --keyword=_ --keyword=N_ --keyword=C_:1c,2 --keyword=NC_:1c,2 --keyword=g_dngettext:2,3 \
    --keyword=g_dpgettext2:2c,3 --keyword=ngettext:1,2 --output=- \
    | sed 's/%%//g' \
    | grep -E "%([0-9]+\\$)?[-+#0']*[0-9]*(\\.([0-9]+|\\*))?L?[aefgAEFG]"
}

raw_numbers_in_sources ()
{
  find src -name '*.[ch]' >"$tap_output.sources"
  messages_with_raw_numbers
  rm -f "$tap_output.sources"
}

# The check above must see what it looks for.
raw_numbers_are_seen ()
{
  printf '%s\n' 'const char *one = _("at %.1f °C");' 'const char *two = ngettext ("100 %% of %2$+g"' \
    '  " month", "%u months", n);' >"$tap_output.c"
  echo "$tap_output.c" >"$tap_output.sources"
  found=$(messages_with_raw_numbers | wc -l)
  rm -f "$tap_output.sources" "$tap_output.c"
  [ "$found" -eq 2 ]
}

# Numbers in the C locale are for files, and for the list of acids, whose entries a comma parts.
c_locale_numbers ()
{
  grep -lE '\bg_ascii_(formatd|dtostr) *\(' -r src \
    | grep -vE '^src/(core/base/(csv|json-write|number-text)|gtk/design/material-editor)\.c$'
}

# A place with German numbers, made if the machine has none.
has_comma_locale ()
{
  [ "$(LC_ALL=de_DE.UTF-8 locale decimal_point)" = , ] && return 0
  mkdir -p "$tap_output.locale" && localedef -i de_DE -f UTF-8 "$tap_output.locale/de_DE.UTF-8" || return 1
  LOCPATH=$tap_output.locale
  export LOCPATH
}

# A thin oil, whose viscosity has a decimal, and too much of it.
write_thin_recipe ()
{
  cat >"$tap_output.thin.oleograph" <<'EOF'
{"format": "oleograph-document", "version": 1, "title": "Thin", "product": "body", "batch_g": 25.5,
 "phases": [{"id": 1, "name": "Oil", "temperature_c": 40.5, "lines": [
  {"id": 2, "ingredient": "isopropyl-myristate", "amount": 935000},
  {"id": 3, "ingredient": "tocopherol", "amount": 25000},
  {"id": 4, "ingredient": "lavender-oil", "amount": 15000}]}]}
EOF
}

# in_german VERB ARGUMENT...: what readers see, without citations, names of substances and files
in_german ()
{
  LC_ALL=de_DE.UTF-8 LANGUAGE= "$cli" "$@" 2>&1
}

german_sentences ()
{
  thin=$tap_output.thin.oleograph
  for recipe in data/demo/*.oleograph "$thin"; do
    in_german evaluate "$recipe" --temperature 20.5
    in_german check "$recipe" --exposure linalool,12.5,40.5,80
    in_german stove "$recipe" --room 18.5 --vessel-ml 250
    in_german batch "$recipe" --grams 1234.5 --balance fein,0.01,200 --nominal 5 --unit ml --capacity-ml 5.5
    in_german keep "$recipe" --temperature 40.5 --date 2026-01-01 --peroxide tocopherol=17.3
    in_german levers "$recipe"
    in_german declare "$recipe" --market eu
    in_german substitute "$recipe" --for tocopherol --most 5
  done
  in_german substitute "$thin" --for isopropyl-myristate --most 5
  in_german solve "$thin" --target 3.5 --vary isopropyl-myristate
  in_german compare data/demo/*.oleograph "$thin"
  in_german batch "$thin" --containers 4 --fill-c 1234
}

# A point between digits, but for sections of a rule (21 CFR 701.3) and decimals as the caller typed them.
points_in_german ()
{
  german_sentences >"$tap_output.german"
  grep -nE '[0-9]\.[0-9]' "$tap_output.german" | grep -vE '21 CFR [0-9]+\.[0-9]+'
}

commas_in_german ()
{
  points_in_german >/dev/null
  for words in 'etwa [0-9],[0-9]' 'gegen [0-9],[0-9] bei 25' '[0-9],[0-9]+[^0-9]*%'; do
    grep -qE "$words" "$tap_output.german" || { echo "nothing like $words"; return 1; }
  done
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

check "a number printed by a message is seen" raw_numbers_are_seen
check "messages take numbers as text" nothing raw_numbers_in_sources
check "only writers of files write numbers in the C locale" nothing c_locale_numbers

if has_comma_locale; then
  write_thin_recipe
  check "German sentences hold numbers with a comma" commas_in_german
  check "German sentences hold no number with a point" nothing points_in_german
  rm -rf "$tap_output.thin.oleograph" "$tap_output.german" "$tap_output.locale"
else
  skip "German sentences hold numbers with a comma" "no locale with a decimal comma is at hand"
  skip "German sentences hold no number with a point" "no locale with a decimal comma is at hand"
fi

for script in src/start.sh src/packages.sh tests/run.sh tests/tap.sh .ci/run; do
  check "$script is a shell script" sh -n "$script"
done

done_testing
