// The places of the socks that are being knitted, and how the tabs of one sock learn of each other.

const PLACES = `${OURS}/`, CURRENT = `${OURS}-current/`, SETTINGS = `${OURS}-settings`;
const NOT_KEPT = "This browser keeps nothing when the page is closed. Write the row counter down before you stop.";
const FIRST_SOCK = "First sock";
const patternKey = JSON.stringify([pattern.title, pattern.version, pattern.size, pattern.choices]);
const keyOf = (name) => JSON.stringify([pattern.title, pattern.version, pattern.size, pattern.choices, name]);

// `turn` counts how often the place of a sock was kept: the highest is the newest, whatever the
// clock of the tablet says.
const isPlace = (value) => value !== null && typeof value === "object"
  && ["at", "of", "turn"].every((key) => Number.isInteger(value[key])) && value.at >= 0 && value.at <= value.of
  && ["title", "version", "size", "choices", "name", "mark"].every((key) => typeof value[key] === "string");
const asPlace = (kept) => {
  if (kept === null) return { missing: true };
  try {
    const value = JSON.parse(kept);
    return isPlace(value) ? { value } : { broken: true };
  } catch {
    return { broken: true };
  }
};
const readPlace = (own) => asPlace(store.read(PLACES + own));
// Whether the second store has a place that the local one has not, or has damaged, or has older.
const betterKept = (key, second, local) => {
  if (!key.startsWith(PLACES)) return false;
  const there = asPlace(second).value, here = asPlace(local).value;
  return Boolean(there) && (!here || there.turn > here.turn);
};

const timeOf = (stop) => (stop.i ? stop.i[0] : 0);

const currentName = () => {
  const name = store.read(CURRENT + patternKey);
  return name && name.length <= 60 ? name : FIRST_SOCK;
};

const MOST_JUMPS = 40;
const jumpsIn = (value) => (Array.isArray(value.jumps) && value.mark === pattern.mark
  ? value.jumps.filter((one) => Array.isArray(one) && one.every(Number.isInteger) && one[0] < one[1]) : []);

// The tap to begin at, the turn of the place, the jumps that lead there, and what the knitter must
// be told ("" if nothing).
const findPlace = (name) => {
  const { missing, broken, value } = readPlace(keyOf(name));
  if (missing) return { at: 0, turn: 0, jumps: [], message: "" };
  if (broken) {
    return { at: 0, turn: 0, jumps: [], message: "The place kept for this sock is damaged and cannot be read, so the page "
      + "stands at the beginning. Look at your row counter, and use 'Go to a place' to find your place again." };
  }
  let at = Math.min(value.at, last);
  let message = "";
  if (value.mark !== pattern.mark) {
    // The same words in the same section, at the same row: numbers of steps may have moved.
    const same = taps.findIndex(({ stop, row }) => pattern.sections[stop.s] === value.section
      && text(stop.t) === value.words && row === value.row && timeOf(stop) === value.time);
    if (same >= 0) at = same;
    message = "This pattern was changed since you last knitted from it, though its version is the same. "
      + "Compare the step, the row counter and the picture with your machine before you go on.";
  }
  return { at, turn: value.turn, jumps: jumpsIn(value), message };
};

const FOUND_AGAIN = "The browser had lost the place kept for this sock, or damaged it. It was found again in a "
  + "second store; compare the row counter and the picture with your machine before you go on.";

// Returns whether the place was kept.
const keepPlace = (name, at, turn, jumps) => {
  const tap = at < last ? taps[at] : null;
  return store.write(PLACES + keyOf(name), JSON.stringify({
    title: pattern.title, version: pattern.version, size: pattern.size, choices: pattern.choices, name,
    file: decodeURIComponent(location.pathname.split("/").pop() || ""), at, of: last, mark: pattern.mark, turn,
    where: whereOf(at), section: tap ? pattern.sections[tap.stop.s] : "", words: tap ? text(tap.stop.t) : "",
    row: tap ? tap.row : 0, time: tap ? timeOf(tap.stop) : 0, saved: moment(), jumps: jumps.slice(-MOST_JUMPS),
  }));
};

// All socks that are kept, the newest first; damaged ones too, so that they can be forgotten.
const allPlaces = () => store.keys().filter((key) => key.startsWith(PLACES)).map((key) => {
  const own = key.slice(PLACES.length);
  return { own, value: readPlace(own).value || null };
}).sort((one, two) => String(two.value && two.value.saved).localeCompare(String(one.value && one.value.saved)));

// Notes and times stay: they are a log of their own.
const forgetPlace = (own) => store.forget(PLACES + own);

const DEFAULTS = { look: "auto", letters: "plain", pace: pattern.pace[0], awake: true, each: false,
                   single: false, unit: "cm", knitter: "", onKey: "", backKey: "" };
const keptSettings = () => {
  let kept = {};
  try { kept = JSON.parse(store.read(SETTINGS) || "{}") || {}; } catch { kept = {}; }
  const found = { ...DEFAULTS };
  for (const key of Object.keys(DEFAULTS)) {
    if (typeof kept[key] === typeof DEFAULTS[key]) found[key] = kept[key];
  }
  if (!(found.pace >= 0.1 && found.pace <= 600)) found.pace = DEFAULTS.pace;
  return found;
};
const settings = keptSettings();
const keepSettings = () => store.write(SETTINGS, JSON.stringify(settings));
