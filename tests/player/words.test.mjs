import assert from 'node:assert/strict';
import fs from 'node:fs';
import { test } from 'node:test';
import { home } from './load.mjs';
import { table } from './tone-table.mjs';

const { EN, ES, speaker, noteName } = home.words;

test('both languages say the same things with the same figures', () => {
  assert.deepEqual(Object.keys(ES).sort(), Object.keys(EN).sort());
  const figures = (text) => (text.match(/\{\w+\}/g) || []).sort().join(' ');
  for (const key of Object.keys(EN)) {
    assert.equal(figures(ES[key]), figures(EN[key]), key);
  }
});

test('every word that the scripts ask for is there, and none is there for nothing', () => {
  const folder = new URL('../../templates/assets/', import.meta.url);
  const scripts = fs.readdirSync(folder).filter((name) => /^player.*\.js$/.test(name) && name !== 'player-words.js');
  const text = scripts.map((name) => fs.readFileSync(new URL(name, folder), 'utf8')).join('\n');
  const asked = new Set([...text.matchAll(/say\(\s*'([a-z_0-9]+)'/g)].map((found) => found[1]));
  for (const key of asked) {
    assert.ok(key.endsWith('_') || key in EN, key);
  }
  for (const key of Object.keys(EN)) {
    const stem = key.slice(0, key.indexOf('_') + 1);
    assert.ok(text.includes(`'${key}'`) || (stem && text.includes(`'${stem}'`)) , `nothing says ${key}`);
  }
});

test('figures are put in their places', () => {
  assert.equal(speaker('en')('per_count', { n: 90 }), '90 counts a minute');
  assert.equal(speaker('es-ES')('per_count', { n: 90 }), '90 tiempos por minuto');
  assert.equal(noteName('en', 64), 'E');
  assert.equal(noteName('es', 70), 'si♭');
});

test('the table that Rust is held against is what the scripts give', () => {
  const held = JSON.parse(fs.readFileSync(new URL('tones.json', import.meta.url), 'utf8'));
  assert.deepEqual(held, table());
});
