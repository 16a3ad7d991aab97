// The places of the socks that are being knitted, kept in the browser.

const PLACES = "sockscript-follow/", COPIES = "sockscript-follow-copy/";
const CURRENT = "sockscript-follow-current/", SETTINGS = "sockscript-follow-settings";
const NOTES = "sockscript-follow-notes/";
const NOT_KEPT = "This browser keeps nothing when the page is closed. Write the row counter down before you stop.";
const FIRST_SOCK = "First sock";
const patternKey = JSON.stringify([pattern.title, pattern.version, pattern.size, pattern.choices]);
const keyOf = (name) => JSON.stringify([pattern.title, pattern.version, pattern.size, pattern.choices, name]);

// A browser may refuse to keep anything; then null is read and false is written.
const store = {
  read(key) { try { return localStorage.getItem(key); } catch { return null; } },
  write(key, value) { try { localStorage.setItem(key, value); return true; } catch { return false; } },
  forget(key) { try { localStorage.removeItem(key); } catch { /* nothing is kept anyway */ } },
  keys() { try { return Object.keys(localStorage); } catch { return []; } },
};

const isPlace = (value) => value !== null && typeof value === "object"
  && Number.isInteger(value.at) && Number.isInteger(value.of) && value.at >= 0 && value.at <= value.of
  && ["title", "version", "size", "choices", "name", "mark"].every((key) => typeof value[key] === "string");
const readPlace = (key) => {
  const kept = store.read(key);
  if (kept === null) return { missing: true };
  try {
    const value = JSON.parse(kept);
    return isPlace(value) ? { value } : { broken: true };
  } catch {
    return { broken: true };
  }
};

const timeOf = (stop) => (stop.i ? stop.i[0] : 0);

const currentName = () => {
  const name = store.read(CURRENT + patternKey);
  return name && name.length <= 60 ? name : FIRST_SOCK;
};

// The tap to begin at, and what the knitter must be told about it ("" if nothing).
const findPlace = (name) => {
  const kept = readPlace(PLACES + keyOf(name));
  const copy = kept.value ? kept : readPlace(COPIES + keyOf(name));
  if (kept.missing && copy.missing) return { at: 0, message: "" };
  if (!copy.value) {
    return { at: 0, message: "The place kept for this sock is damaged and cannot be read, so the page "
      + "stands at the beginning. Look at your row counter, and use 'Go to a step' to find your place again." };
  }
  const { value } = copy;
  let at = Math.min(value.at, last);
  let message = kept.value ? "" : "The place kept for this sock was damaged. It was found again in a second "
    + "copy; compare the row counter and the picture with your machine before you go on.";
  if (value.mark !== pattern.mark) {
    // The same words in the same section, at the same row: numbers of steps may have moved.
    const same = taps.findIndex(({ stop, row }) => pattern.sections[stop.s] === value.section
      && text(stop.t) === value.words && row === value.row && timeOf(stop) === value.time);
    if (same >= 0) at = same;
    message = "This pattern was changed since you last knitted from it, though its version is the same. "
      + "Compare the step, the row counter and the picture with your machine before you go on.";
  }
  return { at, message };
};

// Written twice, so that a damaged place can be found again.  Returns whether it was kept.
const keepPlace = (name, at) => {
  const tap = at < last ? taps[at] : null;
  const value = JSON.stringify({
    title: pattern.title, version: pattern.version, size: pattern.size, choices: pattern.choices, name,
    file: decodeURIComponent(location.pathname.split("/").pop() || ""), at, of: last, mark: pattern.mark,
    where: whereOf(at), section: tap ? pattern.sections[tap.stop.s] : "", words: tap ? text(tap.stop.t) : "",
    row: tap ? tap.row : 0, time: tap ? timeOf(tap.stop) : 0, saved: new Date().toISOString(),
  });
  return store.write(PLACES + keyOf(name), value) && store.write(COPIES + keyOf(name), value);
};

// All socks that are kept, the newest first; damaged ones too, so that they can be forgotten.
const allPlaces = () => store.keys().filter((key) => key.startsWith(PLACES)).map((key) => {
  const own = key.slice(PLACES.length);
  return { own, value: readPlace(key).value || null };
}).sort((one, two) => String(two.value && two.value.saved).localeCompare(String(one.value && one.value.saved)));

const forgetPlace = (own) => { store.forget(PLACES + own); store.forget(COPIES + own); store.forget(NOTES + own); };

const DEFAULTS = { look: "auto", letters: "plain", pace: pattern.pace[0], awake: true, each: false,
                   onKey: "", backKey: "" };
const settings = (() => {
  let kept = {};
  try { kept = JSON.parse(store.read(SETTINGS) || "{}") || {}; } catch { kept = {}; }
  const found = { ...DEFAULTS };
  for (const key of Object.keys(DEFAULTS)) {
    if (typeof kept[key] === typeof DEFAULTS[key]) found[key] = kept[key];
  }
  if (!(found.pace >= 0.1 && found.pace <= 600)) found.pace = DEFAULTS.pace;
  return found;
})();
const keepSettings = () => store.write(SETTINGS, JSON.stringify(settings));
