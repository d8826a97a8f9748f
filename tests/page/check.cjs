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
  await page.screenshot({ path: path.join(shots, `${path.basename(path.dirname(file))}-${view.name}.png`), fullPage: true });
  await page.evaluate(fs.readFileSync(axe, 'utf8'));
  const result = await page.evaluate(() => axe.run());
  for (const v of result.violations) faults.push(`axe: ${v.id} x${v.nodes.length}: ${v.nodes[0].html.slice(0, 160)}`);
  await context.close();
  return faults.map((f) => `${view.name}: ${f}`);
}

async function print(browser, file) {
  const page = await browser.newPage();
  await page.goto(pathToFileURL(file).href);
  for (const format of ['A4', 'Letter']) {
    await page.pdf({ path: path.join(shots, `${path.basename(path.dirname(file))}-${format}.pdf`), format });
  }
  await page.close();
}

(async () => {
  fs.mkdirSync(shots, { recursive: true });
  const browser = await chromium.launch({ executablePath: browserPath, args: ['--no-sandbox'] });
  const faults = [];
  for (const file of pages) {
    for (const view of views) faults.push(...(await look(browser, path.resolve(file), view)));
    await print(browser, path.resolve(file));
  }
  await browser.close();
  faults.forEach((f) => console.log(f));
  console.log(`${pages.length} pages, ${faults.length} faults`);
  process.exitCode = faults.length ? 1 : 0;
})();
