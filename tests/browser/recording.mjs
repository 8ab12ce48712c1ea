// Plays the recording of a lesson in a built site: node recording.mjs SITE
// The site is one built with its recordings copied; a file of silence is put where the recording belongs.
// Exit status 1 when a moment does not open, the speed does not change, the pitch would, or a passage does not repeat.
import assert from "node:assert/strict";
import { mkdirSync, readFileSync, readdirSync, writeFileSync } from "node:fs";
import { dirname, join, resolve } from "node:path";
import { pathToFileURL } from "node:url";
import { browser } from "./browser.mjs";

const site = resolve(process.argv[2]);
const pages = readdirSync(join(site, "lessons")).map((name) => join("lessons", name));
const page = pages.find((name) => /<audio/.test(readFileSync(join(site, name), "utf8")));
assert.ok(page, "no lesson of this site has a recording to play");

// Twenty minutes of silence, mono, 8 bits, 8,000 a second: a WAV file by the format's published header.
function silence(seconds) {
  const data = 8000 * seconds;
  const wav = Buffer.alloc(44 + data, 128);
  wav.write("RIFF", 0);
  wav.writeUInt32LE(36 + data, 4);
  wav.write("WAVEfmt ", 8);
  wav.writeUInt32LE(16, 16);
  wav.writeUInt16LE(1, 20);
  wav.writeUInt16LE(1, 22);
  wav.writeUInt32LE(8000, 24);
  wav.writeUInt32LE(8000, 28);
  wav.writeUInt16LE(1, 32);
  wav.writeUInt16LE(8, 34);
  wav.write("data", 36);
  wav.writeUInt32LE(data, 40);
  return wav;
}

const chromium = await browser();
const tab = await chromium.newPage();
const errors = [];
tab.on("pageerror", (error) => errors.push(String(error)));
const source = readFileSync(join(site, page), "utf8").match(/<audio[^>]* src="([^"]+)"/)[1];
const file = join(site, dirname(page), source);
mkdirSync(dirname(file), { recursive: true });
writeFileSync(file, silence(1200));
await tab.goto(pathToFileURL(join(site, page)).href);

const media = (expression) => tab.evaluate(`(function (media) { return ${expression}; })(document.querySelector("[data-recording] audio"))`);
const links = await tab.$$("a.moment[data-seconds]");
const seconds = await Promise.all(links.map((link) => link.getAttribute("data-seconds").then(Number)));
const chosen = seconds.findIndex((second) => second > 10);
assert.ok(chosen >= 0, "no moment to open");

// By keyboard, as any link.
await links[chosen].focus();
await tab.keyboard.press("Enter");
await tab.waitForFunction((from) => document.querySelector("[data-recording] audio").currentTime >= from, seconds[chosen]);
const at = await media("media.currentTime");
assert.ok(at - seconds[chosen] < 2, `opened at ${at}, not at ${seconds[chosen]}`);
assert.equal(await media("media.paused"), false);
assert.equal(await media("media.preservesPitch"), true);

await tab.selectOption("[data-speed]", "0.6");
assert.equal(await media("media.playbackRate"), 0.6);

// The passage ends where the next moment begins; looped, it turns back.
const next = [...seconds].sort((a, b) => a - b).find((second) => second >= seconds[chosen] + 3);
await tab.click("[data-loop]");
assert.equal(await tab.getAttribute("[data-loop]", "aria-pressed"), "true");
await media(`media.currentTime = ${next - 0.2}`);
await tab.waitForFunction((from) => document.querySelector("[data-recording] audio").currentTime < from + 2, seconds[chosen]);
assert.equal(await media("media.paused"), false);

assert.deepEqual(errors, []);
await chromium.close();
console.log(`${page}: moment ${seconds[chosen]} s opens, slows at pitch, repeats until ${next} s`);
