"""Exports every note in every format and checks the files with programs that are no part of ours.

    python tests/outside/exports_check.py PROGRAM NOTE...      (pip install -r tests/outside/requirements.txt; xmllint)

.mid       mido: pairs of note on and off, tempo, metre; pretty_midi: seconds, instruments, no string twice at once
.musicxml  xmllint with the W3C's schema of MusicXML 4.0; music21: bars filled, metre, tablature; its pitches and
           moments are those of the MIDI file, string and fret give the pitch
.vtt       webvtt-py: cues in order                 .ics  icalendar and vobject: parse, errors, required properties
Prints one line a file; exits 1 when something is wrong.
"""

import os
import pathlib
import subprocess
import sys
import tempfile
from xml.etree import ElementTree

import icalendar
import mido
import music21
import pretty_midi
import vobject
import webvtt

STANDARD = pathlib.Path(__file__).parent / "standards" / "musicxml-4.0"
TICKS = 960
FORMATS = {"midi": "mid", "musicxml": "musicxml", "chapters": "chapters.vtt", "captions": "captions.vtt", "ics": "ics"}
# A strum is spread over its strings, a rasgueado over its fingers: seconds after the moment that is written.
SPREAD = 0.06


def midi(path):
    song = mido.MidiFile(path, charset="utf8")
    assert song.type == 1 and song.ticks_per_beat == TICKS
    for track in song.tracks:
        sounding = set()
        for message in track:
            key = (getattr(message, "channel", None), getattr(message, "note", None))
            if message.type == "note_on" and message.velocity:
                assert key not in sounding, f"{key} begins twice"
                sounding.add(key)
            elif message.type in ("note_off", "note_on"):
                assert key in sounding, f"{key} ends and never began"
                sounding.remove(key)
        assert not sounding, "a note never ends"
        assert track[-1].type == "end_of_track"
    lengths = {sum(message.time for message in track) for track in song.tracks}
    assert len(lengths) == 1, f"tracks of different lengths: {lengths}"
    tempo = [m.tempo for m in song.tracks[0] if m.type == "set_tempo"]
    assert len(tempo) == 1
    read = pretty_midi.PrettyMIDI(str(path))
    assert abs(song.length - lengths.pop() / TICKS * tempo[0] / 1e6) < 1e-6
    assert all(24 == one.program or one.is_drum for one in read.instruments), "nylon strings and percussion"
    for one in read.instruments:
        if not one.is_drum:
            by_start = sorted(one.notes, key=lambda note: note.start)
            late = [b for a, b in zip(by_start, by_start[1:]) if a.end > b.start + 1e-4]
            assert not late, f"one string sounds twice at {late[0].start}"
    return song


def metres(song):
    return [(m.numerator, m.denominator) for m in song.tracks[0] if m.type == "time_signature"]


def guitar(song):
    """(quarter note at which it begins, string, pitch) of every note of the guitar."""
    track = next(track for track in song.tracks if track.name == "Guitar")
    at, notes = 0, []
    for message in track:
        at += message.time
        if message.type == "note_on" and message.velocity:
            notes.append((at / TICKS, message.channel + 1, message.note))
    return notes


def musicxml(path, song):
    catalog = dict(os.environ, XML_CATALOG_FILES=str(STANDARD / "catalog.xml"))
    command = ["xmllint", "--nonet", "--noout", "--schema", str(STANDARD / "musicxml.xsd"), str(path)]
    valid = subprocess.run(command, env=catalog, capture_output=True, text=True)
    assert valid.returncode == 0, valid.stderr
    score = music21.converter.parse(path)
    staff, tab = score.parts
    assert isinstance(tab.recurse().getElementsByClass("Clef")[0], music21.clef.TabClef)
    for bar in staff.getElementsByClass("Measure"):
        filled = max(element.offset + element.quarterLength for element in bar.flatten().notesAndRests)
        assert abs(filled - bar.barDuration.quarterLength) < 1e-6 or not metres(song), f"bar {bar.number}: {filled}"
    read = [(t.numerator, t.denominator) for t in staff.recurse().getElementsByClass("TimeSignature")]
    assert not metres(song) or read == metres(song), f"metre {read}, in the MIDI file {metres(song)}"
    return len(list(staff.getElementsByClass("Measure"))), compare(staff, song)


def compare(staff, song):
    """The staff of notes against the MIDI file: the same pitches at the same moments."""
    quarter = next(m.tempo for m in song.tracks[0] if m.type == "set_tempo") / 1e6
    spread = SPREAD / quarter
    played = guitar(song)
    sounding = staff.toSoundingPitch()
    written = [
        (note.getOffsetInHierarchy(sounding), pitch.midi, note.quarterLength)
        for note in sounding.stripTies().flatten().notes
        for pitch in getattr(note, "pitches", ())
        if not isinstance(note, music21.harmony.ChordSymbol)
    ]
    for at, pitch, _ in written:
        here = [one for one in played if one[2] == pitch and at - 1e-3 <= one[0] <= at + spread]
        assert here, f"pitch {pitch} is written at {float(at):.3f} and not played"
    for at, string, pitch in played:
        here = [one for one in written if one[1] == pitch and one[0] - 1e-3 <= at < one[0] + one[2]]
        assert here, f"pitch {pitch} is played on string {string} at {at:.3f} and not written"
    return f"{len(written)} notes as in the MIDI file"


def tablature(path):
    """String and fret give the pitch, and both staves have the same pitches in the same order."""
    root = ElementTree.parse(path).getroot()
    lines = {int(one.get("line")): one for one in root.iter("staff-tuning")}
    opened = {7 - line: midi_of(one, "tuning-step", "tuning-alter", "tuning-octave") for line, one in lines.items()}
    pitches = {"1": [], "2": []}
    for note in root.iter("note"):
        pitch = note.find("pitch")
        if pitch is None:
            continue
        heard = midi_of(pitch, "step", "alter", "octave")
        pitches[note.findtext("staff")].append(heard)
        string, fret = note.find(".//technical/string"), note.find(".//technical/fret")
        tied_over = any(tie.get("type") == "stop" for tie in note.findall("tie"))
        if note.findtext("staff") == "2" and not tied_over:
            assert opened[int(string.text)] + int(fret.text) == heard, f"string {string.text}, fret {fret.text}: {heard}"
    assert pitches["1"] == pitches["2"]
    beats = sorted({one.text for one in root.iter("beats")})
    signs = {name: len(root.findall(f".//technical/{name}")) for name in ("pluck", "golpe", "arrow", "fingering")}
    return f"strings and frets right, beats {' '.join(beats) or 'none'}, capo {root.findtext('.//capo') or 0}, {signs}"


def midi_of(element, step, alter, octave):
    natural = {"C": 0, "D": 2, "E": 4, "F": 5, "G": 7, "A": 9, "B": 11}[element.findtext(step)]
    return 12 * (int(element.findtext(octave)) + 1) + natural + int(element.findtext(alter) or 0)


def calendar(path):
    data = path.read_bytes()
    read = icalendar.Calendar.from_ical(data)
    events = [part for part in read.walk() if part.name == "VEVENT"]
    assert not read.errors and not any(event.errors for event in events)
    vobject.readOne(data.decode()).validate(raiseException=True)
    assert len({event["UID"] for event in events}) == len(events)
    starts = [event["DTSTART"].dt for event in events]
    assert starts == sorted(starts) and all(start.tzinfo is None for start in starts)
    assert all(event["DURATION"].dt.total_seconds() > 0 for event in events)
    assert all(len(line) <= 75 for line in data.split(b"\r\n")) and b"\n" not in data.replace(b"\r\n", b"")
    return f"{len(events)} events, {starts[0]} to {starts[-1]}, {events[0]['SUMMARY']}"


def cues(path):
    read = list(webvtt.read(path))
    assert all(before.end <= after.start for before, after in zip(read, read[1:]))
    assert all(cue.start < cue.end and cue.text.strip() for cue in read)
    return f"{len(read)} cues, {read[0].start} to {read[-1].end}"


def check(program, note, folder):
    stem = pathlib.Path(note).name.split(".")[0]
    files = {}
    for name, ending in FORMATS.items():
        files[name] = folder / f"{stem}.{ending}"
        more = ["--from", "2027-01-11"] if name == "ics" else []
        subprocess.run([program, "export", note, "--to", name, "--out", str(files[name]), *more], check=True)
    song = midi(files["midi"])
    marks = sum(message.type == "marker" for message in song.tracks[0])
    yield files["midi"], f"{song.length:.3f} s, metre {metres(song) or 'none'}, {marks} versions"
    bars, compared = musicxml(files["musicxml"], song)
    yield files["musicxml"], f"valid, {bars} bars, {compared}, {tablature(files['musicxml'])}"
    yield files["chapters"], cues(files["chapters"])
    yield files["captions"], cues(files["captions"])
    yield files["ics"], calendar(files["ics"])


def main():
    program, notes = sys.argv[1], sys.argv[2:]
    wrong = 0
    with tempfile.TemporaryDirectory() as folder:
        for note in notes:
            try:
                for path, told in check(program, note, pathlib.Path(folder)):
                    print(f"{path.name}: {told}")
            except Exception as error:  # every fault of every note is to be seen in one run
                wrong += 1
                print(f"{note}: WRONG: {type(error).__name__}: {error}")
    return 1 if wrong or not notes else 0


if __name__ == "__main__":
    sys.exit(main())
