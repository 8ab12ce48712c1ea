/* The clock of the music: pulses to seconds and back, through any number of tempo changes.
 *
 * In: pulses, seconds of the audio clock, pulses a minute. Out: numbers. Never: a timer, a look at the time of day.
 *
 * A clock is the last change of tempo: "at this second we were at this pulse, and from there it goes this fast".
 * Every moment is computed from that one pair, never by adding up steps, so nothing drifts.
 */
(function (home) {
  'use strict';

  /** A clock that stands at `pulse` when the audio clock shows `second`. `perMinute` is pulses a minute. */
  function start(second, pulse, perMinute) {
    return { second, pulse, perMinute };
  }

  function secondsPerPulse(clock) {
    return 60 / clock.perMinute;
  }

  /** The second at which a pulse falls. */
  function secondOf(clock, pulse) {
    return clock.second + ((pulse - clock.pulse) * 60) / clock.perMinute;
  }

  /** The pulse that is reached at a second. */
  function pulseAt(clock, second) {
    return clock.pulse + ((second - clock.second) * clock.perMinute) / 60;
  }

  /** The same music going on at another tempo from `second`. */
  function change(clock, second, perMinute) {
    return start(second, pulseAt(clock, second), perMinute);
  }

  /** A moment moved to a whole sample, so that every engine begins the sound at the same sample. */
  function onSample(second, sampleRate) {
    return Math.round(second * sampleRate) / sampleRate;
  }

  home.clock = { start, secondsPerPulse, secondOf, pulseAt, change, onSample };
})((globalThis.Compasario = globalThis.Compasario || {}));
