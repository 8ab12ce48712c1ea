"""How loud is it? A rendered practice track, measured by outside libraries.

    python level.py TRACK.wav...

Fails where a sample or the curve between samples (true peak, four times oversampled, ITU-R BS.1770-4 annex 2) reaches full
scale, where two samples in a row stand at the same extreme (clipping), or where the track is not between -30 and -14 LUFS.

Outside sources: soundfile (libsndfile) reads the file, pyloudnorm 0.2 measures loudness (ITU-R BS.1770-4), scipy resamples.
The bounds of loudness are ours: loud enough for a small loudspeaker, with room for the accents.
"""

import sys

import numpy as np
import pyloudnorm
import scipy.signal
import soundfile

QUIET, LOUD = -30.0, -14.0


def main(paths):
    bad = 0
    for path in paths:
        samples, rate = soundfile.read(path)
        about = soundfile.info(path)
        peak = np.max(np.abs(samples))
        true = max(np.max(np.abs(scipy.signal.resample_poly(samples[:, side], 4, 1))) for side in range(2))
        extreme = np.abs(samples) >= peak - 1e-9
        clipped = bool(np.any(extreme[1:] & extreme[:-1])) and peak > 0.99
        loudness = pyloudnorm.Meter(rate).integrated_loudness(samples)
        form = (rate, about.channels, about.subtype) == (44100, 2, "PCM_16")
        fine = form and true < 1.0 and not clipped and QUIET <= loudness <= LOUD
        bad += 0 if fine else 1
        print(
            f"{'ok ' if fine else 'BAD'} {path}: {len(samples) / rate:.1f} s, {rate} Hz, {about.channels} channels, {about.subtype}, "
            f"peak {20 * np.log10(peak):.1f} dBFS, true peak {20 * np.log10(true):.1f} dBTP, {loudness:.1f} LUFS"
        )
    return 1 if bad else 0


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))
