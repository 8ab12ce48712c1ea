// Takes pictures of pages of a built site, to be looked at: node pictures.mjs SITE OUT [PAGE ...]
// Each page at 1280 and 360 CSS pixels, light and dark, and as it prints.
import { mkdirSync } from "node:fs";
import { resolve } from "node:path";
import { pathToFileURL } from "node:url";
import { browser } from "./browser.mjs";

const [site, out, ...pages] = process.argv.slice(2);
mkdirSync(out, { recursive: true });
const chromium = await browser();
for (const page of pages) {
  const address = pathToFileURL(resolve(site, page)).href;
  const name = page.replace(/[/#]/g, "_").replace(/\.html/, "");
  for (const width of [1280, 360]) {
    for (const colorScheme of ["light", "dark"]) {
      const tab = await chromium.newPage({ viewport: { width, height: 900 }, colorScheme, deviceScaleFactor: width === 360 ? 2 : 1 });
      await tab.goto(address);
      await tab.screenshot({ path: `${out}/${name}-${width}-${colorScheme}.png`, fullPage: true });
      await tab.close();
    }
  }
  const tab = await chromium.newPage({ viewport: { width: 1280, height: 900 } });
  await tab.goto(address);
  await tab.pdf({ path: `${out}/${name}.pdf`, format: "A4", margin: { top: "15mm", bottom: "15mm", left: "16mm", right: "16mm" } });
  await tab.close();
}
await chromium.close();
