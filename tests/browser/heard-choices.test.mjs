/* What is heard is the student's choice: palmas in two layers, the click in five places, the hands, silent vueltas; and all of
 * it by keyboard alone. SITE=folder node --test tests/browser/heard-choices.test.mjs (without SITE: the committed demo). */
import assert from 'node:assert/strict';
import path from 'node:path';
import { after, before, test } from 'node:test';
import { open } from './player-page.mjs';

const SITE = path.resolve(process.env.SITE ?? path.join(import.meta.dirname, '../../site'));
const address = (...names) => 'file://' + path.join(SITE, ...names);

let at;
before(async () => {
  at = await open(address('practice', 'alegrias-shutters-up.html'), { viewport: { width: 360, height: 800 } });
  await at.page.locator('.player-tasks input[value=tempo]').check();
  await at.page.evaluate(() => {
    document.querySelectorAll('.player details').forEach((one) => { one.open = true; });
    Compasario.players[0].state.lead = false;
  });
});
after(async () => {
  await at.browser.close();
  assert.deepEqual(at.noted.errors, [], 'nothing on the console');
  assert.deepEqual(at.noted.requests, [], 'nothing asked of the network');
});

const inside = (what, value) => at.page.evaluate(what, value);
async function playing(act) {
  await at.page.focus('.player-play');
  await at.page.keyboard.press('p');
  await at.page.waitForFunction(() => Compasario.players[0].session && Compasario.players[0].session.transport);
  const found = await act();
  await at.page.focus('.player-play');
  await at.page.keyboard.press('p');
  return found;
}

/** The counts of a vuelta on which something is laid, of one kind; halves as they are. */
const laid = (kind) => playing(() => inside((wanted) => {
  const [round] = Compasario.players[0].session.transport.rounds;
  return round.items.filter((item) => item.kind === wanted && (wanted !== 'clap' || item.clap)).map((item) => item.at + 1);
}, kind));

test('the click falls where it is wanted', async () => {
  const everyCount = Array.from({ length: 12 }, (_, n) => n + 1);
  const table = {
    none: [],
    counts: everyCount,
    accents: [3, 6, 8, 10, 12],
    between: everyCount.map((count) => count + 0.5),
    once: [1],
  };
  for (const [where, expected] of Object.entries(table)) {
    await at.page.getByLabel('Click on').selectOption(where);
    assert.deepEqual(await laid('click'), expected, where);
  }
});

test('base and contras of the palmas are there, each with its own level', async () => {
  const gains = () => inside(() => {
    const { voices } = Compasario.players[0].session.board;
    return ['base', 'contra'].map((voice) => Math.round((voices[voice].gain.value / Compasario.sound.VOICES[voice].gain) * 100));
  });
  await at.page.getByLabel('Palmas, contras', { exact: true }).check();
  await at.page.getByLabel('Palmas, base, loudness').fill('90');
  await at.page.getByLabel('Palmas, contras, loudness').fill('35');
  const found = await playing(async () => {
    await at.page.waitForTimeout(300);
    return gains();
  });
  assert.deepEqual(found, [90, 35]);
  await at.page.getByLabel('Palmas, base', { exact: true }).uncheck();
  const alone = await playing(async () => {
    await at.page.waitForTimeout(300);
    return gains();
  });
  assert.deepEqual(alone, [0, 35]);
});

test('what is heard is as it was left, on the next day', async () => {
  await at.page.reload();
  const held = await inside(() => {
    const { on, loud, click } = Compasario.players[0].state;
    return [on.base, on.contra, loud.base, loud.contra, click];
  });
  assert.deepEqual(held, [false, true, 90, 35, 'once']);
  await inside(() => {
    document.querySelectorAll('.player details').forEach((one) => { one.open = true; });
    Compasario.players[0].state.lead = false;
  });
  assert.equal(await at.page.getByLabel('Palmas, contras', { exact: true }).isChecked(), true);
  await at.page.getByLabel('Palmas, base', { exact: true }).check();
});

test('the right hand alone is on damped strings, the left alone sounds only what it puts down or slurs', async () => {
  await at.page.locator('.player-tasks input[value=learn]').check();
  await at.page.locator('.player-panel:not([hidden]) select').first().selectOption('core');
  const hand = at.page.getByLabel('Hands').first();
  const touches = {};
  for (const hands of ['both', 'right', 'left']) {
    await hand.selectOption(hands);
    touches[hands] = await playing(async () => {
      await at.page.waitForFunction(() => Compasario.players[0].session.board.laid.some((one) => one.voice === 'guitar'));
      return inside(() => [...new Set(Compasario.players[0].session.board.laid.filter((one) => one.voice === 'guitar').map((one) => one.what.touch))]);
    });
  }
  assert.ok(!touches.both.includes('damped') && touches.both.length > 0, touches.both.join());
  assert.deepEqual([touches.right, touches.left], [['damped'], ['slur']]);
  await hand.selectOption('both');
});

test('every fourth vuelta is silent when that is wanted, and says so', async () => {
  await at.page.locator('.player-tasks input[value=mix]').check();
  await at.page.getByLabel('Vueltas without sound').last().selectOption('hold');
  await inside(() => Compasario.players[0].setTempo(900));
  const heard = await playing(async () => {
    await at.page.waitForFunction(() => document.querySelector('.player-next').textContent === 'Hold the compás', null, { timeout: 15000 });
    return inside(() => {
      const one = Compasario.players[0];
      return [one.round.turn, ['guitar', 'golpe', 'base', 'contra', 'click'].filter((voice) => one.round.heard[voice] !== false)];
    });
  });
  assert.deepEqual(heard, [3, []]);
});

test('everything in the player is reached by the tab key, in sight, with its focus drawn', async () => {
  await at.page.locator('.player-tasks input[value=learn]').check();
  const wanted = await inside(() => {
    const all = [...document.querySelector('.player').querySelectorAll('button, select, input:not([tabindex="-1"]), summary')];
    const seen = all.filter((one) => one.offsetParent !== null && !(one.type === 'radio' && !one.checked));
    seen.forEach((one, n) => { one.dataset.place = n; });
    return seen.length;
  });
  // The page scrolls softly unless less motion is wanted.
  await at.page.emulateMedia({ reducedMotion: 'reduce' });
  await at.page.focus('.player-play');
  await at.page.keyboard.press('Shift+Tab');
  const reached = [];
  for (let n = 0; n < wanted; n += 1) {
    reached.push(await inside(() => {
      const one = document.activeElement;
      const { outlineStyle, outlineWidth } = getComputedStyle(one);
      const box = one.getBoundingClientRect();
      const drawn = outlineStyle !== 'none' && parseFloat(outlineWidth) >= 2;
      return [Number(one.dataset.place), drawn, box.bottom > 0 && box.top < innerHeight && box.left >= 0 && box.right <= innerWidth + 1];
    }));
    await at.page.keyboard.press('Tab');
  }
  assert.ok(wanted > 25, String(wanted));
  assert.deepEqual(reached.map(([place]) => place), Array.from({ length: wanted }, (_, n) => n));
  assert.deepEqual(reached.filter(([, drawn, inSight]) => !drawn || !inSight), []);
});
