// The preview in a real browser: node preview.mjs PROGRAM NOTES
// A copy of the notes is served; a note is saved, broken, mended; the page has to follow, at the place where one is reading.
import assert from "node:assert/strict";
import { spawn } from "node:child_process";
import { appendFileSync, cpSync, mkdtempSync, readFileSync, readdirSync, renameSync, rmSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { join, resolve } from "node:path";
import { browser } from "./browser.mjs";

const [program, notes] = process.argv.slice(2);
const folder = mkdtempSync(join(tmpdir(), "preview-"));
cpSync(notes, folder, { recursive: true });

const serving = spawn(resolve(program), ["preview", folder], { stdio: ["ignore", "pipe", "pipe"] });
let said = "";
const address = await new Promise((done, fail) => {
  serving.stderr.on("data", (data) => {
    said += data;
    const found = said.match(/http:\/\/127\.0\.0\.1:\d+\//);
    if (found) done(found[0]);
  });
  serving.on("exit", () => fail(new Error(`the preview ended:\n${said}`)));
});
// A test that fails leaves nothing running.
process.on("exit", () => serving.kill("SIGKILL"));
const ended = new Promise((done) => serving.on("exit", (code, signal) => done({ code, signal })));

const chromium = await browser();
const tab = await chromium.newPage({ viewport: { width: 1000, height: 600 } });
const troubles = [];
const foreign = [];
tab.on("console", (message) => message.type() === "error" && troubles.push(message.text()));
tab.on("pageerror", (error) => troubles.push(String(error)));
tab.on("request", (request) => request.url().startsWith(address) || foreign.push(request.url()));

// The longest lesson page, scrolled to its middle.
const longest = readdirSync(folder).filter((name) => name.endsWith(".notes.txt")).sort((one, two) => readFileSync(join(folder, two)).length - readFileSync(join(folder, one)).length)[0];
const note = join(folder, longest);
await tab.goto(address);
const link = await tab.evaluate((stem) => [...document.querySelectorAll("a")].map((a) => a.href).find((href) => href.includes(stem)), longest.split(".")[0]);
assert.ok(link, `the first page leads to ${longest}`);
await tab.goto(link);
const original = readFileSync(note, "utf8");

async function place() {
  return tab.evaluate(() => {
    const near = [...document.querySelectorAll("main [id]")].find((thing) => thing.getBoundingClientRect().top > 0);
    return { id: near?.id, top: near?.getBoundingClientRect().top, scrolled: scrollY };
  });
}

async function saved(save, shows) {
  const begin = performance.now();
  save();
  await tab.waitForFunction(shows, undefined, { polling: 10, timeout: 20000 });
  return performance.now() - begin;
}

const times = [];
await tab.evaluate(() => scrollTo(0, document.documentElement.scrollHeight / 2));
// 1. Something at the top grows; what one reads stays under one's eyes.
for (let round = 1; round <= 5; round += 1) {
  const before = await place();
  const title = `A title for the ${round}th time, so long that it takes a line more or two than the one before: `.repeat(round);
  const text = original.replace(/^title:.*$/m, `title: ${title}`);
  assert.notEqual(text, original);
  const write = round % 2 ? () => writeFileSync(note, text) : () => (writeFileSync(`${note}.tmp`, text), renameSync(`${note}.tmp`, note));
  times.push(await saved(write, `document.title.includes("the ${round}th time")`));
  await tab.waitForLoadState("load");
  await tab.waitForTimeout(100);
  const top = await tab.evaluate((id) => document.getElementById(id).getBoundingClientRect().top, before.id);
  assert.ok(Math.abs(top - before.top) <= 2, `round ${round}: what stood at ${before.top} stands at ${top}`);
  assert.ok(before.scrolled > 300, "the page is scrolled");
}
assert.ok(Math.max(...times) < 1000, `from saving to seeing: ${times.map(Math.round)} ms`);

// 2. A finding is shown in the page and in the terminal; a mended note takes it away.
const findings = `document.getElementById("compasario-preview")?.shadowRoot?.textContent ?? ""`;
await tab.waitForTimeout(200);
const atFirst = await tab.evaluate(findings);
await saved(() => appendFileSync(note, "\n[0:01] <b>the end</b>\n"), `(${findings}).includes("0:01")`);
assert.ok(said.includes("comes after"), "the terminal says it too");
assert.equal(await tab.evaluate(`document.getElementById("compasario-preview").shadowRoot.querySelectorAll("b").length`), 0);
await saved(() => writeFileSync(note, original), `(${findings}) === ${JSON.stringify(atFirst)} && !document.title.includes("th time")`);

// 3. A broken note keeps the last good page up.
const heading = await tab.evaluate(() => document.querySelector("h1").textContent);
await saved(() => writeFileSync(note, Buffer.from([0x61, 0xe1, 0x0a])), `(${findings}).includes("cannot be shown as they are")`);
await tab.reload();
assert.equal(await tab.evaluate(() => document.querySelector("h1").textContent), heading);
assert.equal(await tab.evaluate(async () => (await fetch(location.href)).status), 200);
await saved(() => writeFileSync(note, original), `!(${findings}).includes("cannot be shown as they are")`);

// 4. A note that is gone takes its page with it; when it is back, so is the page, by itself.
await saved(() => renameSync(note, join(folder, "_away.txt")), `document.body.textContent.includes("no such page")`);
await saved(() => renameSync(join(folder, "_away.txt"), note), `document.querySelector("h1")?.textContent === ${JSON.stringify(heading)}`);

// 5. The findings can be folded by keyboard and stay so.
await saved(() => appendFileSync(note, "\n[0:01] the end\n"), `(${findings}).includes("0:01")`);
await tab.evaluate(`document.getElementById("compasario-preview").shadowRoot.querySelector("summary").focus()`);
await tab.keyboard.press("Enter");
await tab.reload();
await tab.waitForFunction(`document.getElementById("compasario-preview")?.shadowRoot?.querySelector("details")?.open === false`);

// 6. Ctrl-C ends it cleanly, with the page open.
const begin = performance.now();
serving.kill("SIGINT");
const end = await ended;
assert.deepEqual(end, { code: 0, signal: null });
assert.ok(performance.now() - begin < 2000);
await chromium.close();
rmSync(folder, { recursive: true });
const expected = /404 \(Not Found\)|ERR_(CONNECTION_REFUSED|INCOMPLETE_CHUNKED_ENCODING|EMPTY_RESPONSE|CONNECTION_RESET)/;
assert.deepEqual(troubles.filter((trouble) => !expected.test(trouble)), []);
assert.deepEqual(foreign, []);
console.log(`preview: from saving to seeing ${times.map(Math.round).join(", ")} ms; place kept; broken notes, findings and Ctrl-C as they should be`);
