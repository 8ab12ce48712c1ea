import assert from 'node:assert/strict';
import { test } from 'node:test';
import { home } from './load.mjs';

const { sounds, fork } = home.state;
const PLAIN = sounds(undefined);

/** What the device or a file holds, and what becomes of it. */
const TABLE = [
  ['nothing', undefined, {}],
  ['no object', 'loud', {}],
  ['contras on, softer', { on: { contra: true }, loud: { contra: 30 } }, { on: { ...PLAIN.on, contra: true }, loud: { ...PLAIN.loud, contra: 30 } }],
  ['the click off the beat, no count of entry', { click: 'between', lead: false }, { click: 'between', lead: false }],
  ['a click nowhere known', { click: 'always' }, {}],
  ['too loud, not a number, not a yes', { loud: { guitar: 900, base: '70' }, on: { guitar: 1 } }, {}],
  ['a voice that is not there', { on: { drum: true }, loud: { drum: 5 } }, {}],
];

for (const [name, held, expected] of TABLE) {
  test(`what is heard on the next day: ${name}`, () => {
    assert.deepEqual(sounds(held), { ...PLAIN, ...expected });
  });
}

test('an A that no fork has is 440', () => {
  assert.deepEqual([442.5, 415, 466, 1000, 'x', null, undefined].map(fork), [442.5, 415, 466, 440, 440, 440, 440]);
});
