#!/bin/sh
# Puts real scanned bodies where the samples and tests look for them: sample_data.sh FOLDER. From the data archive of Debian's
# package libcgal-demo come closed meshes, one with holes, and clouds of points; from the npm package stl-models, if npm is there
# and can fetch it, FOLDER/stl-models with a scan as it was scanned and broken STL files. Does nothing when they are there. Exit
# status: 0 all of libcgal-demo is there (tests that need stl-models are skipped without it), 1 it cannot be had.
set -eu

stop() {
    echo "evenspit: $*" >&2
    exit 1
}

[ $# -eq 1 ] || stop "usage: sample_data.sh FOLDER"
folder=$1
files="meshes/bunny00.off meshes/elephant.off meshes/elephant-with-holes.off points_3/kitten.xyz points_3/hippo1.ply"
package=stl-models
version=0.12.0

mkdir -p "$folder"
work=$(mktemp -d "$folder/.sample.XXXXXX")
trap 'rm -rf "$work"' EXIT
trap 'exit 1' HUP INT TERM

missing=
for file in $files; do
    [ -s "$folder/$(basename "$file")" ] || missing="$missing data/$file"
done
if [ -n "$missing" ]; then
    archive=/usr/share/doc/libcgal-dev/data.tar.gz
    if [ ! -r "$archive" ]; then
        # Small systems leave out what packages put under /usr/share/doc: take it from the package itself.
        (cd "$work" && apt-get download -qq libcgal-demo >/dev/null 2>&1 &&
            dpkg-deb --fsys-tarfile libcgal-demo_*.deb | tar -xf - ".$archive") ||
            stop "no $archive, and the package libcgal-demo cannot be downloaded"
        archive=$work$archive
    fi
    # shellcheck disable=SC2086  # a list of names without spaces
    tar -xzf "$archive" -C "$work" $missing || stop "not all of$missing in $archive"
    for file in $missing; do mv "$work/$file" "$folder/"; done
fi

if [ ! -d "$folder/$package" ] && command -v npm >/dev/null 2>&1; then
    if (cd "$work" && npm pack --silent "$package@$version" >/dev/null 2>&1 && tar -xzf "$package-$version.tgz"); then
        mv "$work/package" "$folder/$package"
    else
        echo "evenspit: the npm package $package cannot be fetched; tests that need it are skipped" >&2
    fi
fi
