import assert from 'node:assert/strict';
import { test } from 'node:test';
import { home } from './load.mjs';
import { solea, siguiriya, taranta } from './books.mjs';

const { score } = home;
const counted = (list) => list.map((mark) => mark.count).join(' ');

test('a line is its cuts end to end', () => {
  const join = score.layOut(solea(), 'join-core-thumb-run');
  assert.equal(join.length, 6);
  assert.equal(counted(join.counts), '10 11 12 1 2 3');
  assert.deepEqual(join.passages.map((one) => [one.from, one.to, one.name]), [[0, 3, 'core'], [3, 6, 'thumb run']]);
  assert.deepEqual(join.accents, [0, 2, 5]);
  assert.equal(join.events[0].kind, 'hand', 'a cut begins with what the left hand holds there');
  assert.deepEqual(join.events.filter((event) => event.drawn).map((event) => event.at), [0, 2, 3, 4, 5, 5]);
});

test('a book without that line has no score', () => {
  assert.equal(score.layOut(solea(), 'nowhere'), null);
});

test('three counts of a line, cut out or left in their compás', () => {
  const core = score.layOut(solea(), 'core');
  const cut = score.part(core, 3, 6);
  assert.equal(cut.length, 3);
  assert.equal(counted(cut.counts), '4 5 6');
  assert.deepEqual(cut.events[0].hand, [1, 1, 2, 3, 3, 1], 'the F that is held at 4');
  const left = home.tasks.roundScore(solea(), 'core', { from: 3, to: 5, around: 'compas' });
  assert.equal(left.length, 12);
  assert.equal(left.counts.length, 12);
  assert.ok(left.events.every((event) => event.at >= 3 && event.at < 6));
  const once = home.tasks.roundScore(solea(), 'core', { from: 3, to: 5, around: 'once' });
  assert.equal(once.length, 3);
});

test('a piece is followed by the rest of its compás, counted and clapped, not played', () => {
  const rest = score.restOfCompas(solea(), 'piece-core-1-3');
  assert.equal(counted(rest.counts), '4 5 6 7 8 9 10 11 12');
  assert.equal(rest.events.length, 0);
  assert.ok(rest.palmas.length > 0);
  const join = score.restOfCompas(solea(), 'join-core-thumb-run');
  assert.equal(counted(join.counts), '4 5 6 7 8 9 10 11 12 1 2 3 4 5 6 7 8 9', 'round to the tenth count again');
  assert.equal(score.restOfCompas(solea(), 'core').length, 0);
});

test('the count of entry leads to the first count of what is played', () => {
  assert.equal(counted(score.countIn(solea(), 'core').counts), '7 8 9 10 11 12');
  assert.equal(counted(score.countIn(solea(), 'join-core-thumb-run').counts), '4 5 6 7 8 9');
  assert.equal(counted(score.countIn(siguiriya(), 'core').counts), '1 2 3 4 5');
  assert.equal(score.countIn(siguiriya(), 'core').length, 12, 'in pulses');
  assert.equal(score.countIn(taranta(), 'phrase-1').length, 0, 'a free palo is not counted in');
});

test('where the click falls, also in uneven counts', () => {
  const core = score.layOut(solea(), 'core');
  const at = (which, of = core) => score.clicks(of, which).map((click) => click.at);
  assert.deepEqual(at('accents'), [2, 5, 7, 9, 11]);
  assert.deepEqual(at('once'), [0]);
  assert.equal(at('between').length, 12);
  assert.equal(at('between')[0], 0.5);
  const uneven = score.layOut(siguiriya(), 'core');
  assert.deepEqual(at('counts', uneven), [0, 2, 4, 7, 10]);
  assert.deepEqual(at('between', uneven), [1, 3, 5, 6, 8, 9, 11]);
  assert.deepEqual(at('counts', score.layOut(taranta(), 'phrase-1')), []);
});

test('the book is left as it was', () => {
  const book = solea();
  const before = JSON.stringify(book);
  home.tasks.roundScore(book, 'core', { from: 2, to: 4, around: 'once' });
  score.countIn(book, 'core');
  assert.equal(JSON.stringify(book), before);
});
