#!/usr/bin/env python3
"""Writes what a general-purpose music library says about chords and the neck, for the tests beside it to read.

    pip install music21==10.5.1
    python3 tests/outside/chords.py

Nothing of Compasario is used here: names, notes and pitches come from music21; only the letters that we write a
quality with are ours. Running it again writes the same files.
"""

import itertools
from pathlib import Path

from music21 import chord, harmony, interval, pitch

HERE = Path(__file__).parent / "data"

# How we write a quality: music21's kind, and what is added to it.
QUALITIES = {
    "": ("major", []),
    "m": ("minor", []),
    "7": ("dominant-seventh", []),
    "m7": ("minor-seventh", []),
    "maj7": ("major-seventh", []),
    "6": ("major-sixth", []),
    "m6": ("minor-sixth", []),
    "sus4": ("suspended-fourth", []),
    "sus2": ("suspended-second", []),
    "7sus4": ("suspended-fourth-seventh", []),
    "dim": ("diminished", []),
    "dim7": ("diminished-seventh", []),
    "m7b5": ("half-diminished-seventh", []),
    "aug": ("augmented", []),
    "9": ("dominant-ninth", []),
    "m9": ("minor-ninth", []),
    "maj9": ("major-ninth", []),
    "7b5": ("seventh-flat-five", []),
    "7#5": ("augmented-seventh", []),
    "mmaj7": ("minor-major-seventh", []),
    "7b9": ("dominant-seventh", ["m2"]),
    "7#9": ("dominant-seventh", ["A2"]),
    "add9": ("major", ["M2"]),
    "madd9": ("minor", ["M2"]),
}

ROOTS = [letter + mark for letter in "CDEFGAB" for mark in ("", "#", "-")]

# E2 A2 D3 G3 B3 E4, string 6 to string 1.
OPEN = [pitch.Pitch(name) for name in ("E2", "A2", "D3", "G3", "B3", "E4")]


def ours(name):
    """music21 writes a flat as a minus."""
    return name.replace("-", "b")


def chord_notes(root, kind, added):
    symbol = harmony.ChordSymbol(root=root, kind=kind)
    names = [one.name for one in symbol.pitches]
    base = pitch.Pitch(root)
    for step in added:
        names.append(interval.Interval(step).transposePitch(base).name)
    # Root first, then the rest by name: the order of inversion is of no account here.
    rest = sorted(set(names) - {base.name})
    return [base.name, *rest]


def write_tones():
    rows = ["# chord\tnotes, root first\t(music21, tests/outside/chords.py)"]
    for root in ROOTS:
        for quality, (kind, added) in QUALITIES.items():
            notes = chord_notes(root, kind, added)
            rows.append(f"{ours(root)}{quality}\t{' '.join(ours(note) for note in notes)}")
    (HERE / "chord_tones.tsv").write_text("\n".join(rows) + "\n")
    return len(rows) - 1


def write_neck(frets=19):
    rows = ["# string\tfret\tMIDI\tname with octave\thertz\t(music21, tests/outside/chords.py)"]
    for string, opened in zip(range(6, 0, -1), OPEN):
        for fret in range(frets + 1):
            one = opened.transpose(fret)
            rows.append(f"{string}\t{fret}\t{one.midi}\t{ours(one.nameWithOctave)}\t{one.frequency:.6f}")
    (HERE / "neck.tsv").write_text("\n".join(rows) + "\n")
    return len(rows) - 1


def sounding(frets):
    pairs = [(string, fret) for string, fret in zip(OPEN, frets) if fret is not None]
    return [string.transpose(fret) for string, fret in pairs]


def all_shapes():
    """Every shape of four to six neighbouring strings, open or within three frets of a position."""
    for position in (0, 1, 2, 3, 5, 7):
        choices = [0] + [position + step for step in range(0, 3) if position + step > 0]
        for lowest in (6, 5, 4):
            for frets in itertools.product(sorted(set(choices)), repeat=lowest):
                yield tuple([None] * (6 - lowest)) + frets


def name_of(notes):
    """Root and kind, where music21 names the notes without adding or leaving out any; None otherwise."""
    figure, kind = harmony.chordSymbolFigureFromChord(notes, includeChordType=True)
    if not kind or notes.root() is None:
        return None
    root = notes.root().name
    plain = figure.split("/")[0]
    if plain != root + harmony.getCurrentAbbreviationFor(kind):
        return None
    # The library names some chords of six notes by five of them: keep those whose name gives back every note.
    asked = {one.pitchClass for one in harmony.ChordSymbol(root=root, kind=kind).pitches}
    return (root, kind) if asked == set(notes.pitchClasses) else None


def write_names(every=3):
    kinds = {kind: quality for quality, (kind, added) in QUALITIES.items() if not added}
    rows = ["# shape, string 6 to 1\tMIDI\troot\tquality\t(music21, tests/outside/chords.py)"]
    seen = set()
    for index, frets in enumerate(all_shapes()):
        if index % every or frets in seen or max(fret or 0 for fret in frets) > 9:
            continue
        seen.add(frets)
        pitches = sounding(frets)
        named = name_of(chord.Chord(pitches))
        if named is None or named[1] not in kinds:
            continue
        root, kind = named
        shape = "".join("x" if fret is None else str(fret) for fret in frets)
        midi = " ".join(str(one.midi) for one in pitches)
        rows.append(f"{shape}\t{midi}\t{ours(root)}\t{kinds[kind]}")
    (HERE / "chord_names.tsv").write_text("\n".join(rows) + "\n")
    return len(rows) - 1


if __name__ == "__main__":
    HERE.mkdir(exist_ok=True)
    print(write_tones(), "chords")
    print(write_neck(), "places on the neck")
    print(write_names(), "shapes")
