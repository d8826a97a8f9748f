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

// Most bytes of a page (forty colonies), and of one with a season.
const BYTES = 400 * 1024, WITH_SEASON = 600 * 1024;

// What the first screen of a telephone holds, what is kept on the device and saved as a table, and that the page says the
// same where scripts may not run.
async function works(browser, file) {
  const faults = [];
  const fault = (so, text) => so || faults.push(text);
  const own = pathToFileURL(file).href;
  const most = fs.readFileSync(file, 'utf8').includes('id="season"') ? WITH_SEASON : BYTES;
  fault(fs.statSync(file).size <= most, `${fs.statSync(file).size} bytes`);
  const context = await browser.newContext({ viewport: { width: 390, height: 844 }, acceptDownloads: true });
  const page = await context.newPage();
  await page.goto(own);
  const below = await page.evaluate(() => ['.figs', '.go2', '#says'].filter((q) => document.querySelector(q).getBoundingClientRect().bottom > innerHeight));
  fault(!below.length, `not on the first screen: ${below}`);
  const sheet = page.locator('.sheet[open]').first();
  const [tick, note] = ['[data-tick]', '.note'].map((q) => sheet.locator(q).first());
  // A count at a glance, where there is one.
  const glance = await page.locator('[data-each]').count();
  const found = glance ? page.locator('[data-each]').first() : sheet.locator('[data-found]').first();
  await tick.check();
  await note.fill('two combs less');
  await page.evaluate(() => document.querySelectorAll('.sheet').forEach((s) => { s.open = true; }));
  await found.fill('3');
  const each = await found.getAttribute('data-each');
  await page.reload();
  fault(await tick.isChecked(), 'a tick is lost');
  fault((await note.inputValue()) === 'two combs less', 'a note is lost');
  fault((await page.locator('.done').first().textContent()).startsWith('1 of '), 'a tick is not counted');
  const [saved] = await Promise.all([page.waitForEvent('download'), page.locator('#export').click()]);
  const table = path.join(shots, `${path.basename(path.dirname(file))}-${saved.suggestedFilename()}`);
  await saved.saveAs(table);
  fault(!each || fs.readFileSync(table, 'utf8').includes(`3 combs at ${each} %`), 'a count loses its share');
  await page.locator('.colony:has(.up[data-to]) .name').first().click();
  fault((await page.locator('.fr.on').count()) > 0, 'no frame lights up');
  fault((await page.locator('#lit').textContent()).startsWith('Colony '), 'nothing says what lights up');
  const reached = () => [...document.querySelectorAll('.fr.on')].some((e) => { const r = e.getBoundingClientRect(); return r.bottom > 80 && r.top < innerHeight; });
  fault(await page.waitForFunction(reached, undefined, { timeout: 3000 }).then(() => true, () => false), 'what lights up is not on the screen');
  await context.close();
  const plain = await browser.newContext({ javaScriptEnabled: false });
  const still = await plain.newPage();
  await still.goto(own);
  const shut = await still.locator('.sheet:not([open])').count();
  fault(shut === 0, `${shut} sheets are folded without scripts`);
  await plain.close();
  return faults;
}

(async () => {
  fs.mkdirSync(shots, { recursive: true });
  const browser = await chromium.launch({ executablePath: browserPath, args: ['--no-sandbox'] });
  const faults = [];
  for (const file of pages) {
    for (const view of views) faults.push(...(await look(browser, path.resolve(file), view)));
    faults.push(...(await print(browser, path.resolve(file))));
    faults.push(...(await works(browser, path.resolve(file))));
  }
  await browser.close();
  faults.forEach((f) => console.log(f));
  console.log(`${pages.length} pages, ${faults.length} faults`);
  process.exitCode = faults.length ? 1 : 0;
})();
