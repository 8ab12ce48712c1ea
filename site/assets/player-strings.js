/* The sound of one plucked string, computed into an array of samples.
 *
 * In: sample rate, string, pitch, way of touching. Out: Float32Array. Never: an AudioContext, the document, chance.
 * The same model stands in src/sound/strings.rs; tests hold the two against each other sample by sample.
 *
 * A string is a delay loop one period long with losses (the plucked-string loop and its tuning by an allpass are
 * Jaffe and Smith, "Extensions of the Karplus-Strong Plucked-String Algorithm", Computer Music Journal 7(2), 1983).
 * It moves in two planes: towards the top, which gives its sound away fast, and along the top, which keeps it.
 * Figures without a source are ours, chosen by ear and by the tests.
 */
(function (home) {
  'use strict';

  /** Seconds until the open string has lost 60 dB, string 1 to 6: of its lowest partial, and at 3 kHz. Ours. */
  const RING = [2.1, 2.3, 2.5, 3.2, 3.5, 3.8];
  const RING_HIGH = [0.27, 0.26, 0.25, 0.31, 0.32, 0.34];
  const HIGH_HZ = 3000;

  /** Resonances of the body: Hz, seconds to lose 60 dB, weight. Ours, in the places where guitars have theirs. */
  const BODY = [
    [98, 0.22, 0.5],
    [196, 0.18, 0.7],
    [282, 0.12, 0.35],
    [415, 0.1, 0.4],
    [690, 0.07, 0.3],
    [1180, 0.05, 0.25],
  ];

  /** How a finger leaves the string. width: seconds of contact; place: part of the string's length from the bridge;
   *  top: share of the movement towards the top; ring: factor on RING; noise: share of rustle; level: loudness. */
  const TOUCHES = {
    free: { width: 0.0005, place: 0.13, top: 0.35, ring: 1, noise: 0.1, level: 1 },
    rest: { width: 0.0009, place: 0.17, top: 0.8, ring: 0.85, noise: 0.06, level: 1.35 },
    strum: { width: 0.00035, place: 0.11, top: 0.5, ring: 0.9, noise: 0.2, level: 0.8 },
    thumb: { width: 0.0013, place: 0.16, top: 0.65, ring: 0.95, noise: 0.05, level: 1.1 },
    slur: { width: 0.0016, place: 0.3, top: 0.4, ring: 0.8, noise: 0.02, level: 0.6 },
    damped: { width: 0.0006, place: 0.13, top: 0.6, ring: 0.045, noise: 0.5, level: 0.35 },
  };

  /** Root mean square of the first tenth of a second of every tone, before its touch's level. */
  const LOUDNESS = 0.1;

  /** A repeatable rustle between -1 and 1 (xorshift, 32 bits). */
  function rustle(seed) {
    let state = seed >>> 0 || 1;
    return function () {
      state ^= state << 13;
      state >>>= 0;
      state ^= state >>> 17;
      state ^= state << 5;
      state >>>= 0;
      return state / 2147483648 - 1;
    };
  }

  /** Equal temperament: Hz of a MIDI number, A4 (69) at `a4`. */
  function hertz(midi, a4) {
    return a4 * Math.pow(2, (midi - 69) / 12);
  }

  /** Losses and fine tuning of a loop that is to sound at `hz`. */
  function tuneLoop(sampleRate, hz, ring, ringHigh) {
    const low = (2 * Math.PI * hz) / sampleRate;
    const high = (2 * Math.PI * Math.max(HIGH_HZ, hz * 2)) / sampleRate;
    const kept = Math.pow(10, -3 / (hz * ring));
    const keptHigh = Math.pow(10, -3 / (hz * ringHigh));
    const ratio = Math.min((keptHigh / kept) * (keptHigh / kept), 0.9999);
    const q = (Math.cos(low) - ratio * Math.cos(high)) / (1 - ratio);
    const pole = q > 1 ? Math.min(q - Math.sqrt(q * q - 1), 0.95) : 0.95;
    const swing = Math.sqrt(1 + pole * pole - 2 * pole * Math.cos(low));
    const gain = Math.min((kept * swing) / (1 - pole), 0.99999);
    const lag = Math.atan2(pole * Math.sin(low), 1 - pole * Math.cos(low)) / low;
    const left = sampleRate / hz - lag;
    const whole = Math.max(1, Math.floor(left - 0.5));
    const part = left - whole;
    const allpass = Math.sin(((1 - part) * low) / 2) / Math.sin(((1 + part) * low) / 2);
    return { whole, allpass, pole, gain };
  }

  /** One plane of movement: the excitation goes round the loop and is added to `out`. */
  function addLoop(out, excitation, loop, weight) {
    const line = new Float64Array(loop.whole);
    let at = 0;
    let lost = 0;
    let passedIn = 0;
    let passedOut = 0;
    for (let n = 0; n < out.length; n += 1) {
      const back = line[at];
      lost = loop.gain * (1 - loop.pole) * back + loop.pole * lost;
      const tuned = loop.allpass * (lost - passedOut) + passedIn;
      passedIn = lost;
      passedOut = tuned;
      const now = tuned + (n < excitation.length ? excitation[n] : 0);
      line[at] = now;
      at = at + 1 === loop.whole ? 0 : at + 1;
      out[n] += weight * now;
    }
  }

  /** The push of a finger, with the notches that its place on the string leaves in the spectrum. */
  function push(sampleRate, period, touch, seed) {
    const width = Math.max(4, Math.round(touch.width * sampleRate));
    const apart = Math.max(1, Math.round(touch.place * period));
    const noise = rustle(seed);
    const out = new Float64Array(width + apart);
    for (let n = 0; n < width; n += 1) {
      const hump = 0.5 - 0.5 * Math.cos((2 * Math.PI * (n + 1)) / (width + 1));
      const value = hump * (1 + touch.noise * 3 * noise());
      out[n] += value;
      out[n + apart] -= value;
    }
    return out;
  }

  /** What the body makes of the force at the bridge. */
  function throughBody(dry, sampleRate) {
    const out = new Float64Array(dry.length);
    let soft = 0;
    const keep = Math.exp((-2 * Math.PI * 5200) / sampleRate);
    for (let n = 0; n < dry.length; n += 1) {
      soft = (1 - keep) * dry[n] + keep * soft;
      out[n] = soft;
    }
    for (const [hz, ring, weight] of BODY) {
      addResonance(out, dry, sampleRate, hz, ring, weight);
    }
    return out;
  }

  /** Adds a resonance driven by `dry`; `weight` is about its gain at its own frequency. */
  function addResonance(out, dry, sampleRate, hz, ring, weight) {
    const angle = (2 * Math.PI * hz) / sampleRate;
    const radius = Math.pow(10, -3 / (ring * sampleRate));
    const first = 2 * radius * Math.cos(angle);
    const second = radius * radius;
    const drive = (1 - radius) * 2 * Math.sin(angle) * weight;
    let before = 0;
    let earlier = 0;
    for (let n = 0; n < dry.length; n += 1) {
      const now = first * before - second * earlier + drive * dry[n];
      earlier = before;
      before = now;
      out[n] += now;
    }
  }

  /** Scales to LOUDNESS over the first tenth of a second, and closes the end without a click. */
  function finish(samples, sampleRate, level) {
    const first = Math.min(samples.length, Math.round(sampleRate * 0.1));
    let power = 0;
    for (let n = 0; n < first; n += 1) {
      power += samples[n] * samples[n];
    }
    const scale = (LOUDNESS * level) / Math.max(Math.sqrt(power / first), 1e-9);
    const fade = Math.min(samples.length, Math.round(sampleRate * 0.03));
    const out = new Float32Array(samples.length);
    for (let n = 0; n < samples.length; n += 1) {
      const left = samples.length - n;
      out[n] = samples[n] * scale * (left < fade ? left / fade : 1);
    }
    return out;
  }

  /** One tone. `string` is 1 to 6, `hz` its pitch, `touch` a name in TOUCHES. */
  function pluck(sampleRate, string, hz, touchName) {
    const touch = TOUCHES[touchName] || TOUCHES.free;
    const row = Math.min(Math.max(string, 1), 6) - 1;
    const ring = RING[row] * touch.ring;
    const ringHigh = Math.min(RING_HIGH[row] * touch.ring, ring * 0.8);
    const period = sampleRate / hz;
    const excitation = push(sampleRate, period, touch, 7919 * string + Math.round(hz * 16));
    const dry = new Float64Array(Math.round(sampleRate * Math.max(0.25, Math.min(ring, 3.2))));
    addLoop(dry, excitation, tuneLoop(sampleRate, hz, ring, ringHigh), 1 - touch.top);
    addLoop(dry, excitation, tuneLoop(sampleRate, hz, ring * 0.35, ringHigh * 0.6), touch.top);
    return finish(throughBody(dry, sampleRate), sampleRate, touch.level);
  }

  home.strings = { pluck, hertz, rustle, addResonance, TOUCHES, BODY };
})((globalThis.Compasario = globalThis.Compasario || {}));
