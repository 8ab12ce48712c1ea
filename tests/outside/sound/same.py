"""Does a student hear the same from the command line as from the page? The practice track of the program and the player's
own sound in Chromium, of the same line at the same tempo and with every slider full, held against each other.

    python same.py PROGRAM NOTES SITE FOLDER

NOTES: the folder of notes that SITE was built from. FOLDER takes the sounds. For each row of CASES: as many onsets in
one as in the other; around each onset of the track the player's sound at most 1 ms away; from each onset to the next the
level at most 0.5 dB apart (what is softer than -60 dBFS left out), the whole at most 0.2 LU; and where Praat finds a pitch
in both, at most 2 cents apart. A few strings of strums stand a sample apart: 5 ms are 220.5 samples.

Outside sources: librosa's onset detector (as in onsets.py), scipy's correlation, pyloudnorm (ITU-R BS.1770-4), Praat's pitch by parselmouth.
"""

import json
import subprocess
import sys
from pathlib import Path

import numpy as np
import parselmouth
import pyloudnorm
import scipy.signal
import soundfile
from onsets import RATE, onsets

HERE = Path(__file__).resolve().parent
APART, LEVEL, LOUDNESS, CENTS = 0.001, 0.5, 0.2, 2.0
FLOOR = -60.0
# Lesson, line, tempo, palmas, click, hands: strums, single notes, a capo, uneven counts, a mix, each hand alone.
CASES = [
    ("solea-lunes-despacio", "base", 76, "base", "counts", "both"),
    ("solea-lunes-despacio", "variacion-1-falseta-de-bordones", 60, "none", "none", "both"),
    ("tientos-last-bus", "core", 58, "both", "between", "both"),
    ("tientos-last-bus", "variation-1", 50, "none", "none", "both"),
    ("siguiriya-cinco-pasos", "", 110, "base", "accents", "both"),
    ("tangos-two-stools", "mix-1", 104, "contra", "once", "both"),
    ("tangos-the-broom", "core", 90, "none", "none", "right"),
    ("tangos-the-broom", "bass", 80, "none", "none", "left"),
]


def line_of(page, wanted):
    """The line's id: as said, the first that begins so, or the page's first version."""
    data = json.loads(page.read_text().split('data-score="practice">')[1].split("</script>")[0])
    ids = [line["id"] for line in data["book"]["lines"]]
    if wanted in ids:
        return wanted
    versions = [version["id"] for version in data["versions"]]
    return next(one for one in versions if one.startswith(wanted))


def track(program, note, out, choice):
    play, tempo, palmas, click, hands = choice
    asked = ["--play", play, "--tempo", str(tempo), "--palmas", palmas, "--click", click, "--hands", hands]
    subprocess.run([program, "export", note, "--to", "wav", *asked, "--out", out], check=True, capture_output=True)
    samples, rate = soundfile.read(out)
    assert rate == RATE
    return samples


def player(page, out, choice):
    words = ["play", "tempo", "palmas", "click", "hands"]
    asked = json.dumps(dict(zip(words, choice, strict=True), times=1))
    subprocess.run(["node", HERE / "../../browser/track.mjs", page, asked, out], check=True)
    # To whole steps of 16 bits, as the track is: what lies below decides when a slur on a sounding string is found.
    return np.round(np.fromfile(out, dtype="<f4").reshape(-1, 2).astype(float) * 32767) / 32768


def lag(one, other, second):
    """Seconds by which a sound that begins at a moment of one comes later in the other: the best fit within 20 ms."""
    reach, begin = int(0.02 * RATE), int((second - 0.005) * RATE)
    begin = max(begin, reach)
    piece, around = one[begin : begin + int(0.05 * RATE)], other[begin - reach : begin + int(0.05 * RATE) + reach]
    fit = scipy.signal.correlate(around, piece, mode="valid")
    energy = np.sqrt(scipy.signal.correlate(around**2, np.ones(len(piece)), mode="valid").clip(1e-12))
    return (int(np.argmax(fit / energy)) - reach) / RATE


def decibels(samples):
    return 20 * np.log10(max(np.sqrt(np.mean(samples**2)), 1e-9))


def pitch(samples):
    """Hertz by Praat in the middle of a sound, or None where it is not one clear tone."""
    if len(samples) < RATE * 0.15:
        return None
    found = parselmouth.Sound(samples, RATE).to_pitch_ac(pitch_floor=70, pitch_ceiling=900, very_accurate=True)
    hertz = found.selected_array["frequency"]
    sure = hertz[hertz > 0]
    steady = len(sure) >= 5 and np.ptp(1200 * np.log2(sure / np.median(sure))) < 20
    return float(np.median(sure)) if steady else None


def compare(name, one, other):
    length = min(len(one), len(other))
    one, other = one[:length], other[:length]
    mono = [sound.mean(axis=1) for sound in (one, other)]
    heard = [onsets(sound) for sound in mono]
    apart = np.array([abs(lag(*mono, second)) for second in heard[0]]) * 1000
    edges = [int(second * RATE) for second in heard[0]] + [length]
    levels, cents = [], []
    for begin, end in zip(edges, edges[1:], strict=False):
        pair = [sound[begin:end] for sound in (one, other)]
        loud = [decibels(piece) for piece in pair]
        if min(loud) > FLOOR:
            levels.append(abs(loud[0] - loud[1]))
        tones = [pitch(piece.mean(axis=1)) for piece in pair]
        if all(tones):
            cents.append(abs(1200 * np.log2(tones[0] / tones[1])))
    loudness = [pyloudnorm.Meter(RATE).integrated_loudness(sound) for sound in (one, other)]
    rest = decibels(one - other) - decibels(one)
    fine = (
        len(heard[0]) == len(heard[1]) > 0
        and np.max(apart) <= APART * 1000
        and max(levels) <= LEVEL
        and abs(loudness[0] - loudness[1]) <= LOUDNESS
        and max(cents, default=0) <= CENTS
    )
    print(
        f"{'ok ' if fine else 'BAD'} {name}: onsets {len(heard[0])} and {len(heard[1])}, at most {np.max(apart):.2f} ms apart; "
        f"level at most {max(levels, default=np.inf):.2f} dB; {loudness[0]:.1f} and {loudness[1]:.1f} LUFS; "
        f"{len(cents)} tones with a pitch, at most {max(cents, default=0):.2f} cents; difference {rest:.0f} dB under the sound"
    )
    return fine


def main(program, notes, site, folder):
    Path(folder).mkdir(parents=True, exist_ok=True)
    bad = 0
    for lesson, line, *how in CASES:
        page = Path(site, "practice", lesson + ".html")
        note = sorted(Path(notes).glob(lesson + ".*"))[-1]
        choice = (line_of(page, line), *how)
        name = f"{lesson} {choice[0]}, {' '.join(str(word) for word in how)}"
        base = Path(folder, f"{lesson}-{choice[0]}")
        sounds = track(program, note, base.with_suffix(".wav"), choice), player(page, base.with_suffix(".f32"), choice)
        bad += 0 if compare(name, *sounds) else 1
    return 1 if bad else 0


if __name__ == "__main__":
    sys.exit(main(*sys.argv[1:5]))
