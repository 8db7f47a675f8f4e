#!/bin/sh
# SPDX-License-Identifier: GPL-3.0-or-later
#
# Usage: test-layers.sh SOURCE-ROOT BUILD-ROOT CLI-PROGRAM COMPILER
#
# The layers of src stand on each other in one direction only, and the tree holds what it should.

set -u

root=$1
build=$2
cli=$3
compiler=$4

. "$root/tests/tap.sh"
cd "$root" || exit 1

core_flags=$(pkg-config --cflags glib-2.0 json-glib-1.0 gsl)
model_flags=$(pkg-config --cflags gio-2.0 json-glib-1.0 gsl)
draw_flags=$(pkg-config --cflags gio-2.0 json-glib-1.0 gsl cairo pangocairo)
cli_flags=$draw_flags
gtk_flags=$(pkg-config --cflags gtk4 json-glib-1.0 gsl)

# compile_alone LAYER FLAG...: writes what the compiler says of each header of the layer, taken alone with
# the libraries of the layer, into a file of $alone; one process for each core.
compile_alone ()
{
  find "src/$1" -name '*.h' -printf '%P\n' | LAYER=$1 COMPILE="$compiler -std=gnu17 -fsyntax-only -Wall -Wextra \
    -Werror -Wno-unused-parameter -x c $2 -Isrc -I$build -" OUT=$alone xargs -P "$(nproc)" -I @ sh -c '
      name=$LAYER/@
      out=$OUT/$(echo "$name" | tr / +)
      printf "#include \"%s\"\nint oleograph_header_check;\n" "$name" | $COMPILE >"$out" 2>&1 || echo refused >>"$out"'
}

# said_nothing HEADER: it was compiled and the compiler had nothing to say.
said_nothing ()
{
  cat "$alone/$(echo "$1" | tr / +)" || echo "was not compiled"
}

# foreign_includes LAYER ALLOWED...: project includes of the layer that no allowed layer owns.
foreign_includes ()
{
  layer=$1
  shift
  allowed=$(echo "$*" | tr ' ' '|')
  grep -nE '^ *# *include *"' -r "src/$layer" --include='*.c' --include='*.h' \
    | grep -vE "\"(($allowed)/[^\"]*|config\.h|oleograph-resources\.h)\""
}

# below FOLDER: what folders of the core and of the window may use beside themselves, lowest first.
below ()
{
  case $1 in
    core/base | gtk/parts) ;;
    core/material) echo base ;;
    core/recipe) echo base material ;;
    core/predict) echo base material recipe ;;
    core/label | core/make) echo base material recipe predict ;;
    core/design) echo base material recipe predict label make ;;
    gtk/design | gtk/make | gtk/label | gtk/ledger) echo parts ;;
    gtk/app) echo parts design make label ledger ;;
    *) echo "no place is known for the folder $1" >&2; return 1 ;;
  esac
}

folders_of ()
{
  find "src/$1" -mindepth 1 -maxdepth 1 -type d -printf '%f\n' | sort
}

# upward_includes LAYER FOLDER: includes of other folders of the layer than those below.
upward_includes ()
{
  allowed=$(echo "$2" $(below "$1/$2") | tr ' ' '|')
  grep -nE "^ *# *include *\"$1/" -r "src/$1/$2" | grep -vE "\"$1/($allowed)/"
}

# symbols LETTERS LAYER FOLDER: names that the objects of the folder define (TDBRC) or need (U).
symbols ()
{
  nm "$build/src/$2/$3/libog$2-$3.a" | sed -n "s/^[0-9a-f ]* [$1] //p" | sort -u
}

# upward_calls LAYER FOLDER: what the folder's objects need from folders that are not below, so that
# a call which declares its function by hand is found as well.
upward_calls ()
{
  layer=$1
  folder=$2
  symbols TDBRC "$layer" "$folder" >"$tap_output.defined"
  [ -s "$tap_output.defined" ] || echo "$layer/$folder defines nothing"
  symbols U "$layer" "$folder" | comm -23 - "$tap_output.defined" >"$tap_output.needed"
  for other in $(folders_of "$layer"); do
    case " $folder $(below "$layer/$folder" | tr '\n' ' ') " in
      *" $other "*) ;;
      *) symbols TDBRC "$layer" "$other" | comm -12 "$tap_output.needed" - | sed "s|\$| of $layer/$other|" ;;
    esac
  done
  rm -f "$tap_output.defined" "$tap_output.needed"
}

# circles LAYER: units that call each other in a circle. What belief, blend, its band and its ratio hold
# is one thing in four files.
circles ()
{
  nm -A "$build/src/$1"/*/libog"$1"-*.a | sed -n 's|^.*[/:]\([^/:]*\)\.c\.o: *|\1 |p' \
    | awk 'NF < 3 { next }
           { unit = $1; sub (/^.*_/, "", unit); sub (/^(belief|blend-band|blend-ratio)$/, "blend", unit)
             kind = $(NF - 1); name = $NF }
           kind ~ /^[TDBRC]$/ { home[name] = unit }
           kind == "U" { needs[unit " " name] = 1 }
           END { for (pair in needs) { split (pair, part, " ")
                   if (part[2] in home && home[part[2]] != part[1]) print part[1], home[part[2]] } }' \
    | sort -u | tsort 2>&1 >"$tap_output.order"
  [ -s "$tap_output.order" ] || echo "$1 has no units"
  rm -f "$tap_output.order"
}

# What the program shows leaves no trace in the history of an entry: og_editable_show() sees to that.
texts_set_elsewhere ()
{
  grep -rnE '\bgtk_(editable|entry_buffer)_set_text *\(' src/gtk --include='*.c' --include='*.h' | grep -v '^src/gtk/parts/text-undo\.c:'
}

gtk_outside ()
{
  grep -nE '# *include *[<"](gtk|gdk|gsk|adwaita)' -r src tests --include='*.c' --include='*.h' \
    | grep -vE '^(src|tests)/gtk/'
}

# words_in_core PATTERN: uses in the core of what would make its results depend on more than its input.
words_in_core ()
{
  grep -nE "$1" -r src/core --include='*.c' --include='*.h'
}

file_access_in_core ()
{
  words_in_core '\b(g_file_get_contents|g_file_set_contents|fopen|g_fopen|g_dir_open|g_mapped_file_new)\b' \
    | grep -vE '^src/core/(base/json-file|material/(catalog|parameters)|recipe/recipe-table)\.c:'
}

# Numbers of physics, statistics and the bench that stand in src/core/base and nowhere else.
facts_elsewhere ()
{
  grep -nE '\b(1\.28(16|155[0-9]*)|273\.1[56]|8\.314[0-9]*|GSL_CONST_MKSA_MOLAR_GAS)\b' -r src --include='*.c' --include='*.h' \
    | grep -v '^src/core/base/'
  grep -nE '# *define +(OG_)?(FLASH_MARGIN|SMOKE_MARGIN|WATER_BATH|BATH|HOT_OIL|ASSUMED_DENSITY|ROOM)_(C|K|G_ML) ' \
      -r src --include='*.c' --include='*.h' \
    | grep -v '^src/core/base/'
}

# unexplained_numbers FOLDER: numbers that stand for themselves. A #define of one carries a comment on its line,
# or belongs to a group of #defines right below a comment.
unexplained_numbers ()
{
  find "$1" -name '*.[ch]' | sort | xargs awk '
    FNR == 1 { told = inside = 0 }
    inside { if (index ($0, "*/")) { inside = 0; told = !of_define } next }
    /^ *# *define / {
      if ($0 ~ /^ *# *define +[A-Za-z0-9_]+ +\(*-?\.?[0-9]/ && !told && $0 !~ /\/[*\/]/)
        print FILENAME ":" FNR ": " $0
      if (index ($0, "/*") && !index ($0, "*/")) { inside = 1; of_define = !told }
      next
    }
    /^ *\/\*/ { told = index ($0, "*/") > 0; inside = !told; of_define = 0; next }
    { told = 0 }'
}

# The check above refuses what it should: a number without a comment, after a blank line, or below another one.
refuses_unexplained_numbers ()
{
  mkdir "$tap_output.folder"
  printf '%s\n' '#define A 1' '#define B 2 /* b */' '#define C (-.5)' '/* d */' '#define D 4' '#define E 5u' '' '#define F 6' \
    >"$tap_output.folder/x.c"
  unexplained_numbers "$tap_output.folder" | sed 's/.*define \(.\).*/\1/' | tr -d '\n' >"$tap_output.found"
  grep -qx ACF "$tap_output.found"
  status=$?
  rm -r "$tap_output.folder" "$tap_output.found"
  return $status
}

# sentences_of FOLDER: where the C files of the folder ask for a translation, which is for the reader's side of the
# program: the core makes sayings. Messages of errors are the exception, since GError carries the sentence itself:
# within a call that sets one, as the label, reason or advice that one is told with, or in a function that ends in
# _for_error.
sentences_of ()
{
  find "$1" -name '*.c' | sort | xargs awk '
    function told_by_error (depth, i) {
      if (target ~ /^(label|reason|advice)$/ || where ~ /_for_error$/) return 1
      for (i = 1; i <= depth; i++)
        if (call[i] ~ /^(g_set_error|g_set_error_literal|([a-z]+_)*fail|og_json_fail_code|refuse|og_json_begin_document)$/)
          return 1
      return 0
    }
    FNR == 1 { depth = comment = macro = 0; where = target = "" }
    macro || /^ *#/ { macro = /\\$/; next }
    /^[a-z][a-z0-9_]* \(/ { where = $1 }
    {
      word = ""
      for (i = 1; i <= length ($0); i++) {
        c = substr ($0, i, 1)
        pair = substr ($0, i, 2)
        if (comment) { if (pair == "*/") { comment = 0; i++ } continue }
        if (pair == "/*") { comment = 1; i++; continue }
        if (c == "\"" || c == "\047") {
          for (i++; i <= length ($0) && substr ($0, i, 1) != c; i++)
            if (substr ($0, i, 1) == "\\") i++
          word = ""
        }
        else if (c ~ /[A-Za-z0-9_]/) { word = (gap ? "" : word) c; gap = 0 }
        else if (c ~ /[ \t]/) gap = 1
        else {
          if (c == "(") {
            if (word ~ /^(_|C_|N?C_|ngettext|g_dngettext|g_dgettext|gettext)$/ && !told_by_error(depth))
              print FILENAME ":" FNR ": " $0
            call[++depth] = word
          }
          else if (c == ")") depth -= depth > 0
          else if (c ~ /[;{}]/) { depth = 0; target = "" }
          else if (c == "=" && pair != "==") target = word
          word = ""
          gap = 0
        }
      }
      gap = 1
    }' | grep -vE '^src/core/base/(nick|number-text|saying)\.c:'
}

# The check above refuses what it should and nothing else.
refuses_sentences ()
{
  mkdir "$tap_output.folder"
  printf '%s\n' '/* _("a") */' 'static void' 'one (int b)' '{' '  say (g_strdup (_("c")));' '  say (N_("d _(e)"));' '}' 'two (void)' \
    '{' '  for (i = 0; i < 2; i++)' '    if (i == 1)' '      return refuse (error, "f",' '                     _("f"));' \
    '  label = _("g");' '  h = n > 1 ? ngettext ("h", "h", n) : 0;' '}' 'three_for_error (void)' '{' '  return _("i");' '}' \
    'four (void)' '{' '  return _("j");' '}' >"$tap_output.folder/x.c"
  sentences_of "$tap_output.folder" | sed 's/^[^:]*:\([0-9]*\):.*/\1/' | tr '\n' ' ' >"$tap_output.found"
  grep -qx '5 15 23 ' "$tap_output.found"
  status=$?
  rm -r "$tap_output.folder" "$tap_output.found"
  return $status
}

# Units that write numbers, and the words for them, into the messages of their errors.
numbers_of_errors='base/json-read make/batch material/ingredient-read recipe/bench recipe/recipe-table'

# readings_of FOLDER: what the objects of a folder of the core need in order to read a saying, to write a number or to
# translate the name of a value, which is for the reader's side of the program.
readings_of ()
{
  objects=$build/src/core/$1/libogcore-$1.a
  nm "$objects" | grep -q ' T og_' || echo "core/$1 defines nothing"
  nm -A "$objects" \
    | sed -n 's/^.*[/:]\([^/:]*\)\.c\.o: *U \(og_saying_\(take_\)*text\|og_number_[a-z_]*\|og_[a-z_]*_get_name\)$/\1 \2/p' \
    | grep -vE ' (og_number_equal|og_nick_get_name)$|^saying ' | sort | while read -r unit name; do
        case "$name $numbers_of_errors " in
          og_number_*" $1/$unit "*) ;;
          *) echo "$1/$unit needs $name" ;;
        esac
      done
}

linked_to_gtk ()
{
  ldd "$cli" >"$tap_output.libraries" || echo "ldd cannot read $cli"
  grep -q libglib "$tap_output.libraries" || echo "$cli does not link GLib"
  grep -E 'libgtk|libgdk-[0-9]|libadwaita' "$tap_output.libraries"
  rm -f "$tap_output.libraries"
}

gtk_in_build_files ()
{
  grep -ln 'gtk_dep' -r src --include=meson.build | grep -v '^src/gtk/meson.build$'
}

unexpected_at_top ()
{
  for entry in *; do
    case $entry in
      README.md | DEVELOPERS.md | LICENSE | meson.build | src | ui | data | po | tests) ;;
      build*) ;;
      *) echo "$entry" ;;
    esac
  done
}

missing_at_top ()
{
  for entry in README.md DEVELOPERS.md LICENSE meson.build src ui data po tests .ci/run; do
    [ -e "$entry" ] || echo "$entry"
  done
}

# Schemes of addresses in what is shipped or tested; XML namespaces name a standard, not a place.
addresses ()
{
  grep -nIE '(https?|ftp)://|www\.[a-z]' -r data tests ui src po README.md DEVELOPERS.md \
    | grep -vE 'xmlns(:[a-z]+)?="http://www\.(w3|freedesktop)\.org/' \
    | grep -vE '^tests/test-layers\.sh:'
}

machine_paths ()
{
  grep -nIE '(^|[^[:alnum:]_}])/(home|root|Users|work)/[a-z]' -r data tests ui src po README.md DEVELOPERS.md \
    | grep -vE '^tests/test-layers\.sh:'
}

without_licence_line ()
{
  find src tests ui -type f \( -name '*.c' -o -name '*.h' -o -name '*.sh' -o -name '*.py' -o -name '*.ui' \
    -o -name '*.css' -o -name meson.build \) -exec grep -L 'SPDX-License-Identifier: GPL-3.0-or-later' {} +
}

alone=$(mktemp -d)
trap 'rm -rf "$alone" "$tap_output"' EXIT
for layer in core model draw cli gtk; do
  eval "compile_alone $layer \"\$${layer}_flags\""
  for header in $(find "src/$layer" -name '*.h' | sort); do
    check "${header#src/} compiles alone" nothing said_nothing "${header#src/}"
  done
done

check "core sees core only" nothing foreign_includes core core
check "model sees core and model" nothing foreign_includes model core model
check "draw sees core and draw" nothing foreign_includes draw core draw
check "the command line does not see the window" nothing foreign_includes cli core model draw cli
check "the window does not see the command line" nothing foreign_includes gtk core model draw gtk
for layer in core gtk; do
  for folder in $(folders_of $layer); do
    check "$layer/$folder includes only what lies below" nothing upward_includes $layer "$folder"
    check "$layer/$folder calls only what lies below" nothing upward_calls $layer "$folder"
  done
  check "no units of $layer call each other in a circle" nothing circles $layer
done
check "a recipe knows nothing of viscosity" \
  nothing grep -nE 'include "core/predict/' src/core/recipe/formula.h src/core/recipe/formula.c
check "the program sets the text of entries in one way only" nothing texts_set_elsewhere
check "no GTK include outside the window" nothing gtk_outside
check "no GTK dependency outside the window" nothing gtk_in_build_files
check "the command line does not need GTK" nothing linked_to_gtk
check "core has no clock" nothing words_in_core \
  '\b(time *\(NULL|g_get_real_time|g_get_monotonic_time|g_date_time_new_now[a-z_]*|clock_gettime) *\('
check "core has no locale of its own" nothing words_in_core '\b(setlocale|localeconv|nl_langinfo) *\('
check "core has no settings or environment" nothing words_in_core '\b(g_getenv|getenv|g_settings_new) *\('
check "core has no hidden seed" nothing words_in_core '\b(g_random_[a-z_]*|rand|srand|drand48|random) *\('
check "core opens files only where it reads them" nothing file_access_in_core
check "facts have one home" nothing facts_elsewhere
check "numbers without an explanation are found" refuses_unexplained_numbers
check "every number of the core is explained" nothing unexplained_numbers src/core
check "sentences of the core are found" refuses_sentences
for folder in $(folders_of core); do
  check "core/$folder says nothing in the reader's language" nothing sentences_of "src/core/$folder"
  check "core/$folder reads no saying and no name" nothing readings_of "$folder"
done
check "the top level holds nothing unexpected" nothing unexpected_at_top
check "the top level is complete" nothing missing_at_top
check "no web address in the tree" nothing addresses
check "no path of a machine in the tree" nothing machine_paths
check "every source file says its licence" nothing without_licence_line

done_testing
