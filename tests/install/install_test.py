# SPDX-License-Identifier: MIT
"""Installs a build and tries what came out: the program, the library from an outside project, Debian packages.

install_test.py BUILD SOURCES prefix|package
"""
import configparser
import json
import os
import pathlib
import subprocess
import sys
import tempfile
import xml.etree.ElementTree

BUILD, SOURCES = pathlib.Path(sys.argv[1]), pathlib.Path(sys.argv[2])
LOAD = SOURCES / "samples" / "roll-test" / "turkey.toml"  # without a cook, which the library does not add by itself
SVG = "{http://www.w3.org/2000/svg}svg"
os.environ["EVENSPIT_CACHE"] = "none"  # for the programs that are started here
failures = []


def expect(true, what):
    if not true:
        failures.append(what)


def run(*words, may_end_with=(0,), **more):
    """What a command prints; the test ends where it fails."""
    done = subprocess.run([str(word) for word in words], capture_output=True, text=True, **more)
    if done.returncode not in may_end_with:
        sys.exit(f"{' '.join(map(str, words))} ended with {done.returncode}:\n{done.stdout}{done.stderr}")
    return done.stdout


def desktop_files(prefix):
    share = prefix / "share"
    entry = configparser.ConfigParser(interpolation=None)
    entry.optionxform = str
    entry.read(share / "applications" / "evenspit.desktop")
    desktop = entry["Desktop Entry"]
    expect((prefix / "bin" / desktop["Exec"].split()[0]).is_file(), "the desktop entry starts no program")
    icon = share / "icons" / "hicolor" / "scalable" / "apps" / f"{desktop['Icon']}.svg"
    expect(xml.etree.ElementTree.parse(icon).getroot().tag == SVG, "the icon is no SVG")
    mime = xml.etree.ElementTree.parse(share / "mime" / "packages" / "evenspit.xml").getroot()
    kinds = [kind.attrib["type"] for kind in mime]
    expect(all(kind + ";" in desktop["MimeType"] for kind in kinds), f"the desktop entry opens none of {kinds}")
    marks = [mark.attrib["value"] for mark in mime.findall(".//{*}match")]
    for sample in (SOURCES / "samples").rglob("*.toml"):
        text = sample.read_text()
        expect(any(mark in text for mark in marks), f"{sample.name} is not known for a load file")


def program_works(prefix):
    """What an installed program, which finds its models from its own place, says of the load."""
    printed = run(prefix / "bin" / "evenspit", "check", LOAD, "--mountings", "0", "--json", may_end_with=(0, 1),
                  env={"PATH": "/usr/bin:/bin"})
    return json.loads(printed)


def try_prefix(folder):
    prefix = folder / "usr"
    run("cmake", "--install", BUILD, "--prefix", prefix)
    said = program_works(prefix)
    desktop_files(prefix)
    expect("evenspit" in (prefix / "share/doc/evenspit/copyright").read_text().lower(), "no copyright file")
    outside = folder / "outside"
    run("cmake", "-S", SOURCES / "tests" / "install" / "outside", "-B", outside, f"-DCMAKE_PREFIX_PATH={prefix}",
        "-DCMAKE_BUILD_TYPE=Debug")
    run("cmake", "--build", outside)
    verdict, torque = run(outside / "outside", LOAD).split()
    expect(verdict.lower() == said["verdict"], f"the outside program says {verdict}, ours {said['verdict']}")
    ours = said["balance"]["motor_torque_peak_n_m"]
    expect(abs(float(torque) - ours) < 1e-9 * ours, f"the outside program finds {torque} N m, ours {ours}")


def try_package(folder):
    run("cpack", "--config", BUILD / "CPackConfig.cmake", "-B", folder, cwd=folder)
    made = sorted(path.name for path in folder.glob("*.deb"))
    expect([name.split("_")[0] for name in made] == ["evenspit-dev", "evenspit"], f"packages are {made}")
    if failures:
        return
    dev, main = (folder / name for name in made)
    needs = run("dpkg-deb", "--field", main, "Depends")
    for library in ("libc6", "libcairo2", "libopen3d", "libglfw3", "libtbb12", "fonts-dejavu-core"):
        expect(library in needs, f"the package does not depend on {library}: {needs}")
    expect("libeigen3-dev" in run("dpkg-deb", "--field", dev, "Depends"), "evenspit-dev does not depend on Eigen")
    run("dpkg-deb", "--extract", main, folder / "root")
    prefix = folder / "root" / "usr"
    program_works(prefix)
    desktop_files(prefix)
    expect(not list(prefix.rglob("*.a")), "libraries to link with are in the program's package")
    files = run("dpkg-deb", "--contents", dev)
    for name in ("EvenspitConfig.cmake", "include/evenspit/load/load_file.h", "libevenspit_analysis.a"):
        expect(name in files, f"evenspit-dev lacks {name}")


with tempfile.TemporaryDirectory() as name:
    {"prefix": try_prefix, "package": try_package}[sys.argv[3]](pathlib.Path(name))
print("\n".join(failures))
sys.exit(bool(failures))
