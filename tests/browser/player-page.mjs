/* A page with a player, written into a folder of its own and opened from there as a student would: by file address. */
import fs from 'node:fs';
import os from 'node:os';
import path from 'node:path';
import { browser as launch } from './browser.mjs';

export const ASSETS = path.join(import.meta.dirname, '../../templates/assets');

/** The scripts in the order that the site includes them: src/pages/player_files.rs says it. */
export function scripts() {
  const listed = fs.readFileSync(path.join(import.meta.dirname, '../../src/pages/player_files.rs'), 'utf8');
  return [...listed.matchAll(/script!\("(player[a-z-]*\.js)"/g)].map((found) => found[1]);
}

function drawing(pattern, strokes) {
  const groups = Array.from({ length: strokes }, (_, n) =>
    `<g class="stroke" data-stroke="${n}"><path class="d-stem" d="M${20 + n * 30} 10v30"/></g>`).join('');
  return `<figure class="score"><div class="drawing" data-pattern="${pattern}"><svg viewBox="0 0 400 60" width="400" height="60" role="img" aria-label="drawing">${groups}</svg></div></figure>`;
}

/** Writes a page and gives its address. `language` is en or es. */
export function write(data, language = 'en') {
  const folder = fs.mkdtempSync(path.join(os.tmpdir(), 'player-page-'));
  const names = scripts();
  for (const name of [...names, 'player.css', 'style.css']) {
    fs.copyFileSync(path.join(ASSETS, name), path.join(folder, name));
  }
  const patterns = [0, 1].map((n) => `<section class="pattern"><h2>Pattern ${n}</h2>${drawing(n, 12)}<div class="player-place"></div></section>`);
  fs.writeFileSync(path.join(folder, 'index.html'), `<!doctype html><html lang="${language}"><head><meta charset="utf-8">
<meta name="viewport" content="width=device-width, initial-scale=1"><title>Practice</title>
<link rel="stylesheet" href="style.css"><link rel="stylesheet" href="player.css"></head><body><main><h1>Practice</h1>
${patterns.join('\n')}
<section class="practice" data-practice="p" data-course="evening-class"><h2>Practise</h2><p>Read without scripts.</p></section>
<script type="application/json" data-score="p">${JSON.stringify(data).replace(/</g, '\\u003c')}</script>
</main>${names.map((name) => `<script src="${name}"></script>`).join('')}</body></html>`);
  return { folder, address: 'file://' + path.join(folder, 'index.html') };
}

/** A browser and a page on which every error, request outside and console message is noted. */
export async function open(address, options = {}) {
  const browser = await launch();
  const context = await browser.newContext(options);
  const page = await context.newPage();
  page.setDefaultTimeout(10000);
  const noted = { errors: [], requests: [] };
  page.on('pageerror', (error) => noted.errors.push(String(error)));
  page.on('console', (message) => ['error', 'warning'].includes(message.type()) && noted.errors.push(message.text()));
  page.on('request', (request) => {
    if (!/^(file|blob|data):/.test(request.url())) {
      noted.requests.push(request.url());
    }
  });
  await page.goto(address);
  return { browser, context, page, noted };
}
