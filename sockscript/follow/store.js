// What the browser keeps: read at once from its local store, and written to a second one too, so
// that a local store which was emptied or damaged is noticed and mended.

const OURS = "sockscript-follow";
const SLOW = 2000;   // milliseconds after which a second store that does not answer is given up

const database = new Promise((found) => {
  try {
    const asked = indexedDB.open(OURS, 1);
    asked.onupgradeneeded = () => asked.result.createObjectStore("kept");
    asked.onsuccess = () => found(asked.result);
    asked.onerror = asked.onblocked = () => found(null);
  } catch { found(null); }
});
const inSecond = (work) => database.then((open) => {
  try { if (open) work(open.transaction("kept", "readwrite").objectStore("kept")); } catch { /* one store is left */ }
});
const inSecondNow = () => database.then((open) => new Promise((found) => {
  setTimeout(() => found(new Map()), SLOW);
  try {
    const kept = open.transaction("kept").objectStore("kept");
    const keys = kept.getAllKeys(), values = kept.getAll();
    values.onsuccess = () => found(new Map(keys.result.map((key, n) => [key, values.result[n]])));
    values.onerror = () => found(new Map());
  } catch { found(new Map()); }
}));

// A browser may refuse to keep anything; then null is read and false is written.
const store = {
  read(key) { try { return localStorage.getItem(key); } catch { return null; } },
  write(key, value) {
    inSecond((second) => second.put(value, key));
    try { localStorage.setItem(key, value); return true; } catch { return false; }
  },
  forget(key) {
    inSecond((second) => second.delete(key));
    try { localStorage.removeItem(key); } catch { /* nothing is kept anyway */ }
  },
  keys() { try { return Object.keys(localStorage).filter((key) => key.startsWith(OURS)); } catch { return []; } },
};

// Makes both stores hold the same: what the local one lacks comes from the second, and so does
// what `better(second, local)` prefers. Returns the keys that were mended.
const mendStores = async (better) => {
  const second = await inSecondNow();
  const mended = new Set();
  for (const [key, value] of second) {
    const here = store.read(key);
    if (here === value || typeof value !== "string") continue;
    if (here !== null && !better(key, value, here)) continue;
    if (store.write(key, value)) mended.add(key);
  }
  for (const key of store.keys()) {
    if (!mended.has(key) && second.get(key) !== store.read(key)) store.write(key, store.read(key));
  }
  return mended;
};

// The time of day as text; "" where the clock gives none.
const moment = () => { try { return new Date(Date.now()).toISOString(); } catch { return ""; } };
// Milliseconds for measuring how long something took; NaN where the clock gives none.
const clock = () => { try { return Number(performance.now()); } catch { return NaN; } };
