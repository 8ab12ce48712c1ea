/* The only file with an audio context: sounds made ready once, and laid on the audio clock.
 *
 * In: an audio context (or an offline one, for tests), touches and noises with their second. Out: sound, and a list of
 * what was laid where. Never: a timer, the document, a decision about what is played.
 */
(function (home) {
  'use strict';

  /** Voices, their loudness at full slider, and their place from left (-1) to right (1). Ours. */
  const VOICES = {
    guitar: { gain: 1.3, place: 0 },
    golpe: { gain: 1.1, place: 0 },
    base: { gain: 0.6, place: -0.3 },
    contra: { gain: 0.6, place: 0.3 },
    click: { gain: 0.55, place: 0 },
  };

  /** Above the knee the sum of all voices is bent softly; it never reaches the ceiling, 1 dB below full scale. */
  const KNEE = 0.7;
  const CEILING = 0.89;

  /** Seconds in which a string that is struck again, left by a finger, or damped by a hand falls silent. */
  const FALL = { again: 0.004, lifted: 0.05, damped: 0.015 };

  /** The bend: straight up to KNEE, then closer and closer to CEILING. */
  function bend(value) {
    const size = Math.abs(value);
    if (size <= KNEE) {
      return value;
    }
    const room = CEILING - KNEE;
    return Math.sign(value) * (KNEE + room * Math.tanh((size - KNEE) / room));
  }

  function bendCurve() {
    const curve = new Float32Array(8193);
    for (let n = 0; n < curve.length; n += 1) {
      curve[n] = bend((n / (curve.length - 1)) * 8 - 4);
    }
    return curve;
  }

  /** A board: the voices of one page on one audio context. `settings.a4` in Hz, `settings.capo` in frets,
   *  `settings.out` where the sound goes when not to the loudspeakers. */
  function board(context, settings) {
    const shaper = context.createWaveShaper();
    shaper.curve = bendCurve();
    shaper.connect(settings.out || context.destination);
    const shrink = context.createGain();
    shrink.gain.value = 0.25;
    shrink.connect(shaper);
    const voices = {};
    for (const name of Object.keys(VOICES)) {
      voices[name] = context.createGain();
      voices[name].gain.value = VOICES[name].gain;
      const pan = context.createStereoPanner();
      pan.pan.value = VOICES[name].place;
      voices[name].connect(pan);
      pan.connect(shrink);
    }
    return { context, voices, settings, buffers: new Map(), laid: [], ringing: new Map(), takes: {} };
  }

  /** Loudness of a voice, 0 to 1. */
  function setLoudness(board, voice, loudness, at) {
    const gain = board.voices[voice].gain;
    gain.cancelScheduledValues(at);
    gain.setTargetAtTime(VOICES[voice].gain * loudness, at, 0.01);
  }

  function keep(board, key, make) {
    let buffer = board.buffers.get(key);
    if (!buffer) {
      const samples = make();
      buffer = board.context.createBuffer(1, samples.length, board.context.sampleRate);
      buffer.copyToChannel(samples, 0);
      board.buffers.set(key, buffer);
    }
    return buffer;
  }

  function tone(board, string, pitch, touch) {
    const rate = board.context.sampleRate;
    const { a4, capo } = board.settings;
    return keep(board, [string, pitch + capo, touch, a4].join(' '), () =>
      home.strings.pluck(rate, string, home.strings.hertz(pitch + capo, a4), touch),
    );
  }

  function noise(board, name, take) {
    return keep(board, name + ' ' + take, () => home.noises.noise(board.context.sampleRate, name, take));
  }

  /** Makes everything ready that a list of jobs asks for: `{string, pitch, touch}` or `{noise}`; returns the jobs that
   *  were not ready when `milliseconds` were over, so that the page can breathe in between. */
  function ready(board, jobs, milliseconds) {
    const until = performance.now() + milliseconds;
    let next = 0;
    while (next < jobs.length && performance.now() < until) {
      const job = jobs[next];
      if (job.noise) {
        for (let take = 0; take < home.noises.TAKES; take += 1) {
          noise(board, job.noise, take);
        }
      } else {
        tone(board, job.string, job.pitch, job.touch);
      }
      next += 1;
    }
    return jobs.slice(next);
  }

  function lay(board, buffer, voice, level, second, what) {
    const at = home.clock.onSample(second, board.context.sampleRate);
    const source = board.context.createBufferSource();
    const gain = board.context.createGain();
    source.buffer = buffer;
    gain.gain.value = level;
    source.connect(gain);
    gain.connect(board.voices[voice]);
    source.start(at);
    const handle = { source, gain, level, at, end: at + buffer.duration, ends: null, voice, what };
    source.onended = () => {
      gain.disconnect();
      board.laid = board.laid.filter((one) => one !== handle);
    };
    board.laid.push(handle);
    return handle;
  }

  /** A string sounds at a second; what it sounded before ends there. */
  function sound(board, touch, second) {
    endString(board, touch.string, second, FALL.again);
    const buffer = tone(board, touch.string, touch.pitch, touch.touch);
    const handle = lay(board, buffer, 'guitar', touch.level, second, touch);
    board.ringing.set(touch.string, handle);
    return handle;
  }

  /** A noise at a second: golpe, clara, sorda, click, clickStrong. */
  function knock(board, name, voice, level, second) {
    const take = board.takes[name] || 0;
    board.takes[name] = (take + 1) % home.noises.TAKES;
    return lay(board, noise(board, name, take), voice, level, second, { noise: name });
  }

  function endString(board, string, second, fall) {
    const handle = board.ringing.get(string);
    if (handle) {
      board.ringing.delete(string);
      end(handle, second, fall);
    }
  }

  function end(handle, second, fall) {
    if (second >= handle.end) {
      return;
    }
    const from = Math.max(second, handle.at);
    handle.ends = from;
    handle.gain.gain.setValueAtTime(handle.level, from);
    handle.gain.gain.linearRampToValueAtTime(0, from + fall);
    handle.source.stop(from + fall);
  }

  /** The left hand holds `hand` from a second on: strings that it leaves or takes otherwise fall silent. */
  function heldFrom(board, hand, second) {
    for (const [string, handle] of [...board.ringing]) {
      if (home.touch.stops(hand, string, handle.what.fret)) {
        endString(board, string, second, FALL.lifted);
      }
    }
  }

  /** A hand on all strings. */
  function damp(board, second) {
    for (const string of [...board.ringing.keys()]) {
      endString(board, string, second, FALL.damped);
    }
  }

  /** Takes back everything that was to begin at or after a second, and the endings that were to come after it. */
  function takeBack(board, second) {
    board.ringing.clear();
    for (const handle of board.laid.slice()) {
      if (handle.at >= second) {
        handle.source.onended = null;
        handle.source.stop();
        handle.gain.disconnect();
        board.laid = board.laid.filter((one) => one !== handle);
      } else if (handle.ends === null || handle.ends >= second) {
        if (handle.ends !== null) {
          handle.gain.gain.cancelScheduledValues(second);
          handle.gain.gain.setValueAtTime(handle.level, second);
          handle.source.stop(handle.end);
          handle.ends = null;
        }
        if (handle.what.string) {
          board.ringing.set(handle.what.string, handle);
        }
      }
    }
  }

  /** Everything falls silent at a second. */
  function silence(board, second) {
    takeBack(board, second);
    for (const handle of board.laid) {
      if (handle.ends === null) {
        end(handle, second, FALL.damped);
      }
    }
    board.ringing.clear();
  }

  home.sound = { board, setLoudness, ready, sound, knock, heldFrom, damp, takeBack, silence, bend, VOICES, KNEE, FALL };
})((globalThis.Compasario = globalThis.Compasario || {}));
