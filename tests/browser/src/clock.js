// The time of day that the page believes: it stands still until the story moves it. Run before the page's own scripts,
// with the moment in milliseconds in place of WALL. Timers stay real: a click of the driver waits for its own.
(() => {
  const RealDate = Date;
  const ticks = new Set();
  let wall = WALL;

  globalThis.Date = new Proxy(RealDate, {
    apply: () => new RealDate(wall).toString(),
    construct: (_, given, as) => Reflect.construct(RealDate, given.length === 0 ? [wall] : given, as),
    get: (date, name) => (name === 'now' ? () => wall : Reflect.get(date, name)),
  });

  const realSetInterval = setInterval;
  globalThis.setInterval = (tick, ...rest) => {
    ticks.add(tick);
    return realSetInterval(tick, ...rest);
  };

  globalThis.storyClock = {
    // What ticks sees the new time at once, as after a phone that slept.
    set(moment) {
      wall = moment;
      ticks.forEach((tick) => tick());
    },
  };
})();
