// A slow phone for the chores that measure: the browser, its time of day, and a shift that runs. Judges nothing.

import { createRequire } from 'node:module';
import { pathToFileURL } from 'node:url';

// The folder of the npm packages, and what it holds.
export function packages(folder) {
  const from = createRequire(`${folder}/package.json`);
  return async (name) => (await import(pathToFileURL(from.resolve(name)).href)).default;
}

export const launch = (puppeteer, executablePath) =>
  puppeteer.launch({
    executablePath,
    headless: true,
    // A page of a hundred thousand records may take its time under a throttle.
    protocolTimeout: 600_000,
    args: ['--no-sandbox', '--disable-gpu', '--disable-quic', '--no-first-run', '--disable-background-networking'],
  });

// Wherever and whenever this runs, it is between seven and eight in the morning: the usual shift has begun.
export async function wakeAtSeven(page) {
  const ahead = new Date().getUTCHours() - 7;
  const behind = ahead <= 12 ? ahead : ahead - 24;
  // These zones count to the west.
  await page.emulateTimezone(`Etc/GMT${behind < 0 ? '' : '+'}${behind}`);
}

async function tap(page, what) {
  await page.waitForSelector(what, { visible: true, timeout: 300_000 });
  await page.evaluate((what) => document.querySelector(what).click(), what);
}

// As an operator does: a board of the usual length.
export async function answerTheFirstStart(page, address) {
  await page.goto(address);
  await tap(page, '.first-question + .first-question .choice-option');
  await tap(page, '.first > .main-action');
  await page.waitForSelector('.start-shift');
}

// The usual times, gravel, and the sockets oiled if they are due.
export async function startAShift(page) {
  await tap(page, '.start-shift');
  await tap(page, '.next-job-button');
  await tap(page, 'a[href="#setup/gravel"]');
  await tap(page, '.use-setup');
  await page.waitForSelector('.shift-line', { timeout: 300_000 });
  // They were due at seven, and that rings.
  await tap(page, '.alarm-done');
  await page.waitForSelector('.alarm-done', { hidden: true });
}
