# SPDX-License-Identifier: GPL-3.0-or-later
#
# Read by the shell scripts of this tree: what Oleograph is built with, and how to get it on Debian.

build_packages="gcc libc6-dev pkg-config meson ninja-build gettext libgtk-4-dev libjson-glib-dev
libgsl-dev libglpk-dev libsqlite3-dev adwaita-icon-theme librsvg2-common fonts-dejavu-core"

# install_missing PACKAGE...: installs what is not there yet; the network is left alone when nothing
# is missing. Without the right to install it says what is missing and ends the script.
install_missing ()
{
  if ! command -v dpkg-query >/dev/null 2>&1; then
    echo "Not a Debian system. These must be there (Debian names): $*" >&2
    return 0
  fi

  missing=
  for package in "$@"; do
    case $(dpkg-query -W -f='${Status}' "$package" 2>/dev/null || true) in
      *"ok installed") ;;
      *) missing="$missing $package" ;;
    esac
  done
  [ -n "$missing" ] || return 0

  if [ "$(id -u)" = 0 ]; then
    as_root=
  elif command -v sudo >/dev/null 2>&1 && { sudo -n true 2>/dev/null || [ -t 0 ]; }; then
    as_root=sudo
  else
    echo "Packages are missing and there is no right to install them. As root:" >&2
    echo "  apt-get update && apt-get install --no-install-recommends$missing" >&2
    exit 1
  fi

  echo "Installing:$missing" >&2
  if ! $as_root apt-get update >&2; then
    echo "The package lists could not be refreshed; trying with the ones at hand." >&2
  fi
  $as_root env DEBIAN_FRONTEND=noninteractive \
    apt-get install -y --no-install-recommends $missing >&2
}
