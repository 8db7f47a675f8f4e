# SPDX-License-Identifier: GPL-3.0-or-later
#
# Read by shell tests: numbered results in TAP. Each check runs a command; its output is shown as a
# diagnosis when it fails.

tap_points=0
tap_failures=0
tap_output=$(mktemp)
trap 'rm -f "$tap_output"' EXIT

# check NAME COMMAND [ARGUMENT...]
check ()
{
  tap_name=$1
  shift
  tap_points=$((tap_points + 1))
  if "$@" >"$tap_output" 2>&1; then
    echo "ok $tap_points $tap_name"
  else
    tap_failures=$((tap_failures + 1))
    echo "not ok $tap_points $tap_name"
    sed 's/^/# /' "$tap_output"
  fi
}

# skip NAME REASON: a check that cannot be made here
skip ()
{
  tap_points=$((tap_points + 1))
  echo "ok $tap_points $1 # SKIP $2"
}

# nothing COMMAND [ARGUMENT...]: succeeds if the command prints nothing.
nothing ()
{
  tap_found=$("$@")
  [ -z "$tap_found" ] && return 0
  echo "$tap_found"
  return 1
}

# done_testing: prints the plan and ends the test.
done_testing ()
{
  echo "1..$tap_points"
  [ "$tap_failures" -eq 0 ] && [ "$tap_points" -gt 0 ]
  exit
}
