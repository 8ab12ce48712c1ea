import assert from 'node:assert/strict';
import { test } from 'node:test';
import { home } from './load.mjs';

const { ladder } = home;
const steps = ladder.ladder([60, 72, 84].map((tempo) => ({ tempo, clean: 3, faults: 2 })));

/** What the student says, one letter a vuelta, and the tempo after each. */
function walk(said) {
  let place = ladder.begin(steps);
  return [...said].map((word) => {
    place = word === 'c' ? ladder.clean(steps, place) : ladder.fault(steps, place);
    return place.tempo + (place.done ? '!' : '');
  }).join(' ');
}

test('up only after three clean vueltas in a row', () => {
  assert.equal(walk('ccc'), '60 60 72');
  assert.equal(walk('ccfcc'), '60 60 60 60 60');
  assert.equal(walk('ccfccc'), '60 60 60 60 60 72');
});

test('down after two faults, never below the start', () => {
  assert.equal(walk('cccff'), '60 60 72 72 60');
  assert.equal(walk('ffff'), '60 60 60 60');
});

test('the goal is reached when its own vueltas are clean', () => {
  assert.equal(walk('ccccccccc'), '60 60 72 72 72 84 84 84 84!');
  assert.equal(walk('cccccccccc').split(' ').at(-1), '84!');
  assert.equal(walk('cccccccccf').split(' ').at(-1), '84', 'a fault on the goal opens it again');
});

test('going on where one stood', () => {
  assert.equal(ladder.resume(steps, 72).tempo, 72);
  assert.equal(ladder.resume(steps, 80).tempo, 72, 'the rungs have changed since');
  assert.equal(ladder.resume(steps, 10).tempo, 60);
});

test('a page without rungs still has one', () => {
  assert.equal(ladder.begin(ladder.ladder([])).tempo, 60);
});
