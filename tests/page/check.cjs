// Looks at pages as a telephone, a desk and a printer show them.
// node check.cjs CHROMIUM SHOTS PAGE...
const { chromium } = require('playwright-core');
const axe = require.resolve('axe-core/axe.min.js');
const fs = require('fs');
const path = require('path');
const { pathToFileURL } = require('url');

const [browserPath, shots, ...pages] = process.argv.slice(2);
const views = [
  { name: 'phone', width: 360, height: 740, scheme: 'light' },
  { name: 'phone-dark', width: 360, height: 740, scheme: 'dark' },
  { name: 'desktop', width: 1280, height: 900, scheme: 'light' },
];

async function look(browser, file, view) {
  const faults = [];
  const context = await browser.newContext({
    viewport: { width: view.width, height: view.height },
    colorScheme: view.scheme,
    bypassCSP: false,
  });
  const page = await context.newPage();
  page.on('console', (m) => m.type() === 'error' && faults.push(`console: ${m.text()}`));
  page.on('pageerror', (e) => faults.push(`error: ${e}`));
  const own = pathToFileURL(file).href;
  page.on('request', (r) => r.url() !== own && !r.url().startsWith('data:') && faults.push(`request: ${r.url()}`));
  await page.goto(own);
  const wide = await page.evaluate(() => document.documentElement.scrollWidth - innerWidth);
  if (wide > 0) faults.push(`overflow: ${wide} px`);
  await page.keyboard.press('Tab');
  const first = await page.evaluate(() => document.activeElement.className);
  if (first !== 'skip') faults.push(`first tab: ${first}`);
  if (view.name === 'desktop') faults.push(...(await unreached(page)));
  await page.screenshot({ path: path.join(shots, `${path.basename(path.dirname(file))}-${view.name}.png`), fullPage: true });
  await page.evaluate(fs.readFileSync(axe, 'utf8'));
  const result = await page.evaluate(() => axe.run());
  for (const v of result.violations) faults.push(`axe: ${v.id} x${v.nodes.length}: ${v.nodes[0].html.slice(0, 160)}`);
  await context.close();
  return faults.map((f) => `${view.name}: ${f}`);
}

// What the tab key does not reach of all that takes the focus; it starts on the first of them. What is folded away
// is not there.
async function unreached(page) {
  const all = 'a[href], button, input, summary, [tabindex="0"]';
  const seen = (all) => [...document.querySelectorAll(all)].filter((e) => e.checkVisibility());
  const count = await page.evaluate(`(${seen})(${JSON.stringify(all)}).length`);
  const reached = new Set();
  for (let n = 0; n < count; n++) {
    reached.add(await page.evaluate(`(${seen})(${JSON.stringify(all)}).indexOf(document.activeElement)`));
    await page.keyboard.press('Tab');
  }
  reached.delete(-1);
  return reached.size < count ? [`tab reaches ${reached.size} of ${count}`] : [];
}

// Most pages of the field pack: of a round of nine colonies and twelve compartments, and of forty colonies.
const MOST = { round: 6, forty: 14 };

// What is printed unasked is the field pack.
async function print(browser, file) {
  const faults = [];
  const page = await browser.newPage();
  await page.goto(pathToFileURL(file).href);
  const all = async (nth) => Number((await page.locator('.figs dd').nth(nth).textContent()).match(/of (\d+)/)[1]);
  const most = (await all(0)) > 12 || (await all(2)) > 9 ? MOST.forty : MOST.round;
  for (const format of ['A4', 'Letter']) {
    const pdf = await page.pdf({ path: path.join(shots, `${path.basename(path.dirname(file))}-${format}.pdf`), format });
    const printed = (pdf.toString('latin1').match(/\/Type\s*\/Page\b/g) || []).length;
    if (printed < 1 || printed > most) faults.push(`${format}: ${printed} pages, at most ${most}`);
  }
  await page.close();
  return faults;
}

(async () => {
  fs.mkdirSync(shots, { recursive: true });
  const browser = await chromium.launch({ executablePath: browserPath, args: ['--no-sandbox'] });
  const faults = [];
  for (const file of pages) {
    for (const view of views) faults.push(...(await look(browser, path.resolve(file), view)));
    faults.push(...(await print(browser, path.resolve(file))));
  }
  await browser.close();
  faults.forEach((f) => console.log(f));
  console.log(`${pages.length} pages, ${faults.length} faults`);
  process.exitCode = faults.length ? 1 : 0;
})();
