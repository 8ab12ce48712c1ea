/* The player as a student meets it: a page opened by its file address in Debian's Chromium, worked by keyboard.
 * node --test tests/browser/player.test.mjs (npm ci in tests/browser first). */
import assert from 'node:assert/strict';
import fs from 'node:fs';
import { after, before, beforeEach, test } from 'node:test';
import { open, write } from './player-page.mjs';
import { pageData, siguiriya, solea, taranta } from '../player/books.mjs';

const DRILLS = [{
  kind: 'call-and-answer', line: 'mix-1', title: 'Call and answer', about: 'Once to hear, once to play.',
  heard: [{ guitar: true, palmas: true, count: true }, { guitar: false, palmas: true, count: true }],
}];
const LISTENING = [
  { id: 'which-1', kind: 'which', title: 'Which version was that?', line: 'thumb-run', choices: ['core', 'thumb run'], answer: 1 },
  { id: 'which-2', kind: 'which', title: 'Which version was that?', line: 'core', choices: ['core', 'thumb run'], answer: 0 },
];

let at;
before(async () => {
  at = await open(write(pageData(solea(), { drills: DRILLS, listening: LISTENING })).address, { viewport: { width: 1000, height: 1400 } });
});
after(async () => {
  await at.browser.close();
  assert.deepEqual(at.noted.errors, [], 'nothing on the console');
  assert.deepEqual(at.noted.requests, [], 'nothing asked of the network');
});

beforeEach(() => inside(() => {
  const [one] = Compasario.players;
  if (Compasario.play.playing(one)) {
    Compasario.play.stop(one);
  }
}));

const text = (selector) => at.page.locator(selector).first().textContent();
const task = (name) => at.page.locator(`.player-tasks input[value=${name}]`);
const inside = (what) => at.page.evaluate(what);
/** Waits until a word of the page's own state is true. */
const until = (what, limit = 8000) => at.page.waitForFunction(what, null, { timeout: limit });

test('play and stop by keyboard, the count in sight, the state told', async () => {
  await at.page.focus('.player-play');
  await at.page.keyboard.press('Enter');
  await until(() => /^\d+$/.test(document.querySelector('.player-count').textContent));
  assert.equal(await at.page.getAttribute('.player-play', 'aria-pressed'), 'true');
  assert.match(await text('.player-status'), /^Playing: Core, 60 counts a minute\. What the lesson leaves open stays silent\.$/);
  await until(() => Compasario.players[0].session.board.laid.length > 0);
  await at.page.keyboard.press('p');
  assert.equal(await at.page.getAttribute('.player-play', 'aria-pressed'), 'false');
  assert.equal(await text('.player-status'), 'Stopped.');
  assert.equal(await text('.player-count'), '');
});

test('the tempo changes while it plays', async () => {
  await at.page.focus('.player-play');
  await at.page.keyboard.press('p');
  await until(() => Compasario.players[0].session.transport);
  for (let n = 0; n < 3; n += 1) {
    await at.page.keyboard.press('+');
  }
  const tempo = await inside(() => [Compasario.players[0].state.tempo, Compasario.players[0].session.transport.clock.perMinute]);
  assert.deepEqual(tempo, [67, 67]);
  assert.equal(await text('.player-panel:not([hidden]) output'), '67 counts a minute');
  await at.page.keyboard.press('-');
  assert.equal(await inside(() => Compasario.players[0].session.transport.clock.perMinute), 64);
  await at.page.keyboard.press('p');
});

test('three counts of it go round', async () => {
  const selects = at.page.locator('.player-panel:not([hidden]) .player-span select');
  await selects.nth(0).selectOption({ label: '4' });
  await selects.nth(1).selectOption({ label: '6' });
  await at.page.locator('.player-panel:not([hidden]) select').last().selectOption('once');
  await inside(() => { Compasario.players[0].state.lead = false; });
  await at.page.locator('.player-panel:not([hidden]) input[type=range]').fill('110');
  await at.page.focus('.player-play');
  await at.page.keyboard.press('p');
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
    setTimeout(() => done(counts), 8000);
  }));
  assert.deepEqual(seen, ['4', '5', '6', '4', '5', '6', '4']);
  await at.page.keyboard.press('p');
});

test('the stroke of the moment is marked in the drawing, and the page stays where it is', async () => {
  const top = await inside(() => scrollY);
  await at.page.focus('.player-play');
  await at.page.keyboard.press('p');
  await until(() => document.querySelector('.pattern [data-pattern="0"] .sounding'));
  assert.equal(await inside(() => scrollY), top);
  await at.page.keyboard.press('p');
  assert.equal(await at.page.locator('.sounding').count(), 0);
});

test('the guitar is silenced while it plays, and the rest goes on', async () => {
  await at.page.focus('.player-play');
  await at.page.keyboard.press('p');
  await until(() => Compasario.players[0].session.transport);
  await at.page.keyboard.press('g');
  await at.page.waitForTimeout(200);
  const loud = await inside(() => {
    const { voices } = Compasario.players[0].session.board;
    return [voices.guitar.gain.value < 0.01, voices.base.gain.value > 0.1];
  });
  assert.deepEqual(loud, [true, true]);
  await at.page.keyboard.press('g');
  await at.page.keyboard.press('p');
});

test('a pattern brings the player to its drawing', async () => {
  await at.page.locator('.player-here').nth(1).click();
  assert.equal(await inside(() => document.activeElement.className), 'player-play');
  const beside = await inside(() => document.querySelectorAll('section.pattern')[1].contains(document.querySelector('.player')));
  assert.equal(beside, true);
  assert.equal(await text('.player-name'), 'Thumb run');
});

test('a ladder is climbed by the student\'s word, one word a vuelta, and finished', async () => {
  await task('tempo').check();
  await inside(() => {
    const one = Compasario.players[0];
    one.data.ladder = [{ tempo: 600, clean: 2, faults: 2 }, { tempo: 700, clean: 2, faults: 2 }];
    one.steps = Compasario.ladder.ladder(one.data.ladder);
    one.climb = Compasario.ladder.begin(one.steps);
    one.state.lead = false;
  });
  await at.page.focus('.player-play');
  await at.page.keyboard.press('c');
  assert.equal(await text('.player-status'), 'Play a vuelta first.');
  await at.page.keyboard.press('p');
  const next = async (index) => at.page.waitForFunction((wanted) => {
    const { round } = Compasario.players[0];
    return round && round.index >= wanted;
  }, index, { timeout: 9000 });
  await next(0);
  await at.page.keyboard.press('f');
  assert.match(await text('.player-status'), /Another fault and it goes slower/);
  await at.page.keyboard.press('c');
  assert.match(await text('.player-status'), /One word for each vuelta/);
  for (const word of ['c', 'c']) {
    const index = await inside(() => Compasario.players[0].marked);
    await next(index + 1);
    await at.page.keyboard.press(word);
  }
  assert.equal(await text('.player-status'), 'Up to 700 counts a minute from the next vuelta.');
  assert.match(await text('.player-steps .here'), /700you are here/);
  assert.match(await text('.player-steps .done'), /600done/);
  await until(() => Compasario.players[0].session.transport.clock.perMinute === 700);
  for (const word of ['c', 'c']) {
    const index = await inside(() => Compasario.players[0].marked);
    await next(index + 1);
    await at.page.keyboard.press(word);
  }
  assert.equal(await text('.player-status'), '700 counts a minute reached, clean. That is the goal.');
  await at.page.keyboard.press('p');
  await inside(() => { document.querySelector('.player-progress').closest('details').open = true; });
  assert.equal(await text('.player-progress li'), 'Core: clean at 700 counts a minute');
});

test('progress stays on the device, leaves as a file, and comes back from one', async () => {
  const saved = at.page.waitForEvent('download');
  await at.page.getByRole('button', { name: 'Save it as a file' }).click();
  const file = await (await saved).path();
  assert.match(fs.readFileSync(file, 'utf8'), /"best": 700/);
  const forget = at.page.getByRole('button', { name: /^Forget it$/ });
  await forget.click();
  await at.page.getByRole('button', { name: /Press once more/ }).click();
  assert.match(await text('.player-progress li'), /Nothing noted yet/);
  await at.page.setInputFiles('input[type=file]', file);
  await until(() => /700/.test(document.querySelector('.player-progress li').textContent));
  await at.page.reload();
  await inside(() => { document.querySelector('.player-progress').closest('details').open = true; });
  assert.equal(await text('.player-progress li'), 'Core: clean at 700 counts a minute');
});

test('a mix says what comes next, and shows the drawings of what is played', async () => {
  await task('mix').check();
  await inside(() => {
    const one = Compasario.players[0];
    one.state.lead = false;
    one.state.tempo = 600;
  });
  await at.page.focus('.player-play');
  await at.page.keyboard.press('p');
  await until(() => document.querySelector('.player-next').textContent === 'then thumb run');
  assert.equal(await text('.player-name'), 'core');
  await until(() => document.querySelector('.player-name').textContent === 'thumb run');
  const shown = await inside(() => [...document.querySelectorAll('.player-stage [data-pattern]')].map((one) => one.dataset.pattern));
  assert.deepEqual(shown, ['0', '1']);
  assert.equal(await inside(() => document.querySelectorAll('[id]').length === new Set([...document.querySelectorAll('[id]')].map((one) => one.id)).size), true);
  await at.page.keyboard.press('p');
});

test('a question for the ear is played once, without telling its answer, and answered', async () => {
  await task('listen').check();
  await at.page.locator('.player-panel:not([hidden]) select').selectOption('?which');
  await inside(() => { Compasario.players[0].state.tempo = 900; });
  await at.page.focus('.player-play');
  await at.page.keyboard.press('p');
  await until(() => /Answer below/.test(document.querySelector('.player-status').textContent));
  assert.equal(await text('.player-asked'), 'Which version was that?');
  assert.doesNotMatch(await text('.player-now'), /thumb run/i);
  await at.page.getByRole('button', { name: 'core', exact: true }).click();
  assert.equal(await text('.player-verdict'), 'No, it was thumb run.');
  await at.page.getByRole('button', { name: 'thumb run', exact: true }).click();
  assert.equal(await text('.player-verdict'), 'Yes: thumb run.');
  await at.page.locator('.player-another').focus();
  await at.page.keyboard.press('Enter');
  await until(() => /Answer below/.test(document.querySelector('.player-status').textContent));
  await at.page.getByRole('button', { name: 'core', exact: true }).click();
  assert.equal(await text('.player-verdict'), 'Yes: core.');
});

test('a script that blocks the page for 100 ms at a time makes no note late', async () => {
  await task('mix').check();
  await inside(() => { Compasario.players[0].state.tempo = 220; });
  await at.page.focus('.player-play');
  await at.page.keyboard.press('p');
  await until(() => Compasario.players[0].session.transport);
  const log = await inside(() => new Promise((done) => {
    const { transport } = Compasario.players[0].session;
    const stop = performance.now() + 8000;
    const block = () => {
      const free = performance.now() + 100;
      while (performance.now() < free);
      if (performance.now() < stop) {
        setTimeout(block, 0);
      } else {
        done({ ...transport.log });
      }
    };
    block();
  }));
  await at.page.keyboard.press('p');
  assert.ok(log.laid > 60, `laid ${log.laid}`);
  assert.equal(log.late, 0);
  assert.ok(log.leastAhead > 0.05, `at the least ${log.leastAhead} s ahead`);
  console.log(`busy page: ${log.laid} laid, none late, at the least ${(log.leastAhead * 1000).toFixed(0)} ms ahead`);
});

test('it goes on while the tab is hidden', async () => {
  await at.page.focus('.player-play');
  await at.page.keyboard.press('p');
  await until(() => Compasario.players[0].session.transport);
  const before = await inside(() => Compasario.players[0].session.transport.log.laid);
  const other = await at.context.newPage();
  await other.bringToFront();
  await inside(() => {
    Object.defineProperty(document, 'hidden', { value: true, configurable: true });
    document.dispatchEvent(new Event('visibilitychange'));
  });
  await other.waitForTimeout(4000);
  const log = await inside(() => Compasario.players[0].session.transport.log);
  assert.ok(log.laid > before + 20, `${before} then ${log.laid}`);
  assert.equal(log.late, 0);
  await other.close();
  await inside(() => { delete document.hidden; });
  await at.page.keyboard.press('p');
});

test('strings to tune to, with the capo on, at another A', async () => {
  await inside(() => { document.querySelector('.player-strings').closest('details').open = true; });
  assert.deepEqual(await at.page.locator('.player-strings button').allTextContents(), ['String 6: E', 'String 5: A', 'String 4: D', 'String 3: G', 'String 2: B', 'String 1: E']);
  const [capo, a4] = await at.page.locator('.player-fold input[type=number]').all();
  await capo.fill('2');
  await capo.press('Tab');
  assert.equal(await text('.player-strings button'), 'String 6: F♯');
  await a4.fill('415');
  await a4.press('Tab');
  await at.page.getByRole('button', { name: 'String 5: B' }).click();
  const key = await inside(() => [...Compasario.players[0].session.board.buffers.keys()].at(-1));
  assert.equal(key, '5 47 free 415');
  await a4.fill('440');
  await a4.press('Tab');
});

test('left-handed drawings, remembered', async () => {
  await at.page.getByLabel('Drawings for a left-handed guitar').check();
  assert.equal(await at.page.getAttribute('html', 'data-hand'), 'left');
  await at.page.reload();
  assert.equal(await at.page.getAttribute('html', 'data-hand'), 'left');
});

test('every control has a name, and is large enough for a finger', async () => {
  const poor = await inside(() => {
    for (const fold of document.querySelectorAll('.player details')) {
      fold.open = true;
    }
    return [...document.querySelectorAll('.player button, .player input, .player select')]
      .filter((one) => one.offsetParent && one.getAttribute('aria-hidden') !== 'true')
      .filter((one) => {
        const box = one.getBoundingClientRect();
        const named = one.labels?.length > 0 || one.textContent.trim() !== '' || one.ariaLabel;
        const box2 = one.labels?.[0]?.getBoundingClientRect();
        const tall = Math.max(box.height, box2 ? box2.height : 0);
        return !named || tall < 24 || box.width < 18;
      })
      .map((one) => one.outerHTML.slice(0, 120));
  });
  assert.deepEqual(poor, []);
});

test('on a page of 320 pixels nothing is cut off', async () => {
  const small = await open(write(pageData(solea(), { drills: DRILLS, listening: LISTENING })).address, { viewport: { width: 320, height: 900 } });
  const wide = await small.page.evaluate(() => document.querySelector('.player').scrollWidth > document.querySelector('.player').clientWidth + 1);
  assert.equal(wide, false);
  await small.browser.close();
});

test('less motion wanted: the count changes, no stroke is marked', async () => {
  const calm = await open(write(pageData(solea())).address, { reducedMotion: 'reduce' });
  await calm.page.focus('.player-play');
  await calm.page.keyboard.press('p');
  await calm.page.evaluate(() => { Compasario.players[0].state.lead = false; });
  await calm.page.waitForFunction(() => document.querySelector('.player-count').textContent !== '');
  await calm.page.waitForTimeout(700);
  assert.equal(await calm.page.locator('.sounding').count(), 0);
  await calm.browser.close();
});

test('in Spanish, in uneven counts', async () => {
  const es = await open(write({ ...pageData(siguiriya()), language: 'es' }, 'es').address);
  assert.equal(await es.page.locator('.player-play').textContent(), 'Tocar');
  await es.page.focus('.player-play');
  await es.page.keyboard.press('p');
  await es.page.waitForFunction(() => /^[1-5]$/.test(document.querySelector('.player-count').textContent));
  assert.equal(await es.page.locator('.player-status').textContent(), 'Suena: Core, 100 pulsos por minuto.');
  assert.deepEqual(es.noted.errors, []);
  await es.browser.close();
});

test('a free palo goes phrase by phrase, the second time the student\'s, without count and click', async () => {
  const free = await open(write(pageData(taranta())).address);
  await free.page.evaluate(() => { Compasario.players[0].state.tempo = 240; });
  await free.page.focus('.player-play');
  await free.page.keyboard.press('p');
  await free.page.waitForFunction(() => document.querySelector('.player-next').textContent === 'Your turn');
  assert.equal(await free.page.locator('.player-count').textContent(), '');
  const voices = await free.page.evaluate(() => [...new Set(Compasario.players[0].session.board.laid.map((one) => one.voice))]);
  assert.ok(voices.every((voice) => voice === 'guitar'));
  assert.equal(await free.page.getByText('Palmas').count(), 0);
  await free.browser.close();
});

test('with scripts off the page is read all the same', async () => {
  const plain = await open(write(pageData(solea())).address, { javaScriptEnabled: false });
  assert.match(await plain.page.locator('section.practice').textContent(), /Read without scripts/);
  await plain.browser.close();
});
