# SPDX-License-Identifier: MIT
"""Collects what the program can say: every text of src/ that has three words or more, one a line, by file.

sentences.py SOURCES            says how it differs from the list that was reviewed (tests/guards/sentences.txt)
sentences.py SOURCES --update   writes the list anew: read what changed, as a cook would, before you keep it
"""
import pathlib
import re
import sys

SOURCES = pathlib.Path(sys.argv[1])
LIST = SOURCES / "tests" / "guards" / "sentences.txt"

# Riddles and turns of phrase that no cook would use.
UNWANTED = [r"had better\b", r"\bpass(es)? [a-z ]*over\b", r"stands? against this load", r"are in order\b",
            r"\bfurther questions\b", r"see to what stands", r"\bwheresoever\b", r"\bshall\b", r"\bnought\b", r"\bwherein\b",
            r"\bthereof\b", r"\bhence\b", r"\bthus\b", r"\butili[sz]e", r"\bin order to\b", r"\bprior to\b"]

TOKEN = re.compile(r'''
    //[^\n]* | /\*.*?\*/                                 # comments
  | (?P<raw>R"(?P<mark>[^(\s"]{0,16})\((?P<inside>.*?)\)(?P=mark)")
  | (?P<text>"(?:\\.|[^"\\\n])*")
  | '(?:\\.|[^'\\\n])+'                                  # characters
  | ^\s*\#[^\n]*(?:\\\n[^\n]*)*                          # the preprocessor's own
''', re.VERBOSE | re.DOTALL | re.MULTILINE)
ESCAPES = {"n": "\n", "t": " ", '"': '"', "\\": "\\", "r": "", "x1b": ""}


def plain(literal):
    """What a literal says."""
    return re.sub(r"\\(x1b|.)", lambda found: ESCAPES.get(found[1], found[0]), literal)


def texts(source):
    """Texts of a source, those that stand one behind the other put together."""
    whole, end = "", None
    for token in TOKEN.finditer(source):
        if token["raw"] is None and token["text"] is None:
            if not token[0].startswith(("//", "/*")):
                yield whole
                whole, end = "", None
            continue
        said = token["inside"] if token["raw"] is not None else plain(token["text"][1:-1])
        if end is not None and source[end:token.start()].strip() == "":
            whole += said
        else:
            yield whole
            whole = said
        end = token.end()
    yield whole


def is_sentence(text):
    return len(re.findall(r"[A-Za-z]{2,}", text)) >= 3 and " " in text.strip()


def collected():
    lines = []
    for path in sorted((SOURCES / "src").rglob("*")):
        if path.suffix not in (".h", ".cpp") or path.name == "shaders.h":
            continue
        found = [" ".join(text.split()) for text in texts(path.read_text())]
        found = [text for text in found if is_sentence(text)]
        if found:
            lines += [f"== {path.relative_to(SOURCES / 'src')}", *found]
    return lines


def main():
    now = collected()
    if "--update" in sys.argv:
        LIST.write_text("\n".join(now) + "\n")
        return 0
    wrong = [f"{line!r} has a turn of phrase that is not wanted: {pattern}" for line in now for pattern in UNWANTED
             if re.search(pattern, line)]
    reviewed = LIST.read_text().splitlines()
    wrong += [f"said, but not reviewed: {line}" for line in now if line not in set(reviewed)]
    wrong += [f"reviewed, but not said any more: {line}" for line in reviewed if line not in set(now)]
    if wrong:
        print("\n".join(wrong))
        print("Read them as a cook would, then: python3 tests/guards/sentences.py . --update")
    return bool(wrong)


sys.exit(main())
