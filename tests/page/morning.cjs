// A whole morning on the desk, as a telephone, a desk, the keys alone and a screen reader have it.
// node morning.cjs CHROMIUM SHOTS SPAREFRAME SCENARIO
const { chromium } = require('playwright-core');
const axe = require.resolve('axe-core/axe.min.js');
const { spawn } = require('child_process');
const fs = require('fs');
const os = require('os');
const path = require('path');

const [browserPath, shots, program, scenario] = process.argv.slice(2);
const faults = [];
const fault = (so, text) => so || faults.push(text);

// The program with a copy of the scenario, until `end`.
async function desk(more = []) {
  const folder = fs.mkdtempSync(path.join(os.tmpdir(), 'desk-'));
  const file = path.join(folder, 'yard.yaml');
  fs.copyFileSync(scenario, file);
  const child = spawn(program, ['desk', file, '--no-open', '--port', '0', ...more], { stdio: ['ignore', 'ignore', 'pipe'] });
  const link = await new Promise((found, failed) => {
    let text = '';
    child.stderr.on('data', (bytes) => {
      text += bytes;
      const at = text.match(/http:\/\/\S+/);
      if (at) found(at[0]);
    });
    child.on('exit', () => failed(new Error(text)));
  });
  return { file, link, end: () => { child.removeAllListeners('exit'); child.kill('SIGINT'); } };
}

const settled = (page) => page.waitForFunction(() => document.body.dataset.asked === document.body.dataset.shown && !('busy' in document.querySelector('#did').dataset));
const rested = (page) => page.waitForFunction(() => document.body.dataset.rest === document.body.dataset.asked, null, { timeout: 60000 });
const said = (page) => page.locator('#did').textContent();
const figure = async (page, nth) => (await page.locator('.figs dd').nth(nth).textContent()).trim();

async function shot(page, view, name) {
  await page.screenshot({ path: path.join(shots, `morning-${view}-${name}.png`) });
}

// How a hand does it, and how the keys do.
const byHand = {
  press: async (page, locator) => { await locator.click(); },
};
const byKeys = {
  press: async (page, locator) => { await locator.focus(); await page.keyboard.press('Enter'); },
};

async function open(page, by, name) {
  if (await page.locator('#hand').isVisible()) await by.press(page, page.locator('#hand [data-shut], #back').locator('visible=true').first()).catch(() => page.keyboard.press('Escape'));
  const colony = page.locator(`.colony .name[title="${name}"], [data-open][aria-label="Colony ${name}"]`).first();
  await by.press(page, colony);
  await page.locator('#hand').waitFor();
  await settled(page);
}
const shut = async (page) => { await page.keyboard.press('Escape'); await page.locator('#hand').waitFor({ state: 'hidden' }); };
// A dial, by what it is called.
const dial = (page, name, turn) => page.getByRole('button', { name: `${turn > 0 ? 'more' : 'less'}: ${name}`, exact: true });
async function turn(page, by, name, by1) {
  const fold = page.locator('.turns:not([open]) summary');
  if (!/^colony/.test(name) && (await fold.count())) await by.press(page, fold);
  await by.press(page, dial(page, name, by1));
  await settled(page);
}

async function morning(browser, view, by) {
  const { file, link, end } = await desk();
  const context = await browser.newContext({ viewport: view, colorScheme: view.scheme || 'light', hasTouch: view.width < 720 });
  const page = await context.newPage();
  const here = (so, text) => fault(so, `${view.name}: ${text}`);
  page.on('pageerror', (e) => here(false, `error: ${e}`));
  page.on('console', (m) => m.type() === 'error' && here(false, `console: ${m.text()}`));
  page.on('request', (r) => r.url().startsWith(link) || r.url().startsWith('data:') || here(false, `request: ${r.url()}`));
  await page.goto(link);
  await rested(page);
  const first = await figure(page, 0);
  await shot(page, view.name, '1-open');

  // Three counts are corrected.
  await open(page, by, '6');
  await turn(page, by, 'colony 6, brood', -1);
  here((await said(page)).includes('Colony 6, brood: 5'), `said: ${await said(page)}`);
  await shot(page, view.name, '2-count');
  await open(page, by, '7');
  await turn(page, by, 'colony 7, brood', 1);
  await open(page, by, '8');
  await turn(page, by, 'colony 8, stores', 1);
  // A colony is held.
  await open(page, by, '9');
  await by.press(page, page.locator('#hand .hold'));
  await settled(page);
  here((await page.locator('#hand .hold').textContent()) === 'Held', 'colony 9 is not held');
  here(await figure(page, 0) !== first, 'to hold a colony changes nothing');
  const held = await figure(page, 0);
  await shut(page);
  // Two more boxes, and why they do not help.
  await turn(page, by, 'mating box', 1);
  await turn(page, by, 'mating box', 1);
  here((await figure(page, 0)).endsWith('of 16'), `boxes: ${await figure(page, 0)}`);
  await rested(page);
  here((await page.locator('#picture').textContent()).includes('would stock more'), 'nothing says why not');
  here((await page.locator('#reasons').count()) === 1, 'no reasons');
  // From the curve to what must move.
  await by.press(page, page.locator('#curve summary'));
  await by.press(page, page.locator('#curve [data-more]'));
  here(await page.locator('#reasons').evaluate((e) => e.open && e.contains(document.activeElement)), 'the curve leads nowhere');
  await shot(page, view.name, '3-boxes');
  // The plan before, as long as it is pressed.
  const now = await page.locator('.figs').textContent();
  await page.locator('#before').focus();
  await page.keyboard.down(' ');
  here((await page.locator('.figs').textContent()) !== now, 'the plan before is not shown');
  await page.keyboard.up(' ');
  here((await page.locator('.figs').textContent()) === now, 'the plan before stays');
  // Both boxes are taken back.
  await by.press(page, page.locator('#undo'));
  await settled(page);
  await by.press(page, page.locator('#undo'));
  await settled(page);
  here((await figure(page, 0)) === held, `undone: ${await figure(page, 0)}, before ${held}`);
  // What is tried outlasts the page.
  await page.reload();
  await settled(page);
  here((await figure(page, 0)) === held, 'a reload loses what was tried');
  // Saved: the lines are shown, comments stay.
  const before = fs.readFileSync(file, 'utf8');
  await by.press(page, page.locator('#save'));
  await page.locator('#saving').waitFor();
  here(fs.readFileSync(file, 'utf8') === before, 'written before it was asked for');
  here((await page.locator('#saving .is0').count()) >= 4, 'lines that change are not shown');
  await shot(page, view.name, '4-save');
  await by.press(page, page.locator('#write'));
  await page.locator('#saving').waitFor({ state: 'hidden' });
  await settled(page);
  const after = fs.readFileSync(file, 'utf8');
  here(after.includes('{count: 5, place: upper box') && after.includes('hold: left alone today'), 'not saved');
  const comments = (text) => text.match(/#.*/g).join('\n');
  here(comments(after) === comments(before), 'comments are lost');
  here(await page.locator('#save').isDisabled(), 'there is still something to save');
  // Work begins; in hive 6 something else is found.
  await by.press(page, page.locator('#begin'));
  await settled(page);
  await open(page, by, '6');
  await turn(page, by, 'colony 6, brood', -1);
  const verdict = await page.locator('#hand .verdict').textContent();
  here(/still stand|can no longer be filled/.test(verdict), `verdict: ${verdict}`);
  await shot(page, view.name, '5-found');
  await shut(page);
  // Two boxes are filled; the rest stays near to what is loaded.
  for (let n = 0; n < 2; n += 1) {
    const fill = page.locator('.fin').first();
    await by.press(page, fill);
    await settled(page);
    here((await said(page)).includes('is finished'), `finished: ${await said(page)}`);
  }
  here((await page.locator('.note1', { hasText: 'finished' }).count()) === 2, 'two boxes are not finished');
  here(/still stand|no longer/.test(await said(page)), `near: ${await said(page)}`);
  await shot(page, view.name, '6-finished');
  // A colony is done: it is locked.
  await open(page, by, '7');
  const all = page.locator('[data-finish-colony]');
  if (await all.count()) {
    await by.press(page, all);
    await settled(page);
    here((await page.locator('#hand .fin0').count()) === 1, 'colony 7 is not finished');
    here((await page.locator('#hand .grps [data-turn]:enabled').count()) === 0, 'a finished colony can be turned');
  }
  await shot(page, view.name, '7-locked');
  await shut(page);
  await rested(page);
  await page.evaluate(() => document.activeElement.blur());
  await page.evaluate(fs.readFileSync(axe, 'utf8'));
  const result = await page.evaluate(() => axe.run());
  for (const v of result.violations) here(false, `axe: ${v.id} x${v.nodes.length}: ${v.nodes[0].html.slice(0, 160)}`);
  const wide = await page.evaluate(() => document.documentElement.scrollWidth - innerWidth);
  here(wide <= 0, `overflow: ${wide} px`);
  // The sheets are printed.
  await rested(page);
  const pdf = await page.pdf({ path: path.join(shots, `morning-${view.name}.pdf`), format: 'A4' });
  const pages = (pdf.toString('latin1').match(/\/Type\s*\/Page\b/g) || []).length;
  here(pages >= 1 && pages <= 6, `${pages} pages are printed`);
  await context.close();
  end();
}

// What a screen reader is told of the page, and of a colony that is open.
async function heard(browser) {
  const { link, end } = await desk();
  const page = await browser.newPage({ viewport: { width: 1280, height: 900 } });
  await page.goto(link);
  await settled(page);
  await open(page, byKeys, '6');
  const tree = await page.locator('body').ariaSnapshot();
  fs.writeFileSync(path.join(shots, 'morning-heard.yaml'), tree);
  for (const part of ['button "less: colony 6, brood"', 'button "more: mating box"', 'slider "colony 6, must keep brood"', 'complementary "One colony"', 'navigation "The desk"', 'button "Hold to see the plan before"', 'status']) {
    fault(tree.includes(part), `not heard: ${part}`);
  }
  await turn(page, byKeys, 'colony 6, brood', -1);
  const on = await page.evaluate(() => document.activeElement.getAttribute('aria-label'));
  fault(on === 'less: colony 6, brood', `the focus is lost to ${on}`);
  fault((await page.locator('#did').getAttribute('role')) === 'status', 'what the change did is not heard');
  await page.close();
  end();
}

// The file changes under the page: nothing is written over it, and what was tried is tried on the new one.
async function replaced(browser) {
  const { file, link, end } = await desk();
  const page = await browser.newPage({ viewport: { width: 1280, height: 900 } });
  await page.goto(link);
  await settled(page);
  await turn(page, byHand, 'cells', -1);
  await page.locator('#save').click();
  await page.locator('#saving').waitFor();
  const other = `${fs.readFileSync(file, 'utf8')}# by another hand\n`;
  fs.writeFileSync(file, other);
  await page.locator('#write').click();
  await page.locator('#news').waitFor();
  fault(fs.readFileSync(file, 'utf8') === other, 'a file that changed outside is written over');
  await page.locator('#news button').click();
  await settled(page);
  await page.locator('#save').click();
  await page.locator('#saving').waitFor();
  await page.locator('#write').click();
  await page.locator('#saving').waitFor({ state: 'hidden' });
  await settled(page);
  const text = fs.readFileSync(file, 'utf8');
  fault(text.includes('cells: 11') && text.endsWith('# by another hand\n'), 'what was tried is lost');
  await page.close();
  end();
}

(async () => {
  fs.mkdirSync(shots, { recursive: true });
  const browser = await chromium.launch({ executablePath: browserPath, args: ['--no-sandbox'] });
  const round = async (what, job) => {
    try { await job(); } catch (e) { faults.push(`${what}: ${e.message.split('\n').slice(0, 3).join(' ')}`); }
  };
  await round('phone', () => morning(browser, { name: 'phone', width: 390, height: 844 }, byHand));
  await round('desktop', () => morning(browser, { name: 'desktop', width: 1280, height: 900, scheme: 'dark' }, byHand));
  await round('keys', () => morning(browser, { name: 'keys', width: 1280, height: 900 }, byKeys));
  await round('heard', () => heard(browser));
  await round('replaced', () => replaced(browser));
  await browser.close();
  faults.forEach((f) => console.log(f));
  console.log(`a morning five times, ${faults.length} faults`);
  process.exitCode = faults.length ? 1 : 0;
})();
