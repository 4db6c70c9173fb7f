// The shim for browser calls that web-sys does not bind, or binds only as unstable: IndexedDB with strict durability,
// the update of the service worker, messages and locks between windows, the wake lock, notifications, and what single
// makers have added; and of what the browser knows of languages, which takes fewer bytes here. It decides nothing and keeps no state of the app; `device/*.rs` wraps it in types.

const DATABASE = "evenrow";
const RECORDS = "records";
let database;

const done = (request) =>
  new Promise((resolve, reject) => {
    request.onsuccess = () => resolve(request.result);
    request.onerror = () => reject(request.error);
    request.onblocked = () => reject(new Error("another window holds the records open"));
  });

// Opens the records; rejects where there is no IndexedDB.
export async function openRecords() {
  const request = indexedDB.open(DATABASE, 1);
  request.onupgradeneeded = () => request.result.createObjectStore(RECORDS);
  database = await done(request);
  // A newer version in another window must not be kept waiting by this one.
  database.onversionchange = () => database.close();
}

// All records, in no particular order.
export async function readRecords() {
  return done(database.transaction(RECORDS).objectStore(RECORDS).getAll());
}

// The records from a key on.
export async function readRecordsFrom(key) {
  return done(database.transaction(RECORDS).objectStore(RECORDS).getAll(IDBKeyRange.lowerBound(key)));
}

// How many records there are.
export async function countRecords() {
  return done(database.transaction(RECORDS).objectStore(RECORDS).count());
}

const write = () => database.transaction(RECORDS, "readwrite", { durability: "strict" });

const committed = (transaction) =>
  new Promise((resolve, reject) => {
    transaction.oncomplete = () => resolve();
    transaction.onabort = () => reject(transaction.error ?? new Error("the records were not kept"));
  });

// A record never replaces another: one that comes under a key already taken by other bytes gets a key of its own.
function addAll(transaction, keys, records, there) {
  const store = transaction.objectStore(RECORDS);
  const add = (key, at) => {
    const looked = store.get(key);
    looked.onsuccess = () => {
      if (looked.result !== undefined && looked.result !== records[at]) return add(key + "~", at);
      if (looked.result === undefined) store.add(records[at], key);
      if (at % 500 === 0) there(at);
    };
  };
  keys.forEach(add);
}

// Adds records and resolves only after the commit.
export async function appendRecords(keys, records) {
  const transaction = write();
  addAll(transaction, keys, records, () => {});
  return committed(transaction);
}

// The same for many that can still be stopped, all of them or none: calls back with how many are there by now.
let taking;

export async function takeInRecords(keys, records, there) {
  taking = write();
  addAll(taking, keys, records, there);
  return committed(taking).finally(() => {
    taking = undefined;
  });
}

export function stopTakingIn() {
  taking?.abort();
}

// Removes all records and resolves only after the commit. The only call that removes any.
export async function eraseRecords() {
  const transaction = write();
  transaction.objectStore(RECORDS).clear();
  return committed(transaction);
}

// Calls back every second, and whenever the page comes back to the eye, with what both clocks say and whether nobody sees the
// page. All of it in one call: a second that changes nothing should cost a phone next to nothing.
export function everySecond(tick) {
  const root = document.documentElement;
  const look = () => tick(Date.now(), performance.now(), document.hidden);
  setInterval(() => {
    look();
    // A sign of life, which boot.js looks for; a tick that does not come to its end is none. No attribute: for one the
    // browser would look over the whole page each second.
    root.beats = (root.beats ?? 0) + 1;
  }, 1000);
  for (const event of ['focus', 'pageshow', 'resume', 'visibilitychange']) addEventListener(event, look, true);
}

// Registers the service worker. Calls back when another version waits to take over.
export async function registerWorker(url, waits) {
  if (!navigator.serviceWorker) return;
  const registration = await navigator.serviceWorker.register(url, { updateViaCache: "none" });
  const look = () => {
    // The very first version also waits for a moment, and some browsers tell of it only once it is in charge.
    const another = registration.active && registration.waiting?.state === "installed";
    if (another && navigator.serviceWorker.controller) waits();
  };
  look();
  registration.addEventListener("updatefound", () => {
    registration.installing?.addEventListener("statechange", look);
  });
  // A page that stays open for weeks would never ask by itself; once an hour at most.
  let asked = Date.now();
  document.addEventListener("visibilitychange", () => {
    if (document.visibilityState === "visible" && 3600000 <= Date.now() - asked) {
      asked = Date.now();
      registration.update().catch(() => {});
    }
  });
}

// Lets the waiting version take over, and reloads once when it has.
export async function takeOver() {
  const registration = await navigator.serviceWorker.getRegistration();
  if (!registration?.waiting) return;
  navigator.serviceWorker.addEventListener("controllerchange", () => location.reload(), { once: true });
  registration.waiting.postMessage("take-over");
}

// Tells other windows that records were added or that all were erased, and hears it from them.
const windows = "BroadcastChannel" in globalThis ? new BroadcastChannel("evenrow") : undefined;

export function tellOtherWindows(erased) {
  windows?.postMessage(erased ? "erased" : "records");
}

export function hearOtherWindows(heard) {
  if (windows) windows.onmessage = ({ data }) => heard(data === "erased");
}

// Asks the browser not to throw the records away when space runs short.
export async function askToPersist() {
  return (await navigator.storage?.persist?.()) ?? false;
}

// How many bytes the app and its records take on this phone, as the browser reckons.
export async function storageUsed() {
  return (await navigator.storage?.estimate?.())?.usage;
}

// One timer; it replaces the one before it, and none is set without milliseconds. A page out of sight lets a timer that
// was set by a timer run once a minute only; with a message in between it counts as a fresh one.
const between = new MessageChannel();
let timer;
let setTimer;
between.port1.onmessage = () => {
  clearTimeout(timer);
  timer = setTimer?.();
};

export function wakeIn(milliseconds, wake) {
  clearTimeout(timer);
  setTimer = milliseconds === undefined ? undefined : () => setTimeout(wake, milliseconds);
  if (setTimer) between.port2.postMessage(undefined);
}

// The lock that keeps the screen awake. Lost when the page goes out of sight, when the battery runs low, or by letting go.
let wakeLock;

export function canStayAwake() {
  return "wakeLock" in navigator;
}

export function isAwake() {
  return wakeLock?.released === false;
}

// Rejects where the browser would not.
export async function stayAwake(lost) {
  const taken = await navigator.wakeLock.request("screen");
  taken.addEventListener("release", () => lost());
  wakeLock = taken;
}

export async function letSleep() {
  await wakeLock?.release();
}

// On some phones only a session that plays sounds in spite of the switch that mutes them, and it silences other apps.
export function playInSpiteOfTheSwitch(on) {
  if (navigator.audioSession) navigator.audioSession.type = on ? "playback" : "auto";
}

// "default", "granted", "denied"; nothing where there are no notifications.
export function mayNotify() {
  return navigator.serviceWorker ? globalThis.Notification?.permission : undefined;
}

export async function askToNotify() {
  return Notification.requestPermission();
}

const NOTIFICATION = "evenrow";

// One notification; it replaces the one before it, and makes itself heard only when told to.
export async function notify(title, body, again) {
  const registration = await navigator.serviceWorker.getRegistration();
  const icon = "icons/icon-192.png";
  await registration?.showNotification(title, { body, icon, tag: NOTIFICATION, renotify: again, silent: !again });
}

export async function clearNotifications() {
  const registration = await navigator.serviceWorker?.getRegistration();
  const shown = (await registration?.getNotifications({ tag: NOTIFICATION })) ?? [];
  shown.forEach((notification) => notification.close());
}

// Gravity as the phone feels it, in its own axes. To be called straight from a tap: some browsers ask the operator, and
// take the question only then. A sensor that is not there says nothing, or says nothing once.
let numb = () => {};

export function feelGravity(felt, failed, patienceMilliseconds) {
  numb();
  let patience;
  let over = false;
  const hear = ({ accelerationIncludingGravity: it }) => {
    if (typeof it?.x !== "number") return;
    clearTimeout(patience);
    felt(it.x, it.y, it.z);
  };
  numb = () => {
    over = true;
    clearTimeout(patience);
    removeEventListener("devicemotion", hear);
  };
  const fail = (refused) => {
    if (over) return;
    numb();
    failed(refused);
  };
  const listen = (answer) => {
    if (answer === "denied") fail(true);
    if (over) return;
    patience = setTimeout(() => fail(false), patienceMilliseconds);
    addEventListener("devicemotion", hear);
  };
  const asked = globalThis.DeviceMotionEvent?.requestPermission?.();
  if (asked) asked.then(listen, () => fail(true));
  else listen("granted");
}

export function stopFeeling() {
  numb();
}

// A number on the app's icon; none for 0.
export async function badge(count) {
  await (count === 0 ? navigator.clearAppBadge?.() : navigator.setAppBadge?.(count));
}

// A lock that only one window holds at a time. Gives the call that lets go of it, once it has been had; rejects when
// another window has kept it too long, which may be asleep.
export async function lock(name, patienceMilliseconds) {
  if (!navigator.locks) return () => {};
  const patience = new AbortController();
  setTimeout(() => patience.abort(), patienceMilliseconds);
  return new Promise((had, refused) => {
    const held = () => new Promise((letGo) => had(letGo));
    navigator.locks.request(name, { signal: patience.signal }, held).catch(refused);
  });
}

// The role of the one window that rings. A window that comes into sight takes it from whichever has it; one that goes
// out of sight leaves it to another that waits.
const RINGER = "evenrow ringer";
let handOn;
let queue;

const holdRinger = () =>
  new Promise((letGo) => {
    queue = undefined;
    handOn = letGo;
  });

function queueToRing() {
  const place = new AbortController();
  const again = () => {
    handOn = undefined;
    if (!place.signal.aborted) queueToRing();
  };
  queue = place;
  navigator.locks.request(RINGER, { signal: place.signal }, holdRinger).then(again, again);
}

function takeOverRinging() {
  const again = () => {
    handOn = undefined;
    queueToRing();
  };
  queue?.abort();
  navigator.locks.request(RINGER, { steal: true }, holdRinger).then(again, again);
}

async function leaveRinging() {
  const { pending } = await navigator.locks.query();
  if (document.hidden && pending.some((it) => it.name === RINGER)) handOn?.();
}

export function wantToRing() {
  if (!navigator.locks) return;
  const look = () => {
    if (!document.hidden && !handOn) takeOverRinging();
    else if (document.hidden && handOn) leaveRinging().catch(() => {});
  };
  document.addEventListener("visibilitychange", look);
  if (document.hidden) queueToRing();
  else takeOverRinging();
}

// Without locks nobody can know of other windows, and every window rings.
export function isRinger() {
  return !navigator.locks || handOn !== undefined;
}

// What the browser knows of the chosen language, made once for each choice.
let plurals;
let days;

// Chooses a language, and tells what stands between a whole number and its parts.
export function speak(language) {
  plurals = new Intl.PluralRules(language);
  // Countries that speak English set day and month in opposite orders; none misreads ISO 8601.
  const numeric = { timeZone: "UTC", year: "numeric", month: "numeric", day: "numeric" };
  days = language === "en" ? undefined : new Intl.DateTimeFormat(language, numeric);
  const parts = new Intl.NumberFormat(language).formatToParts(1.5);
  return parts.find(({ type }) => type === "decimal").value;
}

// The kind of plural that a number takes.
export const pluralOf = (number) => plurals?.select(number) ?? "other";

// The day of a moment of UTC, or nothing where the language writes it as ISO 8601.
export const dayOf = (milliseconds) => days?.format(milliseconds);

// What a language calls itself, as the first word of a line.
export function ownName(language) {
  const name = new Intl.DisplayNames(language, { type: "language" }).of(language);
  return name[0].toLocaleUpperCase(language) + name.slice(1);
}

// Where what has the focus goes away, the focus goes to what is picked in the grid it stood in, or to the heading of the
// screen: never to nowhere, from where a keyboard would have to begin again.
export function keepFocus() {
  let focused;
  addEventListener("focusin", ({ target }) => {
    focused = target;
  });
  new MutationObserver(() => {
    if (!focused || focused.isConnected || document.activeElement !== document.body) return;
    focused = undefined;
    const picked = document.querySelector("[role=gridcell][aria-selected=true]");
    (picked ?? document.querySelector("main h1"))?.focus({ preventScroll: true });
  }).observe(document.body, { childList: true, subtree: true });
}

// The browser's offer to put the app on the home screen comes before the app is there. It holds for one question.
let offer;
let hearOffer = () => {};

addEventListener("beforeinstallprompt", (event) => {
  event.preventDefault();
  offer = event;
  hearOffer();
});
addEventListener("appinstalled", () => {
  offer = undefined;
  hearOffer();
});

export function canInstall() {
  return offer !== undefined;
}

export function hearInstallOffer(changed) {
  hearOffer = changed;
}

export async function install() {
  const asked = offer;
  offer = undefined;
  hearOffer();
  await asked?.prompt();
}

// A shortcut that finds the app open brings no second window; the window there is told where to go.
globalThis.launchQueue?.setConsumer(({ targetURL }) => {
  const { hash } = new URL(targetURL ?? location.href);
  if (hash) location.hash = hash;
});

// What another app has shared, from the worker that holds it: the bytes of a file or nothing, and a text.
export async function takeShared() {
  const worker = navigator.serviceWorker?.controller;
  if (!worker) return [];
  return new Promise((had) => {
    const { port1, port2 } = new MessageChannel();
    port1.onmessage = ({ data }) => had(data);
    worker.postMessage("take-shared", [port2]);
    setTimeout(() => had([]), 5000);
  });
}
