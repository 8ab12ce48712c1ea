"""How high is it? The player's strings and noises, measured by Praat.

    python pitch.py FOLDER        (written by tones.mjs)

Every string tone against equal temperament (f = A4 * 2^((midi - 69) / 12), the MIDI Tuning Standard's formula) within
2 cents, from 0.1 to 0.8 seconds of the sound. Golpe and sordas and claras and click: Praat finds no pitch in most of it, at its
own settings.

Outside source: Praat's autocorrelation method (Boersma 1993), by parselmouth 0.4.
"""

import json
import sys
from pathlib import Path

import numpy as np
import parselmouth

RATE = 44100
ALLOWED = 2.0


def cents(samples, hz):
    sound = parselmouth.Sound(samples, RATE)
    pitch = sound.to_pitch_ac(time_step=0.01, pitch_floor=hz * 0.7, pitch_ceiling=hz * 1.4, very_accurate=True)
    found = pitch.selected_array["frequency"]
    sure = found[(found > 0) & (pitch.xs() > 0.1) & (pitch.xs() < 0.8)]
    return 1200 * np.log2(np.median(sure) / hz) if len(sure) >= 10 else None


def voiced(samples):
    """Share of frames in which Praat finds a pitch, at its standard settings (75 to 600 Hz)."""
    pitch = parselmouth.Sound(samples, RATE).to_pitch_ac(time_step=0.005)
    found = pitch.selected_array["frequency"]
    return float(np.mean(found > 0)) if len(found) else 0.0


def main(folder):
    tones, unpitched, bad = {}, {}, []
    for one in json.loads(Path(folder, "list.json").read_text()):
        samples = np.fromfile(Path(folder, one["name"] + ".f32"), dtype="<f4").astype(float)
        if "noise" in one:
            share = voiced(samples)
            unpitched.setdefault(one["noise"], []).append(share)
            if one["noise"] == "golpe" and share > 0:
                bad.append(f"{one['name']}: a pitch in {share:.0%} of it")
            continue
        hz = one["a4"] * 2 ** ((one["midi"] - 69) / 12)
        off = cents(samples, hz)
        if off is None or abs(off) > ALLOWED:
            bad.append(f"{one['name']}: {off} cents")
        else:
            tones.setdefault(one["touch"], []).append(abs(off))
    for touch, found in tones.items():
        print(f"{touch:6} {len(found)} tones, at most {max(found):.2f} cents off, median {np.median(found):.2f}")
    for noise, found in unpitched.items():
        print(f"{noise:11} pitch found in {max(found):.0%} of the frames")
    for line in bad:
        print("BAD", line)
    return 1 if bad else 0


if __name__ == "__main__":
    sys.exit(main(sys.argv[1]))
