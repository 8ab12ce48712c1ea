// Checks every page of a built site in a real browser: node check.mjs SITE
// HTML, CSS and SVG by the Nu checker; accessibility by axe at 1280 and 320 CSS pixels, the contrast in dark as well;
// no console message, no request outside the folder, no page wider than 320 pixels. Exit status 1 on any fault.
import { spawn } from "node:child_process";
import { createRequire } from "node:module";
import { availableParallelism } from "node:os";
import { readFileSync, readdirSync } from "node:fs";
import { join, resolve } from "node:path";
import { pathToFileURL } from "node:url";
import { browser } from "./browser.mjs";

const require = createRequire(import.meta.url);
const site = resolve(process.argv[2]);
const home = pathToFileURL(site).href;
const faults = [];

const pages = readdirSync(site, { recursive: true })
  .filter((name) => name.endsWith(".html"))
  .sort();

/** The Nu checker on the whole folder, while the browser is at work. */
const standards = new Promise((done) => {
  const nu = spawn("java", ["-Xss4m", "-jar", require("vnu-jar"), "--format", "gnu", "--also-check-css", "--also-check-svg", "--skip-non-html", site]);
  let told = "";
  nu.stderr.on("data", (text) => (told += text));
  nu.on("error", (error) => done([`the Nu checker did not run: ${error.message}`]));
  // Its list of CSS properties is older than these.
  const unknown = /“paint-order”: Property|“container-type”: Property|Unrecognized at-rule “@container”/;
  nu.on("close", () => done(told.split("\n").filter((line) => line && !unknown.test(line))));
});

const axe = readFileSync(require.resolve("axe-core/axe.min.js"), "utf8");
const all = { type: "tag", values: ["wcag2a", "wcag2aa", "wcag21a", "wcag21aa", "wcag22aa", "best-practice"] };
const contrast = { type: "rule", values: ["color-contrast"] };

async function look(tab, page) {
  await tab.setViewportSize({ width: 1280, height: 900 });
  await tab.emulateMedia({ colorScheme: "light" });
  await tab.goto(pathToFileURL(join(site, page)).href);
  await tab.evaluate(() => document.querySelectorAll("details").forEach((details) => (details.open = true)));
  await tab.evaluate(axe);
  await judge(tab, `${page} at 1280`, all);
  await tab.emulateMedia({ colorScheme: "dark" });
  await judge(tab, `${page} in the dark`, contrast);
  await tab.emulateMedia({ colorScheme: "light" });
  await tab.setViewportSize({ width: 320, height: 900 });
  const wide = await tab.evaluate(() => document.documentElement.scrollWidth - document.documentElement.clientWidth);
  if (wide > 0) faults.push(`${page} at 320: ${wide} pixels too wide`);
  await judge(tab, `${page} at 320`, all);
}

async function judge(tab, where, runOnly) {
  const { violations } = await tab.evaluate((runOnly) => axe.run(document, { runOnly, resultTypes: ["violations"], preload: false }), runOnly);
  for (const { id, nodes } of violations) {
    for (const node of nodes.slice(0, 3)) faults.push(`${where}: ${id}: ${node.html.slice(0, 160)} ${node.any.map((any) => any.message).join("; ")}`);
  }
}

const chromium = await browser();
const waiting = [...pages];
async function worker() {
  const tab = await chromium.newPage();
  let page = "";
  tab.on("console", (message) => faults.push(`${page}: console: ${message.text()}`));
  tab.on("pageerror", (error) => faults.push(`${page}: ${error}`));
  tab.on("request", (request) => {
    if (!request.url().startsWith(home)) faults.push(`${page}: asks for ${request.url()}`);
  });
  tab.on("requestfailed", (request) => faults.push(`${page}: did not get ${request.url()}`));
  while ((page = waiting.shift())) await look(tab, page);
  await tab.close();
}
await Promise.all(Array.from({ length: Math.min(2, availableParallelism()) }, worker));
await chromium.close();
faults.push(...(await standards).map((line) => line.replace(home, "")));
for (const fault of faults.sort()) console.log(fault);
console.log(`${pages.length} pages, ${faults.length} faults`);
process.exit(faults.length ? 1 : 0);
