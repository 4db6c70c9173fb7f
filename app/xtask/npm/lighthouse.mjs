// What Lighthouse says of the built app on a slow phone: on the first start, and on a shift that runs.
// `cargo xtask lighthouse` calls it with the folder of the npm packages, the app's address and the browser, and reads
// one line a screen: its name and three scores from 0 to 100; then, indented, what cost points. It judges nothing.

import { answerTheFirstStart, launch, packages, startAShift, wakeAtSeven } from './phone.mjs';

const [folder, address, browser] = process.argv.slice(2);
const load = packages(folder);
const [lighthouse, puppeteer] = [await load('lighthouse'), await load('puppeteer-core')];

const CATEGORIES = ['performance', 'accessibility', 'best-practices'];
const chromium = await launch(puppeteer, browser);
try {
  const [page] = await chromium.pages();
  // Otherwise the browser asks, and nobody answers.
  await chromium.defaultBrowserContext().overridePermissions(new URL(address).origin, ['notifications']);
  await page.setViewport({ width: 412, height: 823, isMobile: true, hasTouch: true });
  await wakeAtSeven(page);
  await measure('first start', page);
  await answerTheFirstStart(page, address);
  await startAShift(page);
  await measure('shift', page);
} finally {
  await chromium.close();
}

// It takes its measures from a cold start: files and worker are forgotten before, records are not.
async function measure(screen, page) {
  const { lhr } = await lighthouse(
    address,
    { formFactor: 'mobile', throttlingMethod: 'simulate', onlyCategories: CATEGORIES, logLevel: 'error' },
    undefined,
    page,
  );
  if (lhr.runtimeError) throw new Error(lhr.runtimeError.message);
  const scores = CATEGORIES.map((id) => Math.floor(lhr.categories[id].score * 100));
  console.log([screen, ...scores].join('\t'));
  const refs = CATEGORIES.flatMap((id) => lhr.categories[id].auditRefs);
  for (const { id, weight, group } of refs) {
    const { score, title, displayValue = '', details } = lhr.audits[id];
    if ((0 < weight && score !== null && score < 1) || group === 'metrics') {
      const where = group === 'metrics' ? [] : (details?.items ?? []).map((it) => it.node?.snippet ?? it.url ?? it.description ?? '');
      console.log(`\t${score}\t${title} ${displayValue} ${where.slice(0, 5).join(' | ')}`);
    }
  }
}
