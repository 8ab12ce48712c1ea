"""When is it heard? The player's offline recordings, measured by librosa's onset detector.

    python onsets.py FOLDER VOICE...

Reads FOLDER/VOICE.f32 and VOICE.json from tests/browser/heard.mjs; of the voice `strum` six of them, each string by
itself, and says how far the strings are spread and which of them stands on the count. Every written moment must have its onset within 1 ms, there must be
no onset that is not written, and the error at the end must be the error at the beginning (no drift).

Outside source: librosa 0.11, `onset_strength` (spectral flux, Boeck and Widmer) and `onset_detect` (peak picking), used
twice. Frames of 23 ms say that there is an onset: a low string pushes the air every 12 ms, and shorter frames would
take each push for an onset. Frames of 1.45 ms (64 samples, a step of 8) say when: the first rise near by that is at least
a third as steep as the steepest.
A frame sees a sound as soon as the sound enters its end, so the moment of a frame is its last sample.
"""

import json
import sys
from pathlib import Path

import librosa
import numpy as np

RATE = 44100
ALLOWED = 0.001
PIECE = 20.0
MARGIN = 0.1
# Frame, step, floor of loudness, and height of a peak against the highest.
WHETHER = (1024, 128, 1e-1, 0.22)
WHEN = (64, 8, 3e-3, 0.03)
# The strings of a strum in the order in which the hand meets them, and the gap between two of them, stroke by stroke in
# turn: a downstroke, an upstroke (tests/player/books.mjs; the gaps are GAP in templates/assets/player-touch.js).
STROKES = [("down", [6, 5, 4, 3, 2, 1], 0.005), ("up", [1, 2, 3, 4, 5, 6], 0.004)]
STRINGS = [f"strum-{string}" for string in range(1, 7)]
# The long frame's peak stands up to this many seconds after the onset, and never before it by more than the second figure.
AFTER, BEFORE = 0.010, 0.001


def flux(samples, frame, step, floor):
    spectrum = np.abs(librosa.stft(samples, n_fft=frame, hop_length=step, center=False))
    loud = librosa.amplitude_to_db(spectrum, ref=1.0, amin=floor, top_db=None)
    return librosa.onset.onset_strength(S=loud, sr=RATE, hop_length=step, center=False)


def peaks(envelope, frame, step, height, apart):
    frames = librosa.onset.onset_detect(
        onset_envelope=envelope, sr=RATE, hop_length=step, units="frames", delta=height, wait=int(apart * RATE / step)
    )
    return frames, (frames * step + frame - step / 2) / RATE


def onsets(samples):
    """Seconds of all onsets; worked on in pieces, since 200 compases are long."""
    found = []
    start = 0.0
    while start < len(samples) / RATE:
        first = max(0, int((start - MARGIN) * RATE))
        piece = samples[first : int((start + PIECE + MARGIN) * RATE)]
        frame, step, floor, height = WHETHER
        _, whether = peaks(flux(piece, frame, step, floor), frame, step, height, 0.06)
        frame, step, floor, height = WHEN
        envelope = flux(piece, frame, step, floor)
        frames, when = peaks(envelope, frame, step, height, 0.0005)
        for moment in whether:
            near = (when > moment - AFTER) & (when < moment + BEFORE)
            rises = envelope[frames[near]]
            seconds = when[near][rises >= 0.3 * rises.max()][0] if near.any() else moment
            if start <= seconds + first / RATE < start + PIECE:
                found.append(seconds + first / RATE)
        start += PIECE
    return np.array(found)


def measured(folder, voice):
    """What is told of a voice and the onset next to each written moment; says whether all is fine."""
    told = json.loads(Path(folder, voice + ".json").read_text())
    samples = np.fromfile(Path(folder, voice + ".f32"), dtype="<f4")
    written = np.array(told["written"])
    heard = onsets(samples)
    nearest = np.array([heard[np.argmin(np.abs(heard - moment))] for moment in written])
    error = (nearest - written) * 1000
    extra = len(heard) - len(np.unique(nearest))
    missed = int(np.sum(np.abs(error) > 30))
    per = max(1, len(error) // 20)
    drift = np.median(error[-per:]) - np.median(error[:per])
    fine = missed == 0 and extra == 0 and np.max(np.abs(error)) <= ALLOWED * 1000 and abs(drift) < 0.2
    print(
        f"{'ok ' if fine else 'BAD'} {voice:7} written {len(written)}, heard {len(heard)}, missed {missed}, extra {extra}, "
        f"error {error.min():+.2f} to {error.max():+.2f} ms (median {np.median(error):+.2f}), drift {drift:+.3f} ms"
    )
    return fine, nearest


def spread(heard, counts):
    """How the strings of a strum follow one another, by what was heard: `heard[string - 1]`, a moment for each stroke."""
    fine = True
    for turn, (name, order, gap) in enumerate(STROKES):
        moments = np.array([heard[string - 1][turn::2] for string in order])
        steps = np.diff(moments, axis=0) * 1000
        first = (moments[0] - counts[turn::2]) * 1000
        whole = (moments[-1] - moments[0]) * 1000
        right = np.max(np.abs(steps - gap * 1000)) <= ALLOWED * 1000 and np.max(np.abs(first)) <= ALLOWED * 1000
        fine = fine and bool(right)
        print(
            f"{'ok ' if right else 'BAD'} strum {name:4} {moments.shape[1]} strokes: string {order[0]} on the count "
            f"({first.min():+.2f} to {first.max():+.2f} ms), each next string {steps.min():.2f} to {steps.max():.2f} ms "
            f"later (written {gap * 1000:.0f}), string {order[-1]} last, {whole.min():.2f} to {whole.max():.2f} ms "
            f"after the first"
        )
    return fine


def main(folder, voices):
    bad = 0
    for voice in voices:
        if voice != "strum":
            bad += 0 if measured(folder, voice)[0] else 1
            continue
        found = [measured(folder, string) for string in STRINGS]
        bad += sum(0 if fine else 1 for fine, _ in found)
        counts = np.array(json.loads(Path(folder, STRINGS[0] + ".json").read_text())["counts"])
        bad += 0 if spread([nearest for _, nearest in found], counts) else 1
    return 1 if bad else 0


if __name__ == "__main__":
    sys.exit(main(sys.argv[1], sys.argv[2:]))
