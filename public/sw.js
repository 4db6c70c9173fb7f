// Keeps one whole, checked copy of the app on the phone and answers from it, network or not.
// Never keeps a file that the build did not list, never replaces a running version by itself, never touches records.

// The stamp chore writes these two lines: the sum of the whole build, and each file's path with the sum of its bytes.
const VERSION = 'unstamped';
const FILES = [];

// With the scope in the name, a second copy of the app under another path of the same site keeps its own files.
const OURS = `evenrow ${registration.scope} `;
const CACHE = OURS + VERSION;

// What another app has shared, until the page has asked for it: the bytes of a file or nothing, and a text. It is kept
// nowhere else, and the worker lives until it is taken.
let shared = [];
let forget = () => {};

addEventListener('install', (event) => event.waitUntil(keepEveryFile()));
addEventListener('activate', (event) => event.waitUntil(dropOtherVersions()));

// A new version waits until the page says that the operator agrees.
addEventListener('message', (event) => {
  if (event.data === 'take-over') {
    event.waitUntil(skipWaiting());
  }
  if (event.data === 'take-shared') {
    event.ports[0].postMessage(shared);
    shared = [];
    forget();
  }
});

// A tapped notification leads back to the app.
addEventListener('notificationclick', (event) => {
  event.notification.close();
  event.waitUntil(showTheApp());
});

addEventListener('fetch', (event) => {
  const { request } = event;
  if (request.method === 'POST' && request.url === new URL('share', registration.scope).href) {
    event.respondWith(receive(request));
    event.waitUntil(new Promise((taken) => (forget = taken)));
  }
  if (request.method === 'GET' && new URL(request.url).origin === location.origin) {
    event.respondWith(answer(request));
  }
});

// All or nothing: one file missing, cut short or of another build, and the version before stays in charge.
async function keepEveryFile() {
  const cache = await caches.open(CACHE);
  try {
    for (const [path, integrity] of FILES) {
      const response = await fetch(new Request(path, { cache: 'reload', integrity }));
      if (!response.ok) {
        throw new Error(`${path} answered ${response.status}`);
      }
      await cache.put(path, response);
    }
  } catch (trouble) {
    await caches.delete(CACHE);
    throw trouble;
  }
}

async function dropOtherVersions() {
  for (const name of await caches.keys()) {
    if (name.startsWith(OURS) && name !== CACHE) {
      await caches.delete(name);
    }
  }
  await clients.claim();
}

async function answer(request) {
  const cache = await caches.open(CACHE);
  const kept = await cache.match(request, { ignoreSearch: true, ignoreVary: true });
  if (kept) {
    return kept;
  }
  // The app is one page; at any other path its relative addresses would point nowhere.
  if (request.mode === 'navigate' && new URL(request.url).pathname !== new URL(registration.scope).pathname) {
    return Response.redirect(registration.scope);
  }
  return fetch(request);
}

async function receive(request) {
  const form = await request.formData();
  const file = form.get('file');
  const text = ['title', 'text', 'url'].map((part) => form.get(part)).filter(Boolean);
  shared = [file?.arrayBuffer && (await file.arrayBuffer()), text.join('\n')];
  return Response.redirect(`${registration.scope}#do/shared`, 303);
}

// Of several windows the one that was in use last.
async function showTheApp() {
  const [latest] = await clients.matchAll({ type: 'window' });
  await (latest ? latest.focus() : clients.openWindow(registration.scope));
}
