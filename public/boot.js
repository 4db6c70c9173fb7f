// Before the first paint: the theme. Ten seconds later: a way out if the app has not started.
// Knows nothing of the app but one preference and two marks on the root element; never touches records.
(() => {
  const root = document.documentElement;
  const dark = matchMedia('(prefers-color-scheme: dark)');
  const patienceMilliseconds = 10_000;

  function chosenTheme() {
    try {
      return JSON.parse(localStorage.getItem('evenrow.theme'));
    } catch {
      // Storage is shut or the entry is damaged: the system decides.
      return 'auto';
    }
  }

  function paint() {
    const chosen = chosenTheme();
    const bySystem = dark.matches ? 'night' : 'sun';
    root.dataset.theme = chosen === 'sun' || chosen === 'night' ? chosen : bySystem;
    colourTheFrame();
  }

  // The browser's own bars and blank page follow the theme shown, which may not be the system's.
  function colourTheFrame() {
    const theme = root.dataset.theme;
    document.querySelector('meta[name="color-scheme"]').content = theme === 'night' ? 'dark' : 'light';
    for (const bar of document.querySelectorAll('meta[name="theme-color"]')) {
      bar.media = bar.dataset.theme === theme ? 'all' : 'not all';
    }
  }

  // The app writes data-theme when the operator switches, and data-started once it has mounted.
  function lookAtTheMarks() {
    colourTheFrame();
    if (hasStarted()) {
      document.getElementById('boot-trouble').hidden = true;
    }
  }

  function hasStarted() {
    return root.dataset.started !== undefined;
  }

  function lookWhetherStarted() {
    if (!hasStarted()) {
      document.getElementById('boot-reload').addEventListener('click', () => location.reload());
      document.getElementById('boot-trouble').hidden = false;
      document.getElementById('shell')?.remove();
    }
  }

  paint();
  dark.addEventListener('change', paint);
  new MutationObserver(lookAtTheMarks).observe(root, { attributeFilter: ['data-theme', 'data-started'] });
  addEventListener('load', () => setTimeout(lookWhetherStarted, patienceMilliseconds));
})();
