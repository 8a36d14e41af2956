#!/bin/sh
# Installs the packages of packages.txt that are missing. Needs Debian 12 (or a system with the same packages).
# Says what it does; does nothing when all is there. Exit status: 0 all there, 1 it cannot be done.
set -eu
here=$(cd "$(dirname "$0")" && pwd)

stop() {
    echo "evenspit: $*" >&2
    exit 1
}

packages=$(sed -e 's/#.*//' "$here/packages.txt" | tr -s ' \t\n' ' ')
if ! command -v dpkg-query >/dev/null 2>&1 || ! command -v apt-get >/dev/null 2>&1; then
    stop "this system has no apt-get, so I cannot install what the build needs.
Evenspit is built on Debian 12. On another system install the counterparts of the packages
in third_party/packages.txt by hand, then run: cmake --preset release && cmake --build --preset release"
fi

missing=
for package in $packages; do
    status=$(dpkg-query -W -f '${db:Status-Status}' "$package" 2>/dev/null || true)
    [ "$status" = installed ] || missing="$missing $package"
done
[ -n "$missing" ] || exit 0

if [ "$(id -u)" -eq 0 ]; then
    as_root=
elif command -v sudo >/dev/null 2>&1; then
    as_root=sudo
else
    stop "these packages are missing and I am neither root nor is there sudo to become it:$missing"
fi

echo "evenspit: installing the missing packages:$missing" >&2
# Lists may be stale or absent on a fresh machine.
$as_root apt-get update -qq || stop "apt-get update failed; is the network there?"
$as_root env DEBIAN_FRONTEND=noninteractive apt-get install -y -qq --no-install-recommends $missing >&2 ||
    stop "apt-get could not install them; is this Debian 12 (bookworm)?"
