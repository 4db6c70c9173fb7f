// The time of day and the steady clock that the page believes: both stand still until the story moves them. Run before
// the page's own scripts, with the moment in milliseconds in place of WALL. Timers stay real: a click of the driver waits
// for its own.
(() => {
  const RealDate = Date;
  const ticks = new Set();
  const ticksOfTheApp = new Map();
  let wall = WALL;
  let steady = 0;
  let hidden = false;
  let held = false;

  // A window that a story turns away from stays in sight until the story says otherwise.
  const withhold = (event) => event.isTrusted && event.stopImmediatePropagation();
  addEventListener('visibilitychange', withhold, true);

  performance.now = () => steady;
  Object.defineProperty(document, 'hidden', { get: () => hidden });
  Object.defineProperty(document, 'visibilityState', { get: () => (hidden ? 'hidden' : 'visible') });

  globalThis.Date = new Proxy(RealDate, {
    apply: () => new RealDate(wall).toString(),
    construct: (_, given, as) => Reflect.construct(RealDate, given.length === 0 ? [wall] : given, as),
    get: (date, name) => (name === 'now' ? () => wall : Reflect.get(date, name)),
  });

  const realSetInterval = setInterval;
  globalThis.setInterval = (tick, ...rest) => {
    ticks.add(tick);
    const timer = realSetInterval(() => held || tick(), ...rest);
    // Only the page's plain scripts are known while they run; whatever else sets a tick is the app.
    if (!document.currentScript) ticksOfTheApp.set(tick, timer);
    return timer;
  };

  globalThis.storyClock = {
    // Time passes, a minute at a time, as it does for a page that is let run all the while.
    pass(moment) {
      while (wall < moment) {
        const step = Math.min(60000, moment - wall);
        wall += step;
        steady += step;
        ticks.forEach((tick) => tick());
      }
    },
    // The phone sleeps: time passes and nothing runs. Whoever wakes it makes it tick.
    sleep(moment) {
      steady += moment - wall;
      wall = moment;
    },
    // Somebody has set the time of day, but nothing ticks by itself until every window has heard of it.
    hold(moment) {
      held = true;
      wall = moment;
    },
    // Somebody sets the time of day.
    set(moment) {
      held = false;
      wall = moment;
      ticks.forEach((tick) => tick());
    },
    // The page is out of sight, or seen again.
    hide(out) {
      hidden = out;
      document.dispatchEvent(new Event('visibilitychange', { bubbles: true }));
    },
    // The app ticks no more, and does not say so; everything else goes on.
    stopTheApp() {
      ticksOfTheApp.forEach((timer, tick) => {
        clearInterval(timer);
        ticks.delete(tick);
      });
    },
  };
})();
