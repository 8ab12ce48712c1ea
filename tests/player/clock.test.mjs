import assert from 'node:assert/strict';
import { test } from 'node:test';
import { home } from './load.mjs';

const { clock } = home;

test('a pulse falls where the tempo puts it', () => {
  const at90 = clock.start(10, 0, 90);
  assert.equal(clock.secondOf(at90, 3), 12);
  assert.equal(clock.pulseAt(at90, 12), 3);
  // Seconds of a compás of twelve are 720 over the tempo: shared trade facts, section 2.
  for (const [tempo, seconds] of [[60, 12], [90, 8], [120, 6], [240, 3]]) {
    assert.equal(clock.secondOf(clock.start(0, 0, tempo), 12), seconds);
  }
});

test('the music goes on where it was when the tempo changes', () => {
  let now = clock.start(0, 0, 60);
  now = clock.change(now, 4, 120);
  assert.equal(clock.secondOf(now, 4), 4);
  assert.equal(clock.secondOf(now, 6), 5);
  now = clock.change(now, 5, 30);
  assert.equal(clock.secondOf(now, 7), 7);
});

test('a hundred thousand compases on, it has not drifted', () => {
  const now = clock.start(0.1, 0, 97);
  const pulse = 12 * 100000;
  const exact = 0.1 + (pulse * 60) / 97;
  assert.ok(Math.abs(clock.secondOf(now, pulse) - exact) < 1e-6);
});

test('a moment is moved to the nearest sample', () => {
  assert.equal(clock.onSample(0.5, 44100), 0.5);
  assert.equal(clock.onSample(1 / 3, 44100) * 44100, 14700);
  assert.ok(Math.abs(clock.onSample(0.123456, 48000) - 0.123456) <= 0.5 / 48000);
});
