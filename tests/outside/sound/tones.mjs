/* Writes the player's sounds as raw samples (mono, 44.1 kHz), for pitch.py: node tones.mjs FOLDER
 * Every string, open and at every fret up to 12, in every touch that has a pitch; golpe, palmas and click in every take. */
import fs from 'node:fs';
import path from 'node:path';
import '../../../templates/assets/player-strings.js';
import '../../../templates/assets/player-noises.js';

const { strings, noises } = globalThis.Compasario;
const RATE = 44100;
const OPEN = [64, 59, 55, 50, 45, 40];
const [folder] = process.argv.slice(2);
fs.mkdirSync(folder, { recursive: true });
const listed = [];

function write(name, samples, about) {
  fs.writeFileSync(path.join(folder, name + '.f32'), Buffer.from(samples.buffer, samples.byteOffset, samples.byteLength));
  listed.push({ name, ...about });
}

for (const touch of ['free', 'rest', 'strum', 'thumb', 'slur']) {
  for (let string = 1; string <= 6; string += 1) {
    for (let fret = 0; fret <= 12; fret += 1) {
      const midi = OPEN[string - 1] + fret;
      for (const a4 of fret === 0 ? [440, 415, 442] : [440]) {
        const samples = strings.pluck(RATE, string, strings.hertz(midi, a4), touch);
        write(`${touch}-${string}-${fret}-${a4}`, samples, { touch, string, midi, a4 });
      }
    }
  }
}
for (const name of Object.keys(noises.NOISES)) {
  for (let take = 0; take < noises.TAKES; take += 1) {
    write(`${name}-${take}`, noises.noise(RATE, name, take), { noise: name });
  }
}
fs.writeFileSync(path.join(folder, 'list.json'), JSON.stringify(listed));
