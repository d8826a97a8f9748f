// From a tap to the new answer and picture, in a browser; and the memory of the server over many changes.
// node taps.cjs CHROMIUM SPAREFRAME TAPS CHANGES SCENARIO...
const { chromium } = require('playwright-core');
const { spawn } = require('child_process');
const fs = require('fs');
const os = require('os');
const path = require('path');

const [browserPath, program, taps, changes, ...scenarios] = process.argv.slice(2);

async function desk(scenario) {
  const file = path.join(fs.mkdtempSync(path.join(os.tmpdir(), 'taps-')), 'yard.yaml');
  fs.copyFileSync(scenario, file);
  const child = spawn(program, ['desk', file, '--no-open', '--port', '0'], { stdio: ['ignore', 'ignore', 'pipe'] });
  const link = await new Promise((found) => {
    let text = '';
    child.stderr.on('data', (bytes) => { text += bytes; const at = text.match(/http:\/\/\S+/); if (at) found(at[0]); });
  });
  return { link, child };
}

const of = (all, share) => all[Math.min(all.length - 1, Math.floor(all.length * share))];

// From the tap to the frame in which picture and figures are new.
async function measured(browser, scenario) {
  const { link, child } = await desk(scenario);
  const page = await browser.newPage({ viewport: { width: 1280, height: 900 } });
  await page.goto(link);
  await page.waitForFunction(() => document.body.dataset.rest === document.body.dataset.asked, null, { timeout: 120000 });
  const all = [];
  const colonies = await page.locator('.colony').count();
  for (let n = 0; n < Number(taps); n += 1) {
    // Turn a yard's dial, or a colony's: another every time, up and down.
    if (n % 4 === 0) {
      await page.keyboard.press('Escape');
      await page.evaluate((nth) => document.querySelectorAll('.colony .name')[nth].click(), n / 4 % colonies);
      await page.waitForFunction(() => document.body.dataset.asked === document.body.dataset.shown);
      // Until a hand is at the dial, the picture has come to rest.
      await page.waitForTimeout(500);
    }
    const took = await page.evaluate((n) => new Promise((done) => {
      const dials = [...document.querySelectorAll(n % 4 === 3 ? '#yard .dial [data-turn]' : '#hand .grps [data-turn]')].filter((b) => b.checkVisibility());
      const button = dials[(n * 7) % dials.length];
      const from = performance.now();
      const seen = new MutationObserver(() => { seen.disconnect(); requestAnimationFrame(() => setTimeout(() => done(performance.now() - from))); });
      seen.observe(document.querySelector('#picture'), { childList: true, characterData: true, subtree: true });
      setTimeout(() => done(null), 5000);
      button.click();
    }), n);
    if (took !== null) all.push(took);
    await page.waitForTimeout(400);
  }
  await page.close();
  child.kill('SIGINT');
  all.sort((a, b) => a - b);
  const ms = (share) => `${of(all, share).toFixed(0)} ms`;
  console.log(`${path.basename(scenario)}: ${all.length} taps, median ${ms(0.5)}, 95 % within ${ms(0.95)}, longest ${ms(1)}`);
}

const memory = (pid) => Number(fs.readFileSync(`/proc/${pid}/status`, 'utf8').match(/VmRSS:\s+(\d+)/)[1]);

// Memory of the server, in kB, at ten points of many changes.
async function flat(scenario) {
  const { link, child } = await desk(scenario);
  const { origin } = new URL(link);
  const seen = [];
  for (let n = 1; n <= Number(changes); n += 1) {
    const sets = [`cells=${6 + (n % 7)}`, `colonies.6.frames[1].count=${1 + (n % 5)}`, `title=${n}`];
    const body = JSON.stringify({ page: 'memory', number: n, state: { sets } });
    const answer = await fetch(`${link}try`, { method: 'POST', headers: { 'content-type': 'application/json', origin }, body });
    if (!answer.ok) throw new Error(String(answer.status));
    await answer.arrayBuffer();
    if (n % (changes / 10) === 0) seen.push(memory(child.pid));
  }
  child.kill('SIGINT');
  console.log(`${path.basename(scenario)}: memory over ${changes} changes, kB: ${seen.join(' ')}`);
}

(async () => {
  const browser = await chromium.launch({ executablePath: browserPath, args: ['--no-sandbox'] });
  if (Number(taps)) for (const scenario of scenarios) await measured(browser, scenario);
  await browser.close();
  if (Number(changes)) await flat(scenarios[0]);
})();
