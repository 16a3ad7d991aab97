// The knitting log of a sock: notes tied to a place, the time that each step took, and what the
// finished sock measures. Every change reads what is kept first, so that two tabs lose nothing.

const LOGS = `${OURS}-log/`, LOG_FORM = "sockscript-log-1";
const LONGEST = 600;       // seconds between two taps: a longer wait is a pause, unless so long is expected
const MOST_NOTES = 500, LONGEST_NOTE = 2000;

const isNote = (one) => one !== null && typeof one === "object"
  && ["section", "words", "when"].every((key) => typeof one[key] === "string")
  && ["step", "counter"].every((key) => Number.isInteger(one[key]));
const readLog = (own) => {
  let kept = null;
  try { kept = JSON.parse(store.read(LOGS + own) || "null"); } catch { /* begun anew */ }
  const log = kept !== null && typeof kept === "object" ? kept : {};
  const part = (value) => (value !== null && typeof value === "object" && !Array.isArray(value) ? value : {});
  return {
    notes: Array.isArray(log.notes) ? log.notes.filter(isNote) : [],
    times: Object.fromEntries(Object.entries(part(log.times)).filter(([, one]) =>
      Array.isArray(one) && one.length === 4 && one.every((n) => Number.isFinite(n) && n >= 0))),
    measured: Object.fromEntries(Object.entries(part(log.measured)).filter(([, n]) => Number.isFinite(n) && n > 0)),
    name: typeof log.name === "string" ? log.name : "", title: typeof log.title === "string" ? log.title : "",
    began: typeof log.began === "string" ? log.began : "", ended: typeof log.ended === "string" ? log.ended : "",
  };
};
const changeLog = (change) => {
  const log = readLog(keyOf(sock));
  change(log);
  Object.assign(log, { name: sock, title: pattern.title, began: log.began || moment() });
  if (!store.write(LOGS + keyOf(sock), JSON.stringify(log))) tell(NOT_KEPT);
};
const isEmpty = (log) => !log.notes.length && !Object.keys(log.times).length && !Object.keys(log.measured).length;

// ---- time for each step: all seconds, pauses, and the rows without work by hand with their seconds

let arrived = NaN;   // when this place was reached
const timeStep = (from, to) => {
  const seconds = (clock() - arrived) / 1000;
  if (!(seconds >= 0) || from >= last) return;
  const { stop } = taps[from];
  changeLog((log) => {
    const key = `${stop.s}/${stop.n || 0}`;
    const [sum, pauses, rows, inRows] = log.times[key] || [0, 0, 0, 0];
    const paused = seconds > Math.max(LONGEST, 4 * secondsFor(from, to, settings.pace));
    const counted = paused ? 0 : Math.round(seconds * 10) / 10;
    const pure = taps[from].row > 0 && !stop.h && !stop.g && !paused;
    log.times[key] = [sum + counted, pauses + Number(paused), rows + (pure ? to - from : 0), inRows + (pure ? counted : 0)];
    if (to >= last) log.ended = moment();
  });
};
const secondsIn = (log, section) => Object.entries(log.times)
  .filter(([key]) => Number(key.split("/")[0]) === section).reduce((sum, [, [seconds]]) => sum + seconds, 0);

// ---- the file that goes back to the author

const wholeLog = () => {
  const { notes, times, measured, began, ended } = readLog(keyOf(sock));
  return {
    form: LOG_FORM, title: pattern.title, version: pattern.version, size: pattern.size, choices: pattern.chosen,
    machine: pattern.machine, mark: pattern.mark, fingerprint: pattern.fingerprint, knitter: settings.knitter, sock, began, ended,
    measured, notes, times: Object.entries(times).map(([key, [seconds, pauses, rows, inRows]]) => {
      const [section, step] = key.split("/").map(Number);
      return { section: pattern.sections[section] || "", step, seconds, pauses, rows, "row-seconds": inRows };
    }),
  };
};
const plainName = (words) => words.toLowerCase().normalize("NFKD").replace(/[^\p{L}\p{N}]+/gu, "-").replace(/^-+|-+$/g, "");
const saveLog = () => {
  const parts = [pattern.title, pattern.size === "one size" ? "" : pattern.size, settings.knitter, sock];
  const link = document.createElement("a");
  link.download = `${parts.map(plainName).filter(Boolean).join("-") || "sock"}.log.json`;
  link.href = URL.createObjectURL(new Blob([`${JSON.stringify(wholeLog(), null, 1)}\n`], { type: "application/json" }));
  link.click();
  setTimeout(() => URL.revokeObjectURL(link.href), 10_000);
};

// ---- the window of the log, and what is printed

const UNITS = { cm: 10, in: 25.4 };
const noteWhere = (note) => `${note.section}${note.step ? `, step ${note.step}` : ""}, row counter ${note.counter}`;
const measureWords = ([key, words, what], value) => (what === "grams" ? `${words}: ${value} g`
  : `${words}: ${(value / UNITS[settings.unit]).toFixed(1)} ${settings.unit}`);

const showNotes = () => {
  const { notes, times } = readLog(keyOf(sock));
  byId("note-list").replaceChildren(...notes.map((note, n) => {
    const item = document.createElement("li");
    const words = document.createElement("span");
    const where = document.createElement("strong");
    where.textContent = noteWhere(note);
    words.append(where, ` ${note.words}`);
    const remove = document.createElement("button");
    remove.type = "button";
    remove.textContent = "Delete";
    remove.setAttribute("aria-label", `Delete the note of ${noteWhere(note)}`);
    remove.addEventListener("click", () => {
      if (!confirm("Delete this note?")) return;
      changeLog((log) => { log.notes = log.notes.filter((one, m) => m !== n || one.words !== note.words); });
      showNotes();
    });
    item.append(words, remove);
    return item;
  }));
  put("note-label", `A note for this place (${whereOf(at)}, row counter ${machineAt(at).counter})`);
  const spent = pattern.sections.map((title, n) => [title, secondsIn({ times }, n)]).filter(([, seconds]) => seconds >= 1);
  byId("log-times").replaceChildren(...listed(spent.map(([title, seconds]) => `${title}: ${timeWords(seconds)}`)).children);
  byId("log-no-times").hidden = spent.length > 0;
};
const keepNote = () => {
  const words = byId("note").value.trim().slice(0, LONGEST_NOTE);
  if (!words) return;
  const tap = at < last ? taps[at] : taps[last - 1];
  changeLog((log) => {
    if (log.notes.length < MOST_NOTES) {
      log.notes.push({ section: pattern.sections[tap.stop.s], step: tap.stop.n || 0,
                       counter: machineAt(at).counter, words, when: moment() });
    }
  });
  byId("note").value = "";
  showNotes();
};
const fillMeasures = () => {
  const { measured } = readLog(keyOf(sock));
  byId("measure-list").replaceChildren(...pattern.tape.map((one, n) => {
    const [key, words, what] = one;
    const line = document.createElement("p");
    const label = document.createElement("label");
    const input = document.createElement("input");
    const unit = what === "grams" ? 1 : UNITS[settings.unit];
    Object.assign(input, { id: `measure-${n}`, type: "number", min: "0.1", max: "2000", step: "0.1", inputMode: "decimal" });
    label.htmlFor = input.id;
    label.textContent = `${words} (${what === "grams" ? "g" : settings.unit})`;
    input.value = measured[key] ? String(Math.round((measured[key] / unit) * 10) / 10) : "";
    input.addEventListener("input", () => changeLog((log) => {
      const value = Number(input.value);
      if (value > 0 && value <= 2000) log.measured[key] = Math.round(value * unit * 10) / 10;
      else delete log.measured[key];
    }));
    line.append(label, " ", input);
    return line;
  }));
};
const showLog = () => {
  byId("knitter").value = settings.knitter;
  byId("unit").value = settings.unit;
  showNotes();
  fillMeasures();
};

const fillPrint = () => {
  const log = readLog(keyOf(sock));
  const box = byId("print");
  const head = document.createElement("h1");
  head.textContent = [pattern.title, pattern.size === "one size" ? "" : `size ${pattern.size}`].filter(Boolean).join(", ");
  box.replaceChildren(head);
  const part = (title, items) => {
    if (!items.length) return;
    const words = document.createElement("h2");
    words.textContent = title;
    box.append(words, listed(items));
  };
  const tap = pattern.tape.filter(([key]) => log.measured[key]);
  part("Knitting log", [
    [settings.knitter && `knitted by ${settings.knitter}`, sock, pattern.version && `version ${pattern.version}`, pattern.choices].filter(Boolean).join(", "),
    [log.began && `begun ${log.began.slice(0, 10)}`, log.ended && `ended ${log.ended.slice(0, 10)}`].filter(Boolean).join(", "),
    `now: ${whereOf(at)}, row counter ${machineAt(at).counter}`].filter(Boolean));
  part("Notes", log.notes.map((note) => `${noteWhere(note)}: ${note.words}`));
  part("Time", pattern.sections.map((title, n) => [title, secondsIn(log, n)])
    .filter(([, seconds]) => seconds >= 1).map(([title, seconds]) => `${title}: ${timeWords(seconds)}`));
  part("Measurements, washed and rested", tap.map((one) => measureWords(one, log.measured[one[0]])));
};
