import assert from 'node:assert/strict';
import { test } from 'node:test';
import { home } from './load.mjs';

function box() {
  const held = new Map();
  return { getItem: (key) => held.get(key) ?? null, setItem: (key, text) => held.set(key, text), removeItem: (key) => held.delete(key), held };
}

const entry = { tempo: 84, best: 72, day: '2026-01-02', title: 'Core' };

test('what is noted is there when the page is opened again', () => {
  const device = box();
  const kept = home.store.store(device, 'evening-class');
  home.store.note(kept, 'core', entry);
  home.store.note(kept, 'core', { ...entry, best: 60 });
  const later = home.store.store(device, 'evening-class');
  assert.deepEqual(later.entries.core, { tempo: 84, best: 72, vueltas: 2, day: '2026-01-02', title: 'Core' });
  assert.deepEqual(home.store.store(device, 'another-course').entries, {});
});

test('a file carries it to another device, and the newer word counts', () => {
  const kept = home.store.store(box(), 'c');
  home.store.note(kept, 'core', entry);
  const other = home.store.store(box(), 'c');
  home.store.note(other, 'core', { ...entry, tempo: 60, day: '2026-02-01' });
  assert.equal(home.store.take(other, home.store.text(kept)), 0);
  assert.equal(other.entries.core.tempo, 60);
  assert.equal(home.store.take(kept, home.store.text(other)), 1);
  assert.equal(kept.entries.core.tempo, 60);
});

test('a file of something else is refused, and nonsense in one is left out', () => {
  const kept = home.store.store(box(), 'c');
  assert.equal(home.store.take(kept, 'not json'), null);
  assert.equal(home.store.take(kept, '{"a":1}'), null);
  assert.equal(home.store.take(kept, 'null'), null);
  const odd = { form: 'compasario-progress', entries: { a: { tempo: 'fast' }, b: 3, c: { ...entry, day: '<b>' } } };
  assert.equal(home.store.take(kept, JSON.stringify(odd)), 1);
  assert.equal(kept.entries.c.day, '');
});

test('a browser that refuses keeps nothing, and says so', () => {
  const refuses = { getItem: () => { throw new Error('no'); }, setItem: () => { throw new Error('no'); } };
  const kept = home.store.store(refuses, 'c');
  assert.equal(kept.works, false);
  home.store.note(kept, 'core', entry);
  assert.equal(kept.entries.core.tempo, 84, 'for as long as the page is open');
  assert.equal(home.store.store(null, 'c').works, false);
});
