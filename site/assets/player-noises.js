/* The sounds without a pitch: the golpe, the palmas, the click.
 *
 * In: sample rate, which sound, which of its takes. Out: Float32Array. Never: an AudioContext, the document, chance.
 * The same model stands in src/sound/noises.rs. Figures are ours, chosen by ear and by the tests.
 *
 * Each is a short burst of rustle that makes a few quickly dying resonances speak. Every sound begins at its first
 * sample, so that what is written on a count is heard on it.
 */
(function (home) {
  'use strict';

  /** burst: seconds of rustle; dry: how much of it is heard as it is; soften: Hz above which it is dulled;
   *  modes: Hz, seconds to lose 60 dB, weight; peak: highest sample. */
  const NOISES = {
    golpe: {
      burst: 0.005,
      dry: 0.7,
      soften: 1500,
      modes: [[151, 0.05, 5], [263, 0.045, 4], [437, 0.04, 3], [731, 0.03, 2], [1190, 0.02, 1.2]],
      peak: 0.5,
      seconds: 0.12,
    },
    clara: {
      burst: 0.012,
      dry: 0.9,
      soften: 6500,
      modes: [[1240, 0.035, 2.2], [2130, 0.03, 2.2], [3350, 0.02, 1.4]],
      peak: 0.5,
      seconds: 0.12,
    },
    sorda: {
      burst: 0.014,
      dry: 0.6,
      soften: 900,
      modes: [[330, 0.045, 3], [560, 0.04, 3], [890, 0.03, 1.6]],
      peak: 0.45,
      seconds: 0.12,
    },
    click: {
      burst: 0.002,
      dry: 0.2,
      soften: 8000,
      modes: [[1870, 0.04, 3], [2790, 0.025, 1.5]],
      peak: 0.4,
      seconds: 0.08,
    },
    clickStrong: {
      burst: 0.002,
      dry: 0.2,
      soften: 8000,
      modes: [[2510, 0.045, 3], [3760, 0.025, 1.5]],
      peak: 0.55,
      seconds: 0.08,
    },
  };

  /** Hands and knuckles never fall twice alike: each of these sounds has this many takes. */
  const TAKES = 3;

  /** One sound; `take` counts from 0. The click has one take only, whatever is asked for. */
  function noise(sampleRate, name, take) {
    const sound = NOISES[name];
    const steady = name === 'click' || name === 'clickStrong';
    const shift = steady ? 1 : 1 + 0.03 * ((take % TAKES) - 1);
    const next = home.strings.rustle(steady ? 97 : 1009 * ((take % TAKES) + 1) + name.length);
    const burst = Math.max(8, Math.round(sound.burst * sampleRate));
    const dry = new Float64Array(Math.round(sound.seconds * sampleRate));
    const keep = Math.exp((-2 * Math.PI * sound.soften) / sampleRate);
    let soft = 0;
    for (let n = 0; n < dry.length; n += 1) {
      const fall = n < burst ? Math.pow(1 - n / burst, 2) : 0;
      const strike = n === 0 ? 1 : 0.8 * next();
      soft = (1 - keep) * strike * fall + keep * soft;
      dry[n] = soft;
    }
    const out = new Float64Array(dry.length);
    for (let n = 0; n < dry.length; n += 1) {
      out[n] = sound.dry * dry[n];
    }
    for (const [hz, ring, weight] of sound.modes) {
      home.strings.addResonance(out, dry, sampleRate, hz * shift, ring, weight);
    }
    return toPeak(out, sampleRate, sound.peak);
  }

  function toPeak(samples, sampleRate, peak) {
    let highest = 1e-9;
    for (const sample of samples) {
      highest = Math.max(highest, Math.abs(sample));
    }
    const fade = Math.round(sampleRate * 0.005);
    const out = new Float32Array(samples.length);
    for (let n = 0; n < samples.length; n += 1) {
      const left = samples.length - n;
      out[n] = ((samples[n] * peak) / highest) * (left < fade ? left / fade : 1);
    }
    return out;
  }

  home.noises = { noise, NOISES, TAKES };
})((globalThis.Compasario = globalThis.Compasario || {}));
