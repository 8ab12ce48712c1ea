/* Step by step with a built course: the sheet leads into the player, clean ones are counted, lessons of a palo are mixed.
 * SITE=folder node --test tests/browser/steps.test.mjs (without SITE: the committed demo). */
import assert from 'node:assert/strict';
import path from 'node:path';
import { test } from 'node:test';
import { open } from './player-page.mjs';

const SITE = path.resolve(process.env.SITE ?? path.join(import.meta.dirname, '../../site'));
const address = (...names) => 'file://' + path.join(SITE, ...names);
const ALEGRIAS = address('practice', 'alegrias-shutters-up.html');
const TANGOS = address('practice', 'palos', 'tangos.html');

async function withPage(url, act, options = { viewport: { width: 1000, height: 1200 } }) {
  const at = await open(url, options);
  const text = (selector) => at.page.locator(selector).first().textContent();
  try {
    await act({ ...at, text, inside: (what, value) => at.page.evaluate(what, value) });
    assert.deepEqual(at.noted.errors, [], 'nothing on the console');
    assert.deepEqual(at.noted.requests, [], 'nothing asked of the network');
  } finally {
    await at.browser.close();
  }
}

/** Marks the vueltas as they come: c or f, by the key. */
async function mark({ page, inside }, row) {
  for (const word of row) {
    const marked = await inside(() => Compasario.players[0].marked);
    await page.waitForFunction((last) => {
      const { round } = Compasario.players[0];
      return round && !round.lead && round.index > last;
    }, marked, { timeout: 9000 });
    await page.keyboard.press(word);
  }
}

test('a step of the sheet comes up in the player, with its drawing before a note is played', () => withPage(ALEGRIAS, async (at) => {
  const step = at.page.locator('.tasks li', { hasText: 'Core: counts 3 to 6' }).first();
  await step.getByRole('button', { name: 'Practise this: Core: counts 3 to 6' }).focus();
  await at.page.keyboard.press('Enter');
  assert.equal(await at.text('.player-name'), 'core: counts 3 to 6');
  assert.equal(await at.inside(() => document.activeElement.className), 'player-play');
  assert.equal(await at.inside(() => document.querySelectorAll('.player-stage .drawing').length), 1);
  assert.equal(await at.text('.player-far'), '0 of 5 clean');
}));

test('every step, join, circuit, mix and drill of the sheet has its way into the player', () => withPage(ALEGRIAS, async ({ inside }) => {
  const lost = await inside(() => [...document.querySelectorAll('[data-line]')].filter((one) => !one.querySelector('.player-step')).map((one) => one.dataset.line));
  assert.deepEqual(lost, []);
  const wrong = await inside(() => {
    const [one] = Compasario.players;
    return [...document.querySelectorAll('[data-line]')].filter((step) => {
      step.querySelector('.player-step').click();
      return one.state.line[one.state.task] !== step.dataset.line || one.panel.parts.name.textContent === '';
    }).map((step) => step.dataset.line);
  });
  assert.deepEqual(wrong, []);
}));

test('clean ones are counted, two faults make it slower, enough of them lead on and stay on the device', () => withPage(ALEGRIAS, async (at) => {
  const { page, text, inside } = at;
  await inside(() => {
    const [one] = Compasario.players;
    one.state.lead = false;
    one.state.around = 'once';
    one.state.range.max = 900;
    one.setTempo(600);
  });
  await page.focus('.player-play');
  await page.keyboard.press('c');
  assert.equal(await text('.player-status'), 'Play a vuelta first.');
  await page.keyboard.press('p');
  await mark(at, 'cf');
  assert.equal(await text('.player-status'), 'That one does not count: still 1 of 5 clean.');
  await mark(at, 'f');
  assert.equal(await text('.player-status'), 'Twice with a fault: down to 552 counts a minute, and clean first.');
  assert.equal(await inside(() => Compasario.players[0].session.transport.clock.perMinute), 552);
  await mark(at, 'cccc');
  assert.equal(await text('.player-far'), '5 of 5 clean');
  assert.equal(await text('.player-status'), '5 clean: that is enough of this one.');
  assert.match(await text('.tasks li'), /✓ clean at 552 counts a minute/);
  const on = page.getByRole('button', { name: 'Go on: core: counts 3 to 6' });
  await on.focus();
  await page.keyboard.press('Enter');
  assert.equal(await text('.player-name'), 'core: counts 3 to 6');
  assert.equal(await text('.player-far'), '0 of 5 clean');
  await page.reload();
  assert.match(await text('.tasks li'), /✓ clean at 552 counts a minute/);
}));

test('while a mix goes on, what stands below the drawings stays where it is', () => withPage(ALEGRIAS, async ({ page, inside }) => {
  await page.locator('.player-tasks input[value=mix]').check();
  await inside(() => {
    const [one] = Compasario.players;
    one.state.lead = false;
    one.setTempo(900);
  });
  await page.focus('.player-play');
  await page.keyboard.press('p');
  const seen = await inside(() => new Promise((done) => {
    const tops = new Set();
    const names = new Set();
    const look = () => {
      if (document.querySelector('.player-count').textContent) {
        tops.add(Math.round(document.querySelector('.player-panel:not([hidden])').getBoundingClientRect().top));
        names.add(document.querySelector('.player-name').textContent);
      }
      return names.size < 3 ? requestAnimationFrame(look) : done([[...tops], [...names]]);
    };
    look();
    setTimeout(() => done([[...tops], [...names]]), 9000);
  }));
  assert.equal(seen[1].length, 3, seen[1].join());
  assert.equal(seen[0].length, 1, seen[0].join());
  await page.keyboard.press('p');
}));

test('a question for the ear shows no drawing', () => withPage(ALEGRIAS, async ({ page, inside, text }) => {
  await page.locator('.player-tasks input[value=listen]').check();
  await page.locator('.player-panel:not([hidden]) select').first().selectOption('?which');
  await page.focus('.player-play');
  await page.keyboard.press('p');
  await page.waitForFunction(() => /^\d+$/.test(document.querySelector('.player-count').textContent));
  assert.equal(await inside(() => document.querySelectorAll('.player-stage .drawing').length), 0);
  assert.equal(await text('.player-name'), '');
}));

test('lessons of a palo are mixed: the task stands ready, every version says whose it is', () => withPage(TANGOS, async ({ page, inside, text }) => {
  assert.equal(await page.locator('.player-tasks input[value=mix]').isChecked(), true);
  const names = await inside(() => Compasario.players[0].data.book.versions);
  assert.deepEqual(names.slice(0, 4), ['core (Tangos, the broom)', 'bass', 'hammer', 'core (Tangos, the two stools)']);
  assert.match(await text('.sheet'), /Tangos, the broom: no capo; Tangos, the two stools: capo at fret 3\./);
  await page.locator('.player-panel:not([hidden]) select').first().selectOption('mix-1');
  await inside(() => {
    const [one] = Compasario.players;
    one.state.lead = false;
    one.setTempo(900);
  });
  await page.focus('.player-play');
  await page.keyboard.press('p');
  const lessons = await inside(() => new Promise((done) => {
    const seen = new Set();
    const look = () => {
      document.querySelectorAll('.player-stage [data-lesson]').forEach((one) => seen.add(one.dataset.lesson));
      return seen.size < 2 ? requestAnimationFrame(look) : done([...seen]);
    };
    look();
    setTimeout(() => done([...seen]), 9000);
  }));
  assert.deepEqual(lessons.sort(), ['0', '1']);
  await page.keyboard.press('p');
}));

test('each version sounds with its own lesson\'s capo, a mix with one; the student\'s own capo stays', () => withPage(TANGOS, async ({ page, inside, text }) => {
  const choose = async (task, line) => {
    await page.locator(`.player-tasks input[value=${task}]`).check();
    await page.locator('.player-panel:not([hidden]) select').first().selectOption(line);
    await page.focus('.player-play');
    await page.keyboard.press('p');
    await page.waitForFunction(() => Compasario.players[0].session.transport);
    await page.keyboard.press('p');
    return [await text('.player-capo'), await inside(() => Compasario.players[0].session.board.settings.capo), await page.locator('.player-strings button').first().textContent()];
  };
  const table = [
    ['learn', 'core', 'no capo', 0, 'String 6: E'],
    ['learn', 'core-2', 'capo at fret 3', 3, 'String 6: G'],
    ['tempo', 'variation-1-the-thumb-walks-home', 'capo at fret 3', 3, 'String 6: G'],
    ['join', 'join-core--core-2', 'no capo', 0, 'String 6: E'],
    ['mix', 'mix-1', 'no capo', 0, 'String 6: E'],
  ];
  for (const [task, line, ...expected] of table) {
    assert.deepEqual(await choose(task, line), expected, line);
  }
  await inside(() => { document.querySelectorAll('.player details').forEach((one) => { one.open = true; }); });
  await page.getByLabel('Capo at fret').fill('5');
  await page.getByLabel('Capo at fret').press('Enter');
  assert.deepEqual(await choose('learn', 'core-2'), ['capo at fret 5', 5, 'String 6: A']);
}));

test('what may not follow what is said with its reason, and no circuit and no mix has it', () => withPage(address('practice', 'tientos-last-bus.html'), async ({ inside, text }) => {
  assert.equal((await text('.forbidden')).trim(), 'Variation 3 runs on over the counts with which variation 2 begins.');
  const played = await inside(() => {
    const { data } = Compasario.players[0];
    const refused = data.joins.filter((join) => !join.allowed).map((join) => `${join.from} ${join.to}`);
    const walks = data.circuits.map((one) => one.stops).concat(data.mixes.map((one) => one.mix.stops));
    const pairs = walks.flatMap((stops) => stops.map((stop, n) => `${stop} ${stops[(n + 1) % stops.length]}`));
    return [refused, pairs.length, pairs.filter((pair) => refused.includes(pair))];
  });
  assert.deepEqual(played[0], ['3 2']);
  assert.ok(played[1] > 50);
  assert.deepEqual(played[2], []);
}));

test('a free palo keeps no room for a number', () => withPage(address('practice', 'taranta-by-the-window.html'), async ({ page, text }) => {
  assert.equal(await page.locator('.player-count').isVisible(), false);
  await page.focus('.player-play');
  await page.keyboard.press('p');
  await page.waitForFunction(() => document.querySelector('.player-stage .sounding'));
  assert.match(await text('.player-status'), /moves a minute/);
  await page.keyboard.press('p');
}));

test('a core over two rounds is counted on: one count is marked at a time, the one that sounds', () => withPage(address('practice', 'tangos-the-broom.html'), async ({ page, inside }) => {
  await page.locator('.player-tasks input[value=tempo]').check();
  await inside(() => {
    const [one] = Compasario.players;
    one.state.lead = false;
    one.steps = Compasario.ladder.ladder([{ tempo: 300 }]);
    one.climb = Compasario.ladder.begin(one.steps);
  });
  await page.focus('.player-play');
  await page.keyboard.press('p');
  const seen = await inside(() => new Promise((done) => {
    const found = new Map();
    const look = () => {
      const now = document.querySelector('.player-count').textContent;
      const [drawing] = document.querySelectorAll('.player-stage .drawing-wide');
      if (now) {
        found.set(now, [...drawing.querySelectorAll('.present text')].map((text) => text.textContent).join(' '));
      }
      return found.size < 8 ? requestAnimationFrame(look) : done([...found]);
    };
    look();
    setTimeout(() => done([...found]), 9000);
  }));
  assert.deepEqual(seen.map(([now, marked]) => `${now}: ${marked}`).sort(), [1, 2, 3, 4, 5, 6, 7, 8].map((count) => `${count}: ${count}`));
  await page.keyboard.press('p');
}));
