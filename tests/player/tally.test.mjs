import assert from 'node:assert/strict';
import { test } from 'node:test';
import { home } from './load.mjs';
import { pageData, solea } from './books.mjs';

const { tally, tasks } = home;

/** c: clean, f: a fault. What stands after the row: clean ones, done, slower. */
const ROWS = [
  ['', 0, false, false],
  ['c', 1, false, false],
  ['ccc', 3, true, false],
  ['cccc', 3, true, false],
  ['cf', 1, false, false],
  ['cff', 1, false, true],
  ['cffc', 2, false, false],
  ['cfcfc', 3, true, false],
  ['fff', 0, false, false],
  ['ffff', 0, false, true],
];

for (const [row, clean, done, slower] of ROWS) {
  test(`three clean ones wanted, marked "${row}"`, () => {
    let now = tally.begin(3);
    for (const word of row) {
      now = word === 'c' ? tally.clean(now) : tally.fault(now);
    }
    assert.deepEqual([now.clean, now.done, now.slower], [clean, done, slower]);
  });
}

test('slower by eight in a hundred, never under the lowest', () => {
  assert.deepEqual([tally.slowed(100, 30), tally.slowed(31, 30), tally.slowed(30, 30)], [92, 30, 30]);
});

test('a piece and a join are wanted clean as often as the page says; a mix is not counted', () => {
  const data = pageData(solea());
  const wanted = ['piece-core-1-3', 'join-core-thumb-run', 'mix-1'].map((id) => tasks.wanted(data, id));
  assert.deepEqual(wanted, [5, 5, 0]);
});

test('after a piece comes the next one of the list, over the versions; nothing after the last', () => {
  const lists = tasks.tasks(pageData(solea()));
  const after = (id) => tasks.following(lists.learn, id);
  assert.deepEqual(after('core'), ['piece-core-1-3', 'Core, 1 to 3']);
  assert.deepEqual(after('piece-core-1-3'), ['thumb-run', 'Thumb run']);
  assert.equal(after('thumb-run'), null);
  assert.equal(after('nothing'), null);
});

test('the capo is that of a line\'s own lesson; the first lesson\'s where it goes over several', () => {
  const data = pageData(solea());
  data.book.strings = { ...data.book.strings, capo: 2 };
  data.versions[0].capo = 2;
  data.versions[1].capo = 5;
  const lines = ['core', 'thumb-run', 'join-core-thumb-run', 'mix-1'];
  assert.deepEqual(lines.map((id) => tasks.capoOf(data, id)), [2, 5, 2, 2]);
});
