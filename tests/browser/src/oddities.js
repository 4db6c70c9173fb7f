// What sets one phone apart from the next: what it lacks, what it refuses, and what it lets a story look into. Run before
// the page's own scripts, each oddity by its name.
const oddities = {
  // Every beep is written down by its wave: a triangle is gentle, a square is strong.
  ears() {
    const beeps = [];
    globalThis.storyBeeps = beeps;
    const start = OscillatorNode.prototype.start;
    OscillatorNode.prototype.start = function (...when) {
      beeps.push(this.type);
      return start.apply(this, when);
    };
  },

  noSound() {
    delete globalThis.AudioContext;
  },

  // The browser gives no sound, whatever is tapped.
  lockedSound() {
    Object.defineProperty(BaseAudioContext.prototype, 'state', { get: () => 'suspended' });
    AudioContext.prototype.resume = () => new Promise(() => {});
  },

  noWakeLock() {
    delete Navigator.prototype.wakeLock;
  },

  refusedWakeLock() {
    WakeLock.prototype.request = () => Promise.reject(new DOMException('the battery is low', 'NotAllowedError'));
  },

  // The story can take the lock away, as a phone does.
  wakeLockInHand() {
    const request = WakeLock.prototype.request;
    let taken;
    WakeLock.prototype.request = async function (...kind) {
      taken = await request.apply(this, kind);
      return taken;
    };
    globalThis.storyTakeWakeLock = () => taken.release();
  },

  readsAreCounted() {
    globalThis.storyRead = 0;
    const getAll = IDBObjectStore.prototype.getAll;
    IDBObjectStore.prototype.getAll = function (...which) {
      const request = getAll.apply(this, which);
      request.addEventListener('success', () => {
        globalThis.storyRead += request.result.length;
      });
      return request;
    };
  },

  // The dialog would hold the page until somebody answers it.
  printsAreCounted() {
    globalThis.storyPrinted = 0;
    globalThis.print = () => {
      globalThis.storyPrinted += 1;
    };
  },

  noPrinting() {
    Object.defineProperty(globalThis, 'print', { value: undefined });
  },

  // The browser offers it once the page is there, and counts how often it was asked, unless it asks by itself.
  offersTheHomeScreen() {
    globalThis.storyOffered = 0;
    const offer = new Event('beforeinstallprompt', { cancelable: true });
    offer.prompt = async () => {
      globalThis.storyOffered += offer.defaultPrevented ? 1 : 100;
    };
    // The browser of the story may have an offer of its own, which asks nobody.
    addEventListener('beforeinstallprompt', (event) => event === offer || event.stopImmediatePropagation());
    addEventListener('load', () => dispatchEvent(offer));
  },

  noWorker() {
    delete Navigator.prototype.serviceWorker;
  },

  badgeInSight() {
    globalThis.storyBadge = 0;
    navigator.setAppBadge = async (number) => {
      globalThis.storyBadge = number;
    };
    navigator.clearAppBadge = async () => {
      globalThis.storyBadge = 0;
    };
  },

  noNotifications() {
    delete globalThis.Notification;
  },

  // Nobody has been asked yet; how often that happens is counted, and the answer is no.
  notAskedYet() {
    globalThis.storyAsked = 0;
    let permission = 'default';
    Object.defineProperty(Notification, 'permission', { get: () => permission });
    Notification.requestPermission = async () => {
      globalThis.storyAsked += 1;
      permission = 'denied';
      return permission;
    };
  },

  // The phone asks from a tap before it lets an app feel how it lies; without a yes, nothing is felt.
  asksForSensors(answer = 'granted') {
    let given = false;
    DeviceMotionEvent.requestPermission = async () => {
      if (!navigator.userActivation.isActive) throw new DOMException('not from a tap', 'NotAllowedError');
      given = answer === 'granted';
      return answer;
    };
    addEventListener('devicemotion', (event) => given || event.stopImmediatePropagation(), true);
  },

  refusesSensors() {
    oddities.asksForSensors('denied');
  },

  // A share sheet that takes files, and writes down what it was handed.
  shareSheet() {
    const files = [];
    globalThis.storyFiles = files;
    navigator.canShare = (data) => data.files?.length === 1;
    navigator.share = async ({ files: [file] }) => {
      files.push({ name: file.name, type: file.type, text: await file.text() });
    };
  },

  // No share sheet: what is downloaded is written down.
  downloads() {
    const files = [];
    globalThis.storyFiles = files;
    delete Navigator.prototype.canShare;
    const made = new Map();
    const make = URL.createObjectURL;
    URL.createObjectURL = (blob) => {
      const address = make(blob);
      made.set(address, blob);
      return address;
    };
    HTMLAnchorElement.prototype.click = async function () {
      const blob = made.get(this.href);
      files.push({ name: this.download, type: blob.type, text: await blob.text() });
    };
  },

  // The operator changes their mind, or the phone will not.
  shareSheetThatFails() {
    navigator.canShare = () => true;
    navigator.share = async () => {
      throw new DOMException('no app takes it', 'NotAllowedError');
    };
  },

  databaseRefused() {
    indexedDB.open = () => {
      const request = { error: new DOMException('the database is broken', 'UnknownError') };
      queueMicrotask(() => request.onerror?.());
      return request;
    };
  },

  databaseBlocked() {
    indexedDB.open = () => {
      const request = {};
      queueMicrotask(() => request.onblocked?.());
      return request;
    };
  },

  databaseThrows() {
    IDBFactory.prototype.open = () => {
      throw new DOMException('not in this window', 'SecurityError');
    };
  },

  // The first record goes in, and then the whole transaction comes to nothing; or there is no space for it at all.
  writesInHand() {
    const add = IDBObjectStore.prototype.add;
    IDBObjectStore.prototype.add = function (...record) {
      if (globalThis.storyIsFull) throw new DOMException('the space is used up', 'QuotaExceededError');
      const request = add.apply(this, record);
      if (globalThis.storyWritesFail) request.addEventListener('success', () => this.transaction.abort());
      return request;
    };
  },

  noLocalStorage() {
    Object.defineProperty(globalThis, 'localStorage', { value: null });
  },

  localStorageThrows() {
    Object.defineProperty(globalThis, 'localStorage', {
      get() {
        throw new DOMException('not in this window', 'SecurityError');
      },
    });
  },

  localStorageFull() {
    Storage.prototype.setItem = () => {
      throw new DOMException('the space is used up', 'QuotaExceededError');
    };
  },
};
