import assert from 'node:assert/strict';
import { test } from 'node:test';
import { home } from './load.mjs';
import { pageData, solea, taranta } from './books.mjs';

const { tasks } = home;

test('every line of the data stands under the task that it serves', () => {
  const lists = tasks.tasks(pageData(solea()));
  assert.deepEqual(lists.learn.map(([name, lines]) => [name, lines.length]), [['core', 2], ['thumb run', 1]]);
  assert.deepEqual(lists.tempo[0][1].map(([id]) => id), ['core', 'thumb-run']);
  assert.deepEqual(lists.join[0][1], [['join-core-thumb-run', 'Core into thumb run']]);
  assert.deepEqual(lists.mix.flatMap(([, lines]) => lines.map(([id]) => id)), ['circuit-1', 'mix-1']);
  const free = tasks.tasks(pageData(taranta()));
  assert.deepEqual([free.join, free.mix], [[], []]);
});

test('a programme counts in once and then goes round', () => {
  const core = home.score.layOut(solea(), 'core');
  const lead = home.score.countIn(solea(), 'core');
  const next = tasks.programme([core], lead, { turns: 'hold' }, () => 60);
  assert.equal(next(0).lead, true);
  const turns = [1, 2, 3, 4, 5].map((index) => next(index).heard.turn || 'heard');
  assert.deepEqual(turns, ['heard', 'heard', 'heard', 'hold', 'heard']);
});

test('a walk is a round for each vuelta, and says what comes then', () => {
  const vueltas = tasks.vueltas(solea(), 'circuit-1');
  const next = tasks.programme(vueltas, null, { turns: 'none', times: 1 }, () => 60);
  const names = [0, 1, 2].map((index) => next(index).score.passages[0].name);
  assert.deepEqual(names, ['core', 'thumb run', 'core']);
  assert.equal(next(0).after.passages[0].name, 'thumb run');
  assert.equal(next(3), null, 'played once');
});

test('a drill says what is heard in each bar', () => {
  const vueltas = tasks.vueltas(solea(), 'mix-1');
  const bars = [{ guitar: true, palmas: true, count: true }, { guitar: false, palmas: true, count: true }];
  const next = tasks.programme(vueltas, null, { bars }, () => 60);
  assert.equal(next(0).heard.turn, undefined);
  assert.equal(next(1).heard.turn, 'yours');
  assert.equal(next(1).heard.guitar, false);
  assert.equal(next(1).heard.base, true);
});

test('a question about the accent: one clap stands out', () => {
  const asked = { kind: 'accent', line: 'core', leant: [7, 1] };
  const { palmas, events } = tasks.questionScore(solea(), asked);
  assert.equal(events.length, 0);
  assert.deepEqual(palmas.filter((clap) => clap.level > 50).map((clap) => clap.at), [7]);
});

test('a version is drawn by its own pattern and by the core that it stands in', () => {
  const data = pageData(solea());
  assert.deepEqual(tasks.drawnBy(data, 1), [{ lesson: 0, pattern: 1 }, { lesson: 0, pattern: 0 }]);
  assert.deepEqual(tasks.drawnBy(data, 0), [{ lesson: 0, pattern: 0 }]);
  assert.deepEqual(tasks.drawnBy(data, 9), []);
});
