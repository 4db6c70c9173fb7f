// Before the first paint: the theme, the hand, the language, and what was last known. From then on: a watch over the app, and
// a way out as soon as it is dead.
// Knows nothing of the app but a few marks on the root element and where its records lie; never changes a record.
(() => {
  const root = document.documentElement;
  const dark = matchMedia('(prefers-color-scheme: dark)');
  const patienceSeconds = 10;
  const secondsBetweenLooks = 2;
  let lastBeat;
  let looksWithoutBeat = 0;
  let isDead = false;

  function chosen(preference) {
    try {
      return JSON.parse(localStorage.getItem(preference));
    } catch {
      // Storage is shut or the entry is damaged: the system decides.
      return null;
    }
  }

  function paint() {
    const theme = chosen('evenrow.theme');
    const bySystem = dark.matches ? 'night' : 'sun';
    root.dataset.theme = theme === 'sun' || theme === 'night' ? theme : bySystem;
    root.dataset.hand = chosen('evenrow.hand') === 'left' ? 'left' : 'right';
    colourTheFrame();
  }

  // The one chosen here, or the first that the system asks for and there are words for. They come beside the app.
  function speak() {
    const bySystem = navigator.languages.map((it) => it.toLowerCase().split('-')[0]);
    const known = root.dataset.languages.split(' ');
    root.lang = [chosen('evenrow.language'), ...bySystem].find((it) => known.includes(it)) ?? 'en';
    const words = { rel: 'preload', as: 'fetch', crossOrigin: 'anonymous', href: `words/${root.lang}.txt` };
    document.head.append(Object.assign(document.createElement('link'), words));
  }

  // Each word stands there in each language; English where that of the page is missing.
  function keepOneLanguage(place) {
    const language = place.querySelector(`h1 [lang="${root.lang}"]`) ? root.lang : 'en';
    for (const other of place.querySelectorAll(`[lang]:not([lang="${language}"], [data-dead])`)) {
      other.remove();
    }
  }

  // What the app wrote down last: the machine, the next job, its time, more of it. It shows until the app has started.
  function glance() {
    const kept = chosen('evenrow.glance');
    return Array.isArray(kept) ? kept : undefined;
  }

  // As soon as the shell has been read, which is before it is painted.
  function fillTheShell(_, watch) {
    const shell = document.getElementById('shell');
    if (!shell?.nextElementSibling) {
      return;
    }
    watch.disconnect();
    keepOneLanguage(shell);
    const known = glance();
    if (known) {
      shell.querySelectorAll('[data-glance]').forEach((it, at) => (it.textContent = known[at] ?? ''));
      shell.querySelectorAll('[data-shell]').forEach((it) => (it.hidden = it.dataset.shell !== 'known'));
    }
  }

  // The browser's own bars and blank page follow the theme shown, which may not be the system's.
  function colourTheFrame() {
    const theme = root.dataset.theme;
    document.querySelector('meta[name="color-scheme"]').content = theme === 'night' ? 'dark' : 'light';
    for (const bar of document.querySelectorAll('meta[name="theme-color"]')) {
      bar.media = bar.dataset.theme === theme ? 'all' : 'not all';
    }
  }

  // The app writes data-theme when the operator switches, data-started once it has mounted, data-crash when it panics.
  function lookAtTheMarks() {
    colourTheFrame();
    if (root.dataset.crash !== undefined) {
      showDead('stopped', root.dataset.crash);
    } else if (hasStarted()) {
      // It was only slow.
      document.getElementById('dead-not-started')?.remove();
    }
  }

  function hasStarted() {
    return root.dataset.started !== undefined;
  }

  // Once a second the app counts its beats on. Looks are counted and not time: a phone that sleeps does not look,
  // and an app out of sight may be kept from beating.
  function lookForTheBeat() {
    const isExcused = document.hidden || document.readyState !== 'complete';
    if (isExcused || root.beats !== lastBeat) {
      lastBeat = root.beats;
      looksWithoutBeat = 0;
      return;
    }
    looksWithoutBeat += 1;
    if (looksWithoutBeat * secondsBetweenLooks === patienceSeconds) {
      showDead(hasStarted() ? 'stopped' : 'not-started', `no sign of life for ${patienceSeconds} s`);
    }
  }

  // A trap leaves the app dead even where it could no longer say so itself.
  function lookAtTheError(error) {
    if (error instanceof WebAssembly.RuntimeError) {
      showDead('stopped', root.dataset.crash ?? `${error}`);
    }
  }

  // In place of everything else, so that nothing of the dead app can be tapped, focused or taken for living.
  function showDead(why, said) {
    if (isDead) {
      return;
    }
    // An app that has not started may be slow; one that has stopped does not come back.
    isDead = why === 'stopped';
    const crash = keep(said);
    const template = document.getElementById('dead');
    const screen = template.content.cloneNode(true);
    const part = (name) => screen.querySelector(`[data-dead="${name}"]`);
    for (const other of screen.querySelectorAll(`[data-why]:not([data-why="${why}"])`)) {
      other.remove();
    }
    keepOneLanguage(screen);
    const [heading, restart, copy, field] = ['heading', 'restart', 'copy', 'field'].map(part);
    const outcomes = ['copied', 'by-hand', 'unread'].map(part);
    part('screen').id = `dead-${why}`;
    part('said').textContent = `${crash.at} ${crash.said}`;
    restart.addEventListener('click', () => location.reload());
    // Read before the tap: some browsers copy only at once.
    const records = readRecords();
    records.catch(() => {});
    copy.addEventListener('click', async () => {
      const outcome = await copyRecords(records, field);
      for (const one of outcomes) {
        one.hidden = one.dataset.dead !== outcome;
      }
      if (outcome === 'by-hand') {
        field.focus();
        field.select();
      }
    });
    document.body.replaceChildren(screen, template);
    heading.focus();
  }

  async function copyRecords(records, field) {
    try {
      field.value = await records;
    } catch {
      return 'unread';
    }
    try {
      await navigator.clipboard.writeText(field.value);
      return 'copied';
    } catch {
      return 'by-hand';
    }
  }

  // For whoever looks into it later.
  function keep(said) {
    const crash = { at: new Date().toISOString(), said };
    try {
      localStorage.setItem('evenrow.crash', JSON.stringify(crash));
    } catch {
      // Storage is shut or full: it is still on the screen.
    }
    return crash;
  }

  // Every record byte for byte, one a line: from the database, and from where they lie on phones without one.
  async function readRecords() {
    const weak = Object.keys(localStorage).filter((key) => key.startsWith('evenrow.record.'));
    const records = weak.map((key) => localStorage.getItem(key));
    try {
      records.unshift(...(await readDatabase()));
    } catch (trouble) {
      if (records.length === 0) {
        throw trouble;
      }
    }
    return records.map((record) => `${record}\n`).join('');
  }

  function readDatabase() {
    return new Promise((resolve, reject) => {
      const opening = indexedDB.open('evenrow');
      // There is none yet, and an empty one would keep the app from making its own.
      opening.onupgradeneeded = () => opening.transaction.abort();
      opening.onerror = () => (opening.error.name === 'AbortError' ? resolve([]) : reject(opening.error));
      opening.onsuccess = () => {
        const database = opening.result;
        const reading = database.transaction('records').objectStore('records').getAll();
        reading.onsuccess = () => resolve(reading.result);
        reading.onerror = () => reject(reading.error);
        database.close();
      };
    });
  }

  speak();
  paint();
  new MutationObserver(fillTheShell).observe(root, { childList: true, subtree: true });
  dark.addEventListener('change', paint);
  new MutationObserver(lookAtTheMarks).observe(root, {
    attributeFilter: ['data-theme', 'data-started', 'data-crash'],
  });
  setInterval(lookForTheBeat, secondsBetweenLooks * 1000);
  document.addEventListener('visibilitychange', () => {
    looksWithoutBeat = 0;
  });
  addEventListener('error', ({ error }) => lookAtTheError(error));
  addEventListener('unhandledrejection', ({ reason }) => lookAtTheError(reason));
})();
