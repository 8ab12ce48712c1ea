/* Plays the player's own transport in Chromium's offline audio context and writes what is heard as raw samples.
 *
 *   node heard.mjs VOICE COMPASES FOLDER [TEMPO]
 *
 * VOICE: golpe, click, base (claras), contra (sordas), pluck (single notes), strum (six files, one a string).
 * Writes FOLDER/NAME.f32 (mono, 44.1 kHz) and FOLDER/NAME.json (the written moment of every sound).
 * The transport is pumped as it is on a page: a little ahead, again and again, by the audio clock.
 */
import fs from 'node:fs';
import path from 'node:path';
import { browser as launch } from './browser.mjs';
import { ASSETS } from './player-page.mjs';
import { measured } from '../player/books.mjs';

const PURE = ['clock', 'score', 'touch', 'strings', 'noises', 'sound', 'transport', 'ladder', 'tasks'];

async function main([voice, compases, folder, tempo]) {
  const browser = await launch();
  const page = await browser.newPage();
  await page.goto('about:blank');
  for (const name of PURE) {
    await page.addScriptTag({ path: path.join(ASSETS, `player-${name}.js`) });
  }
  const book = measured(voice);
  const perMinute = Number(tempo) || book.tempo.goal;
  const start = 0.25;
  const seconds = start + (Number(compases) * 12 * 60) / perMinute + 0.5;
  const names = await page.evaluate(play, { book, voice, compases: Number(compases), perMinute, start, seconds });
  fs.mkdirSync(folder, { recursive: true });
  for (const [channel, name] of names.entries()) {
    const out = fs.createWriteStream(path.join(folder, name + '.f32'));
    for (let at = 0; at < Math.ceil(seconds * 44100); at += 441000) {
      out.write(Buffer.from(await page.evaluate(samples, { channel, at }), 'base64'));
    }
    await new Promise((done) => out.end(done));
    const told = await page.evaluate((one) => ({ log: globalThis.log, counts: globalThis.counts, written: globalThis.written[one] }), channel);
    fs.writeFileSync(path.join(folder, name + '.json'), JSON.stringify({ name, perMinute, ...told }));
  }
  await browser.close();
}

/** In the page: the player's transport, on an offline audio context; for a strum each string on a channel of its own. */
async function play({ book, voice, compases, perMinute, start, seconds }) {
  const home = globalThis.Compasario;
  const channels = voice === 'strum' ? 6 : 1;
  const context = new OfflineAudioContext(channels, Math.ceil(seconds * 44100), 44100);
  const merger = context.createChannelMerger(channels);
  merger.connect(context.destination);
  const boards = Array.from({ length: channels }, (_, channel) => {
    const out = context.createGain();
    out.channelCount = 1;
    out.channelCountMode = 'explicit';
    out.connect(merger, 0, channel);
    return home.sound.board(context, { a4: 440, capo: 0, out });
  });
  const score = home.score.layOut(book, 'core');
  const only = { guitar: false, golpe: false, base: false, contra: false, click: false };
  only[voice === 'pluck' || voice === 'strum' ? 'guitar' : voice] = true;
  const settings = { click: voice === 'click' ? 'counts' : 'none', hands: 'both', tuning: book.strings.tuning };
  const programme = (index) => (index < compases ? { score, heard: only } : null);
  const transport = home.transport.transport(boards[0], programme, settings);
  globalThis.written = boards.map(() => []);
  globalThis.counts = Array.from({ length: compases * 12 }, (_, n) => start + (n * 60) / perMinute);
  if (voice === 'strum') {
    const lay = home.sound.sound;
    home.sound.sound = (board, touch, second) => lay(boards[touch.string - 1], touch, second);
    const end = home.sound.damp;
    home.sound.damp = (board, second) => boards.forEach((one) => end(one, second));
    // Where each string has to be: the first on its count, the others at the stated gap.
    for (let n = 0; n < compases * 12; n += 1) {
      for (let string = 1; string <= 6; string += 1) {
        const after = n % 2 ? (string - 1) * 0.004 : (6 - string) * 0.005;
        globalThis.written[string - 1].push(globalThis.counts[n] + after);
      }
    }
  } else {
    globalThis.written[0] = globalThis.counts;
  }
  home.sound.ready(boards[0], home.transport.jobsOf(score, settings), 1e9);
  home.transport.begin(transport, start, perMinute);
  const pump = () => home.transport.pump(transport, context.currentTime, home.transport.AHEAD.seen);
  pump();
  for (let second = 0.25; second < seconds - 0.01; second += 0.25) {
    context.suspend(second).then(() => {
      pump();
      context.resume();
    });
  }
  const buffer = await context.startRendering();
  globalThis.heard = boards.map((_, channel) => buffer.getChannelData(channel));
  globalThis.log = transport.log;
  return channels === 1 ? [voice] : boards.map((_, channel) => voice + '-' + (channel + 1));
}

/** In the page: ten seconds of samples from a place on, as base64. */
function samples({ channel, at }) {
  const bytes = new Uint8Array(globalThis.heard[channel].slice(at, at + 441000).buffer);
  let text = '';
  for (let n = 0; n < bytes.length; n += 32768) {
    text += String.fromCharCode(...bytes.subarray(n, n + 32768));
  }
  return btoa(text);
}

main(process.argv.slice(2)).catch((error) => {
  console.error(error);
  process.exit(1);
});
