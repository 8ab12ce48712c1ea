import assert from 'node:assert/strict';
import { test } from 'node:test';
import { home } from './load.mjs';
import { solea, E, F, NO_HAND } from './books.mjs';

const events = home.score.layOut(solea(), 'core').events;
const of = (kind) => events.find((event) => event.kind === kind);
const rounded = (list) => list.map((one) => [one.string, Number(one.after.toFixed(4))]);

test('a strum down starts on its count with the lowest string, up with the highest', () => {
  const down = home.touch.touches(of('down'), 1, 'both');
  assert.deepEqual(rounded(down), [[6, 0], [5, 0.005], [4, 0.01], [3, 0.015], [2, 0.02], [1, 0.025]]);
  const up = home.touch.touches(of('up'), 1, 'both');
  assert.deepEqual(rounded(up), [[1, 0], [2, 0.004], [3, 0.008], [4, 0.012]]);
});

test('a strum keeps within half of its time, however fast', () => {
  const quick = home.touch.touches({ ...of('down'), length: 0.1 }, 0.2, 'both');
  assert.ok(Math.abs(quick.at(-1).after - 0.01) < 1e-12);
});

test('a rasgueado is a sweep a finger, the last one the strongest', () => {
  const sweeps = home.touch.touches(of('rasgueado'), 1, 'both');
  assert.equal(sweeps.length, 24);
  assert.deepEqual(sweeps.filter((one) => one.string === 6).map((one) => one.after), [0, 0.25, 0.5, 0.75]);
  assert.ok(sweeps.at(-1).level > sweeps[0].level);
});

test('each way of touching has its own sound', () => {
  assert.equal(home.touch.touches(of('pluck'), 1, 'both')[0].touch, 'thumb');
  assert.equal(home.touch.touches(events.find((event) => event.rest_stroke), 1, 'both')[0].touch, 'rest');
  assert.equal(home.touch.touches(of('pull-off'), 1, 'both')[0].touch, 'slur');
  assert.equal(home.touch.touches(of('down'), 1, 'right')[0].touch, 'damped');
});

test('an open item makes no sound', () => {
  assert.deepEqual(home.touch.touches(events.find((event) => event.open), 1, 'both'), []);
});

test('the left hand alone: slurs, and what it puts down', () => {
  assert.deepEqual(home.touch.touches(of('down'), 1, 'left'), []);
  assert.equal(home.touch.touches(of('pull-off'), 1, 'left').length, 1);
  const landed = home.touch.landings(E, F, [64, 59, 55, 50, 45, 40]);
  assert.deepEqual(landed.map((one) => [one.string, one.pitch]), [[6, 41], [5, 48], [4, 53], [3, 57], [2, 60], [1, 65]]);
});

test('what the left hand holds stops what it no longer stops', () => {
  assert.equal(home.touch.stops(F, 1, 1), false);
  assert.equal(home.touch.stops(E, 4, 3), true, 'the fret has changed');
  assert.equal(home.touch.stops(NO_HAND, 4, 3), true, 'the finger has gone');
  assert.equal(home.touch.stops(NO_HAND, 1, 0), false, 'an open string rings on');
  assert.equal(home.touch.stops(F, 1, 0), true, 'an open string that is now fretted');
});
