"""How much is read into text that is no lesson: licences, manuals and notes that ship with packages.

    cargo build --release
    python3 tests/outside/plain_text.py [FOLDER ...] [--list] [--within] -- target/release/compasario read --format json

Without folders: the licences and documents that a Debian or Ubuntu machine carries, and the packages that cargo has
fetched. Each file is read twice, as a typed note and as a transcript. Counted are the things understood (`readings`,
chords, patterns, cautions, and what is said of the whole lesson) for each thousand sentences; the bound is one.
With `--within` each file stands behind a short lesson in the same note, so that the reader expects music: no bound.
A file in which the trade's own words stand (palos, guitar) is left out: it may be about the very thing.
"""

import json
import pathlib
import re
import subprocess
import sys
import tempfile
from concurrent.futures import ThreadPoolExecutor

BOUND = 1.0
PLACES = [
    "/usr/share/common-licenses",
    "/usr/share/doc",
    "~/.cargo/registry/src",
]
ENDINGS = {".md", ".txt", ".rst", ""}
NAMES = re.compile(r"readme|licen[sc]e|copying|copyright|news|changes|changelog|contributing|authors|history|faq|todo|gpl|apache|bsd|artistic|mpl|cc0|gfdl", re.I)
TRADE = re.compile(r"guitar|flamenco|fretboard|chord|metronome|golpe", re.I)
LARGEST = 400_000


def files(folders):
    for folder in folders:
        for path in sorted(pathlib.Path(folder).expanduser().rglob("*")):
            if not path.is_file() or path.is_symlink() or path.suffix.lower() not in ENDINGS:
                continue
            if path.suffix == "" and not NAMES.search(path.name):
                continue
            if 400 <= path.stat().st_size <= LARGEST:
                yield path


def prose(path):
    """The text without fenced code and tables; None when it is no text or is about music."""
    try:
        text = path.read_text(encoding="utf-8")
    except UnicodeDecodeError:
        return None
    if TRADE.search(text):
        return None
    text = re.sub(r"```.*?```", "", text, flags=re.S)
    lines = [line for line in text.splitlines() if not re.match(r"\s*(\||\$|#!|[-=*_]{3,}\s*$)", line)]
    return "\n".join(lines)


def sentences(text):
    """Stretches of at least three words that end with a stop or a blank line."""
    parts = re.split(r"(?<=[.!?:;])\s+|\n\s*\n", text)
    return sum(1 for part in parts if len(re.findall(r"[^\W\d_]{2,}", part)) >= 3)


def understood(facts):
    """Everything read, in words."""
    said = [f"{r['line']}: {r['what']}" for r in facts.get("readings", [])]
    lesson = {name: value for name, value in facts["lesson"].items() if name != "title"}
    said += [f"lesson: {name} {value}" for name, value in lesson.items()]
    said += [f"chord {chord['name']}" for chord in facts["chords"]]
    said += [f"{c['line']}: caution {c['about'][:70]}" for c in facts["cautions"]]
    return said


LESSON = """Tangos, the compás has four counts. Capo on 2. Key A phrygian, por medio. Golpe always with a.
1 p dn (A), and i up. 2 p dn with golpe, and i up. 3 p dn (Bb), and i up. 4 golpe, and i up.
Variation 1, replaces 3-4. On 3 the thumb plays the fifth string, first fret. On 4 the index goes down.

"""


def read(program, text, ending, within):
    skip = LESSON.count("\n") if within else 0
    text = (LESSON if within else "") + text
    with tempfile.TemporaryDirectory() as folder:
        note = pathlib.Path(folder) / f"plain.{ending}.txt"
        note.write_text(text, encoding="utf-8")
        run = subprocess.run([*program, str(note)], capture_output=True, text=True)
    if run.returncode == 2:
        return None
    facts = json.loads(run.stdout)
    if not within:
        return understood(facts)
    said = [f"{r['line'] - skip}: {r['what']}" for r in facts.get("readings", []) if r["line"] > skip]
    return said + [f"{c['line'] - skip}: caution" for c in facts["cautions"] if c["line"] > skip]


def main():
    arguments = sys.argv[1:]
    cut = arguments.index("--")
    own, program = arguments[:cut], arguments[cut + 1 :]
    show = "--list" in own
    within = "--within" in own
    folders = [a for a in own if not a.startswith("--")] or PLACES
    texts, seen = [], set()
    for path in files(folders):
        text = prose(path)
        if text and text.strip() and text not in seen:
            seen.add(text)
            texts.append((path, text))
    total = sum(sentences(text) for _, text in texts)
    print(f"{len(texts)} different files, {total} sentences")
    failed = False
    for ending, name in [("notes", "typed"), ("spoken", "spoken")]:
        with ThreadPoolExecutor(2) as pool:
            answers = list(pool.map(lambda pair: read(program, pair[1], ending, within), texts))
        unread = sum(answer is None for answer in answers)
        count = sum(len(answer or []) for answer in answers)
        rate = 1000 * count / max(total, 1)
        failed |= rate > BOUND and not within
        print(f"{name:>6}: {count} readings, {rate:.2f} a thousand sentences; {unread} files not taken as notes")
        if show:
            for (path, _), answer in zip(texts, answers):
                for said in answer or []:
                    print(f"  {path}:{said}")
    sys.exit(failed)


main()
