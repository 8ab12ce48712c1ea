/* The climb to the tempo: up only on vueltas the student calls clean, down after faults.
 *
 * In: the rungs of the ladder, what the student says of a vuelta. Out: where the student stands. Never: a timer, chance,
 * a judgement of its own: nothing is listened to, the student's word counts.
 */
(function (home) {
  'use strict';

  /** Where the page's data holds no figures. Ours. */
  const CLEAN = 3;
  const FAULTS = 2;

  /** `rungs`: `{tempo, clean, faults}` from slow to the goal: clean vueltas in a row that lead up, faults that lead down. */
  function ladder(rungs) {
    const steps = rungs.map((rung) => ({ tempo: rung.tempo, clean: rung.clean || CLEAN, faults: rung.faults || FAULTS }));
    return steps.length > 0 ? steps : [{ tempo: 60, clean: CLEAN, faults: FAULTS }];
  }

  function begin(steps) {
    return { rung: 0, clean: 0, faults: 0, done: false, best: 0, tempo: steps[0].tempo };
  }

  /** Where a student stands who stood on `tempo` before: on the highest rung that is not above it. */
  function resume(steps, tempo) {
    const place = begin(steps);
    steps.forEach((rung, index) => {
      if (rung.tempo <= tempo) {
        place.rung = index;
      }
    });
    return { ...place, tempo: steps[place.rung].tempo };
  }

  /** The student says that the vuelta was clean. */
  function clean(steps, place) {
    const rung = steps[place.rung];
    const count = Math.min(place.clean + 1, rung.clean);
    if (count < rung.clean) {
      return { ...place, clean: count };
    }
    const best = Math.max(place.best, rung.tempo);
    if (place.rung === steps.length - 1) {
      return { ...place, clean: count, faults: 0, done: true, best };
    }
    return step(steps, { ...place, best }, place.rung + 1);
  }

  /** The student says that there was a fault: the row of clean ones begins anew, and enough faults lead down. */
  function fault(steps, place) {
    const faults = place.faults + 1;
    if (faults >= steps[place.rung].faults && place.rung > 0) {
      return step(steps, place, place.rung - 1);
    }
    return { ...place, clean: 0, done: false, faults: Math.min(faults, steps[place.rung].faults) };
  }

  function step(steps, place, rung) {
    return { ...place, rung, clean: 0, faults: 0, done: false, tempo: steps[rung].tempo };
  }

  home.ladder = { ladder, begin, resume, clean, fault };
})((globalThis.Compasario = globalThis.Compasario || {}));
