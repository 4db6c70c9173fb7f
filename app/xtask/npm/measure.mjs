// How fast the packed app starts and answers on a slow phone, beside a bare counter of the same framework, in one run with
// one throttle. `cargo xtask measure` calls it and reads a line a number: its name, a tab, the number. It judges nothing.

import { readFileSync } from 'node:fs';

import { answerTheFirstStart, launch, packages, startAShift, wakeAtSeven } from './phone.mjs';

const [folder, browser, counter, app, records] = process.argv.slice(2);
const puppeteer = await packages(folder)('puppeteer-core');

// As Lighthouse has a slow phone: a slow fourth-generation network, and a processor four times slower than this one.
const NETWORK = { offline: false, latency: 150, downloadThroughput: (1.6 * 1024 * 1024) / 8, uploadThroughput: (750 * 1024) / 8 };
const SLOWER = 4;
const ROUNDS = 5;

const say = (name, number) => console.log(`${name}\t${number}`);
const median = (numbers) => [...numbers].sort((a, b) => a - b)[Math.floor(numbers.length / 2)];

// Notes when something is painted, when the time of the next oiling can be read, and when the app answers.
const WATCH = () => {
  globalThis.seen = {};
  globalThis.answers = [];
  new PerformanceObserver((list) => {
    for (const it of list.getEntries()) if (it.name === 'first-contentful-paint') seen.paint = it.startTime;
  }).observe({ type: 'paint', buffered: true });
  new PerformanceObserver((list) => {
    for (const it of list.getEntries()) if (it.interactionId) answers.push({ name: it.name, took: it.duration });
  }).observe({ type: 'event', durationThreshold: 16, buffered: true });
  addEventListener('TrunkApplicationStarted', (it) => (globalThis.program = it.detail.wasm.memory));
  const look = () => {
    const now = performance.now();
    const big = [...document.querySelectorAll('.next-job-big')].find((it) => it.offsetParent !== null);
    if (seen.due === undefined && /\d:\d\d/.test(big?.textContent ?? '')) seen.due = now;
    const lives = document.documentElement.dataset.started !== undefined || document.querySelector('body > button');
    if (seen.lives === undefined && lives) seen.lives = now;
    if (seen.lives === undefined || seen.due === undefined) requestAnimationFrame(look);
  };
  requestAnimationFrame(look);
};

async function slow(page, offline) {
  const session = await page.createCDPSession();
  await session.send('Network.enable');
  await session.send('Network.emulateNetworkConditions', { ...NETWORK, offline });
  await session.send('Emulation.setCPUThrottlingRate', { rate: SLOWER });
  return session;
}

// What a start costs: first of all with nothing kept but the records, then from what the worker keeps, without a network.
async function start(name, page, address, { due, warm }) {
  const cold = { paint: [], due: [], lives: [], script: [] };
  for (let round = 0; round < ROUNDS; round += 1) {
    const session = await slow(page, warm);
    if (!warm) {
      await session.send('Network.setBypassServiceWorker', { bypass: true });
      await session.send('Network.clearBrowserCache');
    }
    await session.send('Performance.enable');
    await page.goto('about:blank');
    await page.goto(address, { timeout: 300_000 });
    await page.waitForFunction((due) => seen.paint && seen.lives && (!due || seen.due), { timeout: 300_000, polling: 100 }, due);
    const seen = await page.evaluate(() => seen);
    for (const key of ['paint', 'due', 'lives']) if (seen[key] !== undefined) cold[key].push(seen[key]);
    const { metrics } = await session.send('Performance.getMetrics');
    cold.script.push(metrics.find((it) => it.name === 'ScriptDuration').value * 1000);
    if (round === ROUNDS - 1) {
      await session.send('HeapProfiler.collectGarbage');
      const { usedSize } = await session.send('Runtime.getHeapUsage');
      const program = await page.evaluate(() => globalThis.program?.buffer.byteLength ?? 0);
      say(`${name}: heap kB`, Math.round((usedSize + program) / 1024));
    }
    await session.send('Emulation.setCPUThrottlingRate', { rate: 1 });
    await session.detach();
  }
  const told = { paint: 'first paint ms', due: 'next due visible ms', lives: 'answers ms', script: 'script ms' };
  for (const [key, text] of Object.entries(told)) if (0 < cold[key].length) say(`${name}: ${text}`, Math.round(median(cold[key])));
}

// The page that is there was loaded past the worker.
async function untilKept(page) {
  await page.goto(app);
  await page.waitForFunction(() => navigator.serviceWorker.controller?.state === 'activated', { timeout: 120_000 });
}

async function taps(name, page, list) {
  await page.evaluate(() => (globalThis.answers = []));
  for (const at of list) {
    await page.waitForSelector(at, { visible: true, timeout: 60_000 });
    const box = await page.$eval(at, (it) => {
      it.scrollIntoView({ block: 'center' });
      const { x, y, width, height } = it.getBoundingClientRect();
      return [x + width / 2, y + height / 2];
    });
    await page.touchscreen.tap(...box);
    await new Promise((next) => setTimeout(next, 700));
  }
  const answers = await page.evaluate(() => answers);
  const slowest = Math.max(0, ...answers.map((it) => it.took));
  say(`${name}: slowest answer to a tap ms`, slowest);
  say(`${name}: taps`, list.length);
}

// What a second costs while nothing happens but that the clock goes on: the usual second on this computer, and on the slow
// phone; there the mean of a whole minute with its turn as well.
async function ticks(name, session) {
  await session.send('Emulation.setCPUThrottlingRate', { rate: 1 });
  const here = await minute(session);
  await session.send('Emulation.setCPUThrottlingRate', { rate: SLOWER });
  const slow = await minute(session);
  say(`${name}: script of a usual second, unthrottled ms`, median(here));
  say(`${name}: script of a usual second ms`, median(slow));
  say(`${name}: script of a second, over a minute ms`, slow.reduce((sum, it) => sum + it, 0) / slow.length);
}

async function minute(session) {
  await session.send('Performance.enable');
  const script = async () => {
    const { metrics } = await session.send('Performance.getMetrics');
    return metrics.find((it) => it.name === 'ScriptDuration').value * 1000;
  };
  const all = [await script()];
  while (all.length <= 60) {
    await new Promise((next) => setTimeout(next, 1000));
    all.push(await script());
  }
  return all.slice(1).map((it, at) => it - all[at]);
}

async function scrolling(name, page) {
  await page.evaluate(() => {
    globalThis.blocked = [0];
    new PerformanceObserver((list) => blocked.push(...list.getEntries().map((it) => it.duration))).observe({ type: 'longtask' });
  });
  for (let step = 0; step < 30; step += 1) {
    await page.evaluate(() => scrollBy(0, 600));
    await new Promise((next) => setTimeout(next, 50));
  }
  say(`${name}: longest block while scrolling ms`, Math.round(await page.evaluate(() => Math.max(...blocked))));
}

const SHIFT = ['button.all-turning', 'button.start-break', '.next-job-button', 'a.write-note', '.tab-bar a:nth-child(1)', 'a.to-opening', '.tick', '.tab-bar a:nth-child(4)', '.tab-bar a:nth-child(2)', '.tab-bar a:nth-child(1)'];
const ROW = ['.tab-bar a:nth-child(3)', '.tooth-cell:nth-child(2)', '.tooth-cell:nth-child(5)', '.tooth-cell:nth-child(9)', 'button.row-all-turning'];

async function phone(chromium) {
  const context = await chromium.createBrowserContext();
  await context.overridePermissions(new URL(app).origin, ['notifications']);
  const page = await context.newPage();
  await page.setViewport({ width: 412, height: 823, isMobile: true, hasTouch: true });
  await wakeAtSeven(page);
  return page;
}

const chromium = await launch(puppeteer, browser);
try {
  {
    const page = await phone(chromium);
    await page.evaluateOnNewDocument(WATCH);
    await start('counter', page, counter, { due: false, warm: false });
    await page.close();
  }
  for (const [name, lines] of [['app, empty', ''], ['app, ten seasons', readFileSync(records, 'utf8')]]) {
    const page = await phone(chromium);
    if (lines) {
      await page.goto(app);
      await page.waitForSelector('.first-question', { timeout: 60_000 });
      await keep(page, lines);
      await page.goto(app);
      await page.waitForSelector('.start-shift', { timeout: 300_000 });
    } else {
      await answerTheFirstStart(page, app);
    }
    await startAShift(page);
    await page.evaluateOnNewDocument(WATCH);
    await start(name, page, app, { due: true, warm: false });
    await untilKept(page);
    await start(`${name}, kept, without a network`, page, app, { due: true, warm: true });
    const session = await slow(page, true);
    await ticks(name, session);
    await taps(`${name}: shift`, page, SHIFT);
    await page.evaluate(() => (location.hash = '#sets'));
    await page.waitForSelector('button.mount-set', { visible: true });
    await page.evaluate(() => document.querySelector('button.mount-set').click());
    await page.waitForSelector('.whole-row', { timeout: 60_000 });
    await taps(`${name}: row`, page, ROW);
    await page.evaluate(() => (location.hash = '#book'));
    await page.waitForSelector('.shift-of-book', { timeout: 60_000 });
    await scrolling(`${name}: book`, page);
    await page.close();
  }
} finally {
  await chromium.close();
}

// Puts records into the store of the phone, as if it had kept them.
async function keep(page, lines) {
  const all = lines.split('\n');
  for (let at = 0; at < all.length; at += 10_000) {
    await page.evaluate(async (some) => {
      const opened = await new Promise((done) => (indexedDB.open('evenrow').onsuccess = (it) => done(it.target.result)));
      const writing = opened.transaction('records', 'readwrite');
      const store = writing.objectStore('records');
      for (const line of some) store.put(line, JSON.parse(line)[1]);
      await new Promise((done) => (writing.oncomplete = done));
      opened.close();
    }, all.slice(at, at + 10_000));
  }
}
