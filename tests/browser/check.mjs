// Checks every page of a built site in a real browser: node check.mjs SITE
// HTML, CSS and SVG by the Nu checker; accessibility by axe in light and dark at 1280 and 320 CSS pixels;
// no console message, no request outside the folder, no page wider than 320 pixels. Exit status 1 on any fault.
import { spawnSync } from "node:child_process";
import { createRequire } from "node:module";
import { readFileSync, readdirSync } from "node:fs";
import { join, resolve } from "node:path";
import { pathToFileURL } from "node:url";
import { browser } from "./browser.mjs";

const require = createRequire(import.meta.url);
const site = resolve(process.argv[2]);
const faults = [];

const pages = readdirSync(site, { recursive: true })
  .filter((name) => name.endsWith(".html"))
  .sort();

const nu = spawnSync("java", ["-Xss4m", "-jar", require("vnu-jar"), "--format", "gnu", "--also-check-css", "--also-check-svg", "--skip-non-html", site], { encoding: "utf8", maxBuffer: 1 << 28 });
// The Nu checker's list of CSS properties is older than these three.
const unknown = /“paint-order”: Property|“container-type”: Property|Unrecognized at-rule “@container”/;
for (const line of nu.stderr.split("\n").filter((line) => line && !unknown.test(line))) faults.push(line.replace(pathToFileURL(site).href, ""));

const axe = readFileSync(require.resolve("axe-core/axe.min.js"), "utf8");
const chromium = await browser();
const rules = ["wcag2a", "wcag2aa", "wcag21a", "wcag21aa", "wcag22aa", "best-practice"];
for (const page of pages) {
  for (const [width, colorScheme] of [[1280, "light"], [1280, "dark"], [320, "light"], [320, "dark"]]) {
    const where = `${page} at ${width}, ${colorScheme}`;
    const tab = await chromium.newPage({ viewport: { width, height: 900 }, colorScheme });
    tab.on("console", (message) => faults.push(`${where}: console: ${message.text()}`));
    tab.on("pageerror", (error) => faults.push(`${where}: ${error}`));
    tab.on("request", (request) => {
      if (!request.url().startsWith(pathToFileURL(site).href)) faults.push(`${where}: asks for ${request.url()}`);
    });
    tab.on("requestfailed", (request) => faults.push(`${where}: did not get ${request.url()}`));
    await tab.goto(pathToFileURL(join(site, page)).href);
    await tab.evaluate(() => document.querySelectorAll("details").forEach((details) => (details.open = true)));
    const wide = await tab.evaluate(() => document.documentElement.scrollWidth - document.documentElement.clientWidth);
    if (wide > 0) faults.push(`${where}: ${wide} pixels too wide`);
    await tab.evaluate(axe);
    const { violations } = await tab.evaluate((values) => axe.run(document, { runOnly: { type: "tag", values }, resultTypes: ["violations"], preload: false }), rules);
    for (const { id, nodes } of violations) {
      for (const node of nodes.slice(0, 3)) faults.push(`${where}: ${id}: ${node.html.slice(0, 160)} ${node.any.map((any) => any.message).join("; ")}`);
    }
    await tab.close();
  }
}
await chromium.close();
for (const fault of faults) console.log(fault);
console.log(`${pages.length} pages, ${faults.length} faults`);
process.exit(faults.length ? 1 : 0);
