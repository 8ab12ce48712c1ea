/* Clean ones wanted of a piece or a join before going on: as many as the sheet has boxes.
 *
 * In: how many are wanted, what the student says of each time. Out: where the student stands. Never: sound, elements.
 * A fault takes nothing away; two in a row ask for a slower tempo.
 */
(function (home) {
  'use strict';

  /** Faults in a row that lead to a slower tempo, and the part of the tempo that is left. Ours. */
  const FAULTS = 2;
  const SLOWER = 0.92;

  function begin(wanted) {
    return { wanted, clean: 0, faults: 0, done: false, slower: false };
  }

  function clean(tally) {
    const count = Math.min(tally.clean + 1, tally.wanted);
    return { ...tally, clean: count, faults: 0, slower: false, done: count === tally.wanted };
  }

  function fault(tally) {
    const faults = tally.faults + 1;
    const slower = faults >= FAULTS;
    return { ...tally, faults: slower ? 0 : faults, slower };
  }

  /** The tempo after two faults in a row; never under the lowest. */
  function slowed(tempo, lowest) {
    return Math.max(lowest, Math.round(tempo * SLOWER));
  }

  home.tally = { begin, clean, fault, slowed };
})((globalThis.Compasario = globalThis.Compasario || {}));
