/* The climb to the tempo: up only on vueltas the student calls clean, down after faults.
 *
 * In: the rungs of the ladder, what the student says of a vuelta. Out: where the student stands. Never: a timer, chance,
 * a judgement of its own: nothing is listened to, the student's word counts.
 */
(function (home) {
  'use strict';

  /** Clean vueltas in a row that lead up a rung, and faults on one rung that lead down. Ours. */
  const CLEAN_TO_RISE = 3;
  const FAULTS_TO_FALL = 2;

  /** `rungs`: tempos from slow to the goal; `clean`: vueltas in a row wanted on each (default 3). */
  function ladder(rungs, clean) {
    const tempos = rungs.length > 0 ? rungs : [60];
    return { tempos, wanted: clean || CLEAN_TO_RISE };
  }

  /** Evenly spaced rungs where the lesson's data holds no ladder. */
  function rungsBetween(start, goal, steps) {
    if (goal <= start || steps < 1) {
      return [goal];
    }
    const rungs = [];
    for (let step = 0; step <= steps; step += 1) {
      rungs.push(Math.round(start + ((goal - start) * step) / steps));
    }
    return rungs.filter((tempo, index) => index === 0 || tempo !== rungs[index - 1]);
  }

  function begin(ladder) {
    return { rung: 0, clean: 0, faults: 0, done: false, best: 0, tempo: ladder.tempos[0] };
  }

  /** Where a student stands who stood on `tempo` before: on the highest rung that is not above it. */
  function resume(ladder, tempo) {
    const place = begin(ladder);
    ladder.tempos.forEach((rung, index) => {
      if (rung <= tempo) {
        place.rung = index;
      }
    });
    return { ...place, tempo: ladder.tempos[place.rung] };
  }

  /** The student says that the vuelta was clean. */
  function clean(ladder, place) {
    const count = place.clean + 1;
    if (count < ladder.wanted) {
      return { ...place, clean: count };
    }
    const best = Math.max(place.best, ladder.tempos[place.rung]);
    if (place.rung === ladder.tempos.length - 1) {
      return { ...place, clean: ladder.wanted, faults: 0, done: true, best };
    }
    return step(ladder, { ...place, best }, place.rung + 1);
  }

  /** The student says that there was a fault: the row of clean ones begins anew, and the second fault leads down. */
  function fault(ladder, place) {
    const faults = place.faults + 1;
    if (faults >= FAULTS_TO_FALL && place.rung > 0) {
      return step(ladder, place, place.rung - 1);
    }
    return { ...place, clean: 0, faults: Math.min(faults, FAULTS_TO_FALL) };
  }

  function step(ladder, place, rung) {
    return { ...place, rung, clean: 0, faults: 0, tempo: ladder.tempos[rung] };
  }

  home.ladder = { ladder, rungsBetween, begin, resume, clean, fault, CLEAN_TO_RISE, FAULTS_TO_FALL };
})((globalThis.Compasario = globalThis.Compasario || {}));
