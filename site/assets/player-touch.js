/* From an event of a score to what each string does: when, which pitch, how it is touched, how loud.
 *
 * In: events, seconds a pulse, which hands play. Out: touches `{after, string, fret, pitch, touch, level}` with `after`
 * in seconds from the event's moment. Never: an AudioContext, the document. The same rules stand in
 * src/sound/touch.rs; tests hold the two against each other.
 *
 * A strum: the first string that the finger meets stands on the written moment, the others follow at GAP.
 * It never takes more than half of the time that the stroke has. A rasgueado is one such sweep a finger.
 * Strings plucked together sound together. Figures are ours.
 */
(function (home) {
  'use strict';

  /** Seconds from one string to the next. */
  const GAP = { down: 0.005, up: 0.004, thumb: 0.009, rasgueado: 0.003 };

  /** The level that sounds with the loudness written in player-strings.js. */
  const PLAIN_LEVEL = 80;

  const SWEPT = { down: true, up: true, rasgueado: true };
  const SLURRED = { 'pull-off': true, 'hammer-on': true };

  /** Does the thumb alone play it? */
  function byThumb(event) {
    return event.strikes.length > 0 && event.strikes.every((strike) => strike.finger === 'p');
  }

  function touchName(event, hands) {
    if (hands === 'right') {
      return 'damped';
    }
    if (SLURRED[event.kind]) {
      return 'slur';
    }
    if (event.rest_stroke === true) {
      return 'rest';
    }
    if (byThumb(event)) {
      return 'thumb';
    }
    return SWEPT[event.kind] ? 'strum' : 'free';
  }

  /** Seconds from string to string. */
  function gap(event, secondsPerPulse, sweeps) {
    const strings = event.sounds.length;
    const time = event.length * secondsPerPulse;
    if (strings < 2) {
      return 0;
    }
    if (event.kind === 'roll') {
      return time / strings;
    }
    if (!SWEPT[event.kind] && !(byThumb(event) && event.strikes.length === 1)) {
      return 0;
    }
    const wanted = byThumb(event) ? GAP.thumb : GAP[event.kind] || GAP.down;
    return time > 0 ? Math.min(wanted, (time * 0.5) / sweeps / (strings - 1)) : wanted;
  }

  /** The moments, in pulses, at which the hand goes over the strings; strings plucked together are one. */
  function sweepsOf(event) {
    const sweeps = [];
    for (const strike of event.strikes) {
      if (!sweeps.some((one) => one.after === strike.after)) {
        sweeps.push(strike);
      }
    }
    return sweeps.length > 0 ? sweeps : [{ after: 0, up: event.kind === 'up' }];
  }

  /** Loudness of one string among several that sound together. */
  function share(strings) {
    return Math.pow(strings, -0.35);
  }

  /** Everything that the strings do for one event. `hands` is both, right or left. */
  function touches(event, secondsPerPulse, hands) {
    if (hands === 'left') {
      return SLURRED[event.kind] ? struck(event, secondsPerPulse, hands) : [];
    }
    return struck(event, secondsPerPulse, hands);
  }

  function struck(event, secondsPerPulse, hands) {
    const touch = touchName(event, hands);
    const sweeps = sweepsOf(event);
    const step = gap(event, secondsPerPulse, sweeps.length);
    const found = [];
    sweeps.forEach((sweep, index) => {
      const turned = sweep.up !== sweeps[0].up;
      const order = turned ? event.sounds.slice().reverse() : event.sounds;
      const weight = index === sweeps.length - 1 ? 1 : 0.75;
      order.forEach((sound, place) => {
        found.push({
          after: sweep.after * secondsPerPulse + place * step,
          string: sound.string,
          fret: sound.fret,
          pitch: sound.pitch,
          touch,
          level: (event.level / PLAIN_LEVEL) * weight * share(order.length),
        });
      });
    });
    return found;
  }

  /** The left hand alone: what it puts down is heard as it lands. `before` and `hand` are string 1 to 6. */
  function landings(before, hand, tuning) {
    const found = [];
    for (let row = 5; row >= 0; row -= 1) {
      const fret = hand[row];
      if (fret !== null && fret > 0 && fret !== before[row]) {
        found.push({ after: 0, string: row + 1, fret, pitch: tuning[row] + fret, touch: 'slur', level: 0.8 });
      }
    }
    return found.map((one) => ({ ...one, level: one.level * share(found.length) }));
  }

  /** Does what the hand now holds stop a string that sounds at `fret`? An open string only where it becomes fretted. */
  function stops(hand, string, fret) {
    const held = hand[string - 1];
    return fret === 0 ? held !== null && held > 0 : held !== fret;
  }

  home.touch = { touches, landings, stops, GAP, PLAIN_LEVEL };
})((globalThis.Compasario = globalThis.Compasario || {}));
