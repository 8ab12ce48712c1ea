/* An evening with a built lesson, opened from its file and worked by keyboard from beginning to end.
 * SITE=folder node --test tests/browser/evening.test.mjs (without SITE: the committed demo). */
import assert from 'node:assert/strict';
import fs from 'node:fs';
import path from 'node:path';
import { after, before, test } from 'node:test';
import { open } from './player-page.mjs';

const SITE = path.resolve(process.env.SITE ?? path.join(import.meta.dirname, '../../site'));

let at;
before(async () => {
  at = await open('file://' + path.join(SITE, 'lessons', 'alegrias-shutters-up.html'), { viewport: { width: 1280, height: 900 } });
  await inside(() => { Compasario.players[0].state.lead = false; });
});
after(async () => {
  await at.browser.close();
  assert.deepEqual(at.noted.errors, [], 'nothing on the console');
  assert.deepEqual(at.noted.requests, [], 'nothing asked of the network');
});

const inside = (what, value) => at.page.evaluate(what, value);
const text = (selector) => at.page.locator(selector).first().textContent();
const press = (...keys) => keys.reduce((before, key) => before.then(() => at.page.keyboard.press(key)), Promise.resolve());
const goes = () => at.page.waitForFunction(() => Compasario.players[0].session && Compasario.players[0].session.transport);
/** Tab until what is wanted has the keyboard. */
async function tabTo(what) {
  for (let n = 0; n < 40 && !(await inside((wanted) => document.activeElement.matches(wanted), what)); n += 1) {
    await press('Tab');
  }
  assert.ok(await inside((wanted) => document.activeElement.matches(wanted), what), what);
}

test('play, and another tempo while it plays', async () => {
  await at.page.focus('.player-tasks input:checked');
  await tabTo('.player-play');
  await press('Enter');
  await goes();
  const before = await inside(() => Compasario.players[0].session.transport.clock.perMinute);
  await press('+', '+');
  const now = await inside(() => Compasario.players[0].session.transport.clock.perMinute);
  assert.ok(now > before, `${before} to ${now}`);
  assert.equal(await text('.player-panel:not([hidden]) output'), `${now} counts a minute`);
  await press('p');
});

test('three counts of it go round, chosen by keyboard', async () => {
  await tabTo('.player-panel:not([hidden]) > .player-row select');
  await at.page.locator('.player-panel:not([hidden]) select').first().selectOption('core');
  await tabTo('.player-span select');
  await at.page.keyboard.type('4');
  await press('Tab');
  await at.page.keyboard.type('6');
  await at.page.locator('.player-panel:not([hidden]) select').last().selectOption('once');
  await inside(() => Compasario.players[0].setTempo(160));
  await at.page.focus('.player-play');
  await press('p');
  const seen = await inside(() => new Promise((done) => {
    const counts = [];
    const look = () => {
      const now = document.querySelector('.player-count').textContent;
      if (now && now !== counts.at(-1)) {
        counts.push(now);
      }
      return counts.length < 7 ? requestAnimationFrame(look) : done(counts);
    };
    look();
    setTimeout(() => done(counts), 9000);
  }));
  assert.deepEqual(seen, ['4', '5', '6', '4', '5', '6', '4']);
});

test('the guitar is silent while the palmas go on', async () => {
  await press('g');
  await at.page.waitForTimeout(200);
  const gains = await inside(() => ['guitar', 'base'].map((voice) => Compasario.players[0].session.board.voices[voice].gain.value));
  assert.ok(gains[0] < 0.01 && gains[1] > 0.1, gains.join());
  await press('g', 'p');
});

test('the whole ladder is climbed, every rung by the student\'s word, and what was reached leaves as a file', async () => {
  await at.page.focus('.player-tasks input:checked');
  await press('ArrowRight');
  assert.equal(await at.page.locator('.player-tasks input[value=tempo]').isChecked(), true);
  // Every rung of the page, eight times as fast: thirty vueltas of twelve counts would take four minutes.
  const rungs = await inside(() => {
    const one = Compasario.players[0];
    one.steps = Compasario.ladder.ladder(one.data.ladder.map((rung) => ({ ...rung, tempo: rung.tempo * 8 })));
    one.climb = Compasario.ladder.begin(one.steps);
    return one.steps.map((rung) => rung.tempo);
  });
  await tabTo('.player-play');
  await press('p');
  const tempos = [];
  for (let marked = -1; !(await inside(() => Compasario.players[0].climb.done)); marked += 1) {
    assert.ok(marked < 60, 'the ladder ends');
    await at.page.waitForFunction((last) => {
      const { round } = Compasario.players[0];
      return round && round.index > last;
    }, await inside(() => Compasario.players[0].marked), { timeout: 9000 });
    const tempo = await inside(() => Compasario.players[0].climb.tempo);
    if (tempo !== tempos.at(-1)) {
      tempos.push(tempo);
    }
    await press('c');
  }
  assert.deepEqual(tempos, rungs, 'up a rung at a time, never over one');
  assert.match(await text('.player-status'), /^\d+ counts a minute reached, clean\. That is the goal\.$/);
  await press('p');
  const saved = at.page.waitForEvent('download');
  await inside(() => { document.querySelectorAll('.player details').forEach((one) => { one.open = true; }); });
  await at.page.getByRole('button', { name: 'Save it as a file' }).press('Enter');
  const held = JSON.parse(fs.readFileSync(await (await saved).path(), 'utf8'));
  assert.equal(held.entries.core.best, rungs.at(-1));
});
