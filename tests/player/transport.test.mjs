import assert from 'node:assert/strict';
import { test } from 'node:test';
import { home } from './load.mjs';
import { solea, siguiriya, taranta, E } from './books.mjs';

/** An audio context that only remembers what was laid, so that the transport can be tested without sound. */
function context() {
  const parameter = (value) => ({ value, cancelScheduledValues() {}, setTargetAtTime() {}, setValueAtTime() {}, linearRampToValueAtTime() {} });
  const node = () => ({ gain: parameter(1), pan: parameter(0), connect() {}, disconnect() {}, start() {}, stop() {} });
  return {
    sampleRate: 44100,
    currentTime: 0,
    destination: node(),
    createGain: node,
    createStereoPanner: node,
    createWaveShaper: node,
    createBufferSource: node,
    createBuffer: (channels, length) => ({ duration: length / 44100, copyToChannel() {} }),
  };
}

function player(book, id, choice = {}) {
  const board = home.sound.board(context(), { a4: 440, capo: 0 });
  const scores = [home.score.layOut(book, id)];
  const settings = { click: 'none', hands: 'both', tuning: book.strings.tuning, ...choice.settings };
  const programme = home.tasks.programme(scores, choice.lead, { turns: 'none', ...choice }, choice.tempo || (() => 60));
  const laid = [];
  const sound = home.sound.sound;
  const transport = home.transport.transport(board, programme, settings);
  const pump = (now, ahead = 0.8) => {
    const before = new Set(board.laid);
    home.transport.pump(transport, now, ahead);
    laid.push(...board.laid.filter((one) => !before.has(one)));
  };
  home.transport.begin(transport, 0.12, 60);
  return { board, transport, pump, laid, sound };
}

/** Seconds at which notes and noises of a kind were laid. */
const seconds = (laid, of) => laid.filter(of).map((one) => Number(one.at.toFixed(4)));
const string = (number) => (one) => one.what.string === number;

test('a round follows the other without a seam, for as long as it is asked', () => {
  const { pump, laid } = player(siguiriya(), 'core');
  for (let now = 0; now < 30; now += 0.06) {
    pump(now);
  }
  const found = seconds(laid, string(5));
  assert.deepEqual(found.slice(0, 7), [0.12, 2.12, 4.12, 7.12, 10.12, 12.12, 14.12], 'counts of 2 2 3 3 2 pulses');
});

test('nothing is laid further ahead than asked, and nothing late while it is asked often enough', () => {
  const { pump, laid, transport } = player(solea(), 'core');
  pump(0, 0.8);
  assert.ok(laid.every((one) => one.at <= 0.8));
  for (let now = 0; now < 40; now += 0.3) {
    pump(now, 0.8);
  }
  assert.equal(transport.log.late, 0);
});

test('a sound that would come too late is left out, and the next one comes in time', () => {
  const { pump, laid, transport } = player(siguiriya(), 'core');
  pump(0, 0.8);
  pump(5, 0.8);
  assert.deepEqual(seconds(laid, string(5)), [0.12], 'those of 2.12 and 4.12 s have gone by');
  pump(6.5, 0.8);
  assert.deepEqual(seconds(laid, string(5)), [0.12, 7.12]);
  assert.equal(transport.log.leftOut > 0, true);
});

test('another tempo takes hold at once and keeps the place', () => {
  const { pump, laid, transport, board } = player(siguiriya(), 'core');
  pump(0, 5);
  home.transport.changeTempo(transport, 1.12, 120);
  const kept = board.laid.map((one) => one.at);
  assert.ok(kept.every((at) => at < 1.12), 'what was to come is taken back');
  pump(1.12, 5);
  assert.deepEqual(seconds(board.laid, string(5)), [0.12, 1.62, 2.62, 4.12, 5.62]);
  assert.ok(laid.length > 0);
});

test('a tempo that changes from the next vuelta leaves this one alone', () => {
  let tempo = 60;
  const { pump, transport, board } = player(siguiriya(), 'core', { tempo: () => tempo });
  pump(10, 4);
  tempo = 120;
  home.transport.rewind(transport, home.transport.endOfRound(transport, 10));
  pump(10, 9);
  const found = seconds(board.laid, string(5)).filter((at) => at > 10);
  assert.deepEqual(found, [10.12, 12.12, 13.12, 14.12, 15.62, 17.12, 18.12]);
});

test('a string ends when it is struck again, when the hand leaves it, and when it is damped', () => {
  const { pump, board } = player(solea(), 'core');
  pump(0, 13);
  const low = board.laid.filter((one) => one.what.string === 6 && one.at < 12);
  assert.equal(low[0].ends, 2.12, 'E on 1 ends where F is taken on 3');
  assert.equal(low.at(-1).ends, 11.12, 'damped on 12');
});

test('silent vueltas are silent, and marked', () => {
  const { pump, board, transport } = player(solea(), 'core', { turns: 'answer' });
  pump(0, 25);
  const second = board.laid.filter((one) => one.at >= 12.12 && one.at < 24.12);
  assert.ok(second.every((one) => one.voice !== 'guitar' && one.voice !== 'golpe'));
  assert.ok(second.some((one) => one.voice === 'base'));
  assert.ok(transport.marks.some((mark) => mark.kind === 'stroke' && mark.second > 12.12), 'the strokes to play are shown');
});

test('a free palo has no count, no clap and no click', () => {
  const { pump, board, transport } = player(taranta(), 'phrase-1', { settings: { click: 'counts' } });
  pump(0, 4);
  assert.deepEqual([...new Set(board.laid.map((one) => one.voice))], ['guitar']);
  assert.ok(!transport.marks.some((mark) => mark.kind === 'count'));
});

test('the left hand alone lands, the right hand alone is damped', () => {
  const left = player(solea(), 'core', { settings: { hands: 'left' } });
  left.pump(0, 12);
  assert.ok(left.board.laid.filter((one) => one.voice === 'guitar').every((one) => one.what.touch === 'slur'));
  assert.ok(!left.board.laid.some((one) => one.voice === 'golpe'));
  const right = player(solea(), 'core', { settings: { hands: 'right' } });
  right.pump(0, 12);
  assert.ok(right.board.laid.filter((one) => one.voice === 'guitar').every((one) => one.what.touch === 'damped'));
  assert.equal(E.length, 6);
});
