// The shim for browser calls that web-sys does not bind, or binds only as unstable: IndexedDB with strict durability,
// the update of the service worker, messages between windows. It decides nothing and keeps no state of the app;
// `device/*.rs` wraps it in types.

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

// Adds records and resolves only after the commit. A record never replaces another: one that comes under a key already
// taken by other bytes gets a key of its own.
export async function appendRecords(keys, records) {
  const transaction = database.transaction(RECORDS, "readwrite", { durability: "strict" });
  const committed = new Promise((resolve, reject) => {
    transaction.oncomplete = () => resolve();
    transaction.onabort = () => reject(transaction.error ?? new Error("the records were not kept"));
  });
  const store = transaction.objectStore(RECORDS);
  const add = (key, record) => {
    const looked = store.get(key);
    looked.onsuccess = () => {
      if (looked.result === undefined) store.add(record, key);
      else if (looked.result !== record) add(key + "~", record);
    };
  };
  keys.forEach((key, at) => add(key, records[at]));
  return committed;
}

// Registers the service worker. Calls back when another version waits to take over.
export async function registerWorker(url, waits) {
  if (!navigator.serviceWorker) return;
  const registration = await navigator.serviceWorker.register(url, { updateViaCache: "none" });
  const look = () => {
    if (registration.waiting && navigator.serviceWorker.controller) waits();
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

// Tells other windows that records were added, and hears it from them.
const windows = "BroadcastChannel" in globalThis ? new BroadcastChannel("evenrow") : undefined;

export function tellOtherWindows() {
  windows?.postMessage("records");
}

export function hearOtherWindows(heard) {
  if (windows) windows.onmessage = () => heard();
}

// Asks the browser not to throw the records away when space runs short.
export async function askToPersist() {
  return (await navigator.storage?.persist?.()) ?? false;
}
