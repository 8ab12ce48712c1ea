/* Writes tests/player/tones.json: samples of the player's sounds, which the Rust model is held against (tests/sound.rs).
 * Run with `node tests/player/tone-table.mjs > tests/player/tones.json` after a change of the model, and look at the
 * change; the test beside it fails as long as the table is not what the scripts give. */
import { fileURLToPath } from 'node:url';
import '../../templates/assets/player-strings.js';
import '../../templates/assets/player-noises.js';

const { strings, noises } = globalThis.Compasario;
const RATE = 44100;

/** A few samples from all over a sound. */
function picked(samples) {
  const at = [];
  for (let n = 1; n < samples.length; n = Math.ceil(n * 1.4)) {
    at.push(n);
  }
  return at.map((n) => [n, Number(samples[n].toPrecision(7))]);
}

export function table() {
  const tones = [];
  const open = [64, 59, 55, 50, 45, 40];
  for (const touch of Object.keys(strings.TOUCHES)) {
    for (const [string, fret] of [[1, 0], [1, 12], [2, 1], [3, 2], [4, 4], [5, 0], [6, 3]]) {
      const midi = open[string - 1] + fret;
      const samples = strings.pluck(RATE, string, strings.hertz(midi, 440), touch);
      tones.push({ touch, string, midi, length: samples.length, samples: picked(samples) });
    }
  }
  const sounds = [];
  for (const name of Object.keys(noises.NOISES)) {
    for (let take = 0; take < noises.TAKES; take += 1) {
      const samples = noises.noise(RATE, name, take);
      sounds.push({ name, take, length: samples.length, samples: picked(samples) });
    }
  }
  return { tones, noises: sounds };
}

if (process.argv[1] === fileURLToPath(import.meta.url)) {
  const rows = (list) => list.map((one) => '    ' + JSON.stringify(one)).join(',\n');
  const { tones, noises: sounds } = table();
  process.stdout.write(`{\n  "tones": [\n${rows(tones)}\n  ],\n  "noises": [\n${rows(sounds)}\n  ]\n}\n`);
}
