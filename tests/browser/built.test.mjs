/* Pages of a built course, opened by double click: SITE=folder node --test tests/browser/built.test.mjs (without SITE: the committed demo). */
import assert from 'node:assert/strict';
import fs from 'node:fs';
import os from 'node:os';
import path from 'node:path';
import { test } from 'node:test';
import { open } from './player-page.mjs';

const SITE = path.resolve(process.env.SITE ?? path.join(import.meta.dirname, '../../site'));
const LESSON = 'alegrias-shutters-up.html';
const address = (...names) => 'file://' + path.join(SITE, ...names);

async function plays({ page }) {
  await page.focus('.player-play');
  await page.keyboard.press('Enter');
  await page.waitForFunction(() => /^\d+$/.test(document.querySelector('.player-count').textContent));
  await page.waitForFunction(() => Compasario.players[0].session.board.laid.length > 0);
  await page.waitForFunction(() => document.querySelector('[data-pattern] .sounding'));
  await page.keyboard.press('p');
  assert.equal(await page.getAttribute('.player-play', 'aria-pressed'), 'false');
}

function quiet({ noted }) {
  assert.deepEqual(noted.errors, [], 'nothing on the console');
  assert.deepEqual(noted.requests, [], 'nothing asked of the network');
}

test('a lesson is opened from its file and played by keyboard', async () => {
  const at = await open(address('lessons', LESSON));
  await plays(at);
  quiet(at);
  await at.browser.close();
});

test('the lesson that is sent as one file plays where nothing else is', async () => {
  const folder = fs.mkdtempSync(path.join(os.tmpdir(), 'one-file-'));
  const alone = path.join(folder, LESSON);
  fs.copyFileSync(path.join(SITE, 'to-send', LESSON), alone);
  const at = await open('file://' + alone, { viewport: { width: 320, height: 800 } });
  const asked = [];
  at.page.on('request', (request) => asked.push(request.url()));
  await at.page.reload();
  await plays(at);
  assert.deepEqual(asked.filter((url) => !/^(blob|data):/.test(url)), ['file://' + alone], 'the file itself and nothing beside it');
  quiet(at);
  await at.browser.close();
});

test('on paper the steps of practice stand unfolded, and the player is not there', async () => {
  const at = await open(address('lessons', LESSON), { javaScriptEnabled: false });
  const steps = at.page.locator('.practice-steps');
  assert.doesNotMatch(await steps.innerText(), /:/, 'folded on the screen');
  await at.page.emulateMedia({ media: 'print' });
  assert.match(await steps.innerText(), /core: counts 1 to 2/i);
  assert.equal(await at.page.locator('.player').count(), 0);
  await at.browser.close();
});

test('the page of practice is reached from lesson and palo, and played by keyboard', async () => {
  const at = await open(address('palos', 'alegrias.html'));
  await at.page.locator('.practice-link a').click();
  assert.match(at.page.url(), /\/practice\/alegrias-shutters-up\.html$/);
  await plays(at);
  quiet(at);
  await at.page.goto(address('lessons', LESSON));
  await at.page.locator('.practice-link a').click();
  assert.match(at.page.url(), /\/practice\/alegrias-shutters-up\.html$/);
  await at.browser.close();
});

test('the count of the moment is marked in the drawing', async () => {
  const at = await open(address('practice', LESSON));
  await at.page.focus('.player-play');
  await at.page.keyboard.press('p');
  await at.page.waitForFunction(() => {
    const marked = document.querySelector('[data-pattern] .present[data-count]');
    return marked && marked.dataset.count === document.querySelector('.player-count').textContent;
  });
  await at.page.keyboard.press('p');
  assert.equal(await at.page.locator('.present').count(), 0);
  await at.browser.close();
});

test('the sheet is printed: boxes to tick, steps, joins, drawings; no player', async () => {
  const at = await open(address('practice', LESSON));
  assert.equal(await at.page.locator('.boxes').first().isVisible(), false, 'nothing to tick on the screen');
  await at.page.emulateMedia({ media: 'print' });
  assert.equal(await at.page.locator('.player').isVisible(), false);
  const seen = await at.page.evaluate(() => ({
    boxes: [...document.querySelectorAll('.tasks li:first-child .boxes i')].filter((one) => one.offsetWidth > 5).length,
    drawings: [...document.querySelectorAll('.drawing-wide')].filter((one) => one.getBoundingClientRect().width > 200).length,
    joins: document.querySelectorAll('.stops').length,
  }));
  assert.ok(seen.boxes >= 5 && seen.drawings >= 2 && seen.joins >= 2, JSON.stringify(seen));
  await at.browser.close();
});

test('left-handed: chord shapes are turned round, their letters are not', async () => {
  const at = await open(address('practice', LESSON));
  await at.page.evaluate(() => { document.querySelectorAll('.player details').forEach((one) => { one.open = true; }); });
  const nut = () => at.page.evaluate(() => {
    const box = document.querySelector('.shapes svg').getBoundingClientRect();
    const line = document.querySelector('.shapes .d-nut').getBoundingClientRect();
    return (line.left + line.right) / 2 < (box.left + box.right) / 2 ? 'left' : 'right';
  });
  assert.equal(await nut(), 'left');
  await at.page.getByLabel('Drawings for a left-handed guitar').check();
  assert.equal(await nut(), 'right');
  const turned = await at.page.evaluate(() => {
    const { a } = document.querySelector('.shapes svg text').getScreenCTM();
    return a > 0;
  });
  assert.equal(turned, true, 'letters read from left to right');
  await at.browser.close();
});
