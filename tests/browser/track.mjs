/* Plays a line of a built practice page in Chromium's offline audio context, every slider full, and writes what is heard.
 *
 *   node track.mjs PAGE.html CHOICE OUT
 *
 * CHOICE is JSON: {play, tempo, palmas, click, hands, times}, the words of `export --to wav`. Writes OUT: left and right in
 * turn, 32-bit floats at 44.1 kHz, beginning with the first moment of the line.
 */
import fs from 'node:fs';
import path from 'node:path';
import { browser as launch } from './browser.mjs';
import { ASSETS } from './player-page.mjs';

const PURE = ['clock', 'score', 'touch', 'strings', 'noises', 'sound', 'transport', 'ladder', 'tasks'];

async function main([file, choice, out]) {
  const html = fs.readFileSync(file, 'utf8');
  const data = JSON.parse(html.split('data-score="practice">')[1].split('</script>')[0]);
  const browser = await launch();
  const page = await browser.newPage();
  await page.goto('about:blank');
  for (const name of PURE) {
    await page.addScriptTag({ path: path.join(ASSETS, `player-${name}.js`) });
  }
  const length = await page.evaluate(play, { data, choice: JSON.parse(choice) });
  const written = fs.createWriteStream(out);
  for (let at = 0; at < length; at += 441000) {
    written.write(Buffer.from(await page.evaluate(samples, at), 'base64'));
  }
  await new Promise((done) => written.end(done));
  await browser.close();
}

/** In the page: the player's transport on an offline audio context, pumped as on a page. */
async function play({ data, choice }) {
  const home = globalThis.Compasario;
  const { book } = data;
  const scores = home.tasks.vueltas(book, choice.play);
  const perMinute = choice.tempo * book.tempo.unit_pulses;
  const pulses = scores.reduce((sum, score) => sum + score.length, 0) * choice.times;
  const start = 0.25;
  const seconds = start + (pulses * 60) / perMinute + 2;
  const context = new OfflineAudioContext(2, Math.ceil(seconds * 44100), 44100);
  const board = home.sound.board(context, { a4: 440, capo: home.tasks.capoOf(data, choice.play) });
  const both = choice.palmas === 'both';
  const heard = { base: both || choice.palmas === 'base', contra: both || choice.palmas === 'contra' };
  const settings = { click: choice.click, hands: choice.hands, tuning: book.strings.tuning };
  const rounds = choice.times * scores.length;
  const programme = (index) => (index < rounds ? { score: scores[index % scores.length], heard } : null);
  const transport = home.transport.transport(board, programme, settings);
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
  const [left, right] = [buffer.getChannelData(0), buffer.getChannelData(1)];
  const first = Math.round(start * 44100);
  globalThis.heard = new Float32Array(2 * (buffer.length - first));
  for (let n = first; n < buffer.length; n += 1) {
    globalThis.heard[2 * (n - first)] = left[n];
    globalThis.heard[2 * (n - first) + 1] = right[n];
  }
  return globalThis.heard.length;
}

/** In the page: samples from a place on, as base64. */
function samples(at) {
  const bytes = new Uint8Array(globalThis.heard.slice(at, at + 441000).buffer);
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
