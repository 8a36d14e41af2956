#!/bin/sh
# Puts a real scanned body where the samples and tests look for it: sample_data.sh FOLDER writes FOLDER/bunny00.off, a closed
# mesh from the data archive of Debian's package libcgal-demo. Does nothing when it is there. Exit status: 0 it is there, 1 it cannot
# be had.
set -eu

stop() {
    echo "evenspit: $*" >&2
    exit 1
}

[ $# -eq 1 ] || stop "usage: sample_data.sh FOLDER"
folder=$1
file=bunny00.off
inside=data/meshes/$file
[ ! -s "$folder/$file" ] || exit 0

mkdir -p "$folder"
work=$(mktemp -d "$folder/.sample.XXXXXX")
trap 'rm -rf "$work"' EXIT
trap 'exit 1' HUP INT TERM

archive=/usr/share/doc/libcgal-dev/data.tar.gz
if [ ! -r "$archive" ]; then
    # Small systems leave out what packages put under /usr/share/doc: take it from the package itself.
    (cd "$work" && apt-get download -qq libcgal-demo >/dev/null 2>&1 &&
        dpkg-deb --fsys-tarfile libcgal-demo_*.deb | tar -xf - ".$archive") ||
        stop "no $archive, and the package libcgal-demo cannot be downloaded"
    archive=$work$archive
fi
tar -xzOf "$archive" "$inside" >"$work/$file" || stop "no $inside in $archive"
mv "$work/$file" "$folder/$file"
