// Taps, keys and the small windows.

const BOUNCE = 200;   // a second press within so many milliseconds is the same one
let pressed = -BOUNCE;
let teaching = null;

// Shows a place without keeping it.
const stand = (place) => {
  at = Math.max(0, Math.min(place, last));
  view = "now";
  show();
};
const goTo = (place, { speakIt = false } = {}) => {
  if (learn()) return;
  const before = at < last ? taps[at].stop : null;
  stand(place);
  turn += 1;
  if (!keepPlace(sock, at, turn)) tell(NOT_KEPT);
  const machine = machineAt(at);
  const stop = at < last ? taps[at].stop : null;
  put("said", stop === before
    ? `Row counter ${machine.counter}, carriage at the ${sideWord(machine.side)}. ${cueOf(at)}.`
    : spokenWords());
  if (speakIt && settings.each && stop !== before) speak(spokenWords());
};
const forward = () => {
  stayAwake();
  const now = clock();
  if (now - pressed < BOUNCE || at >= last) return;
  pressed = now;
  goTo(at + 1, { speakIt: true });
};
const back = () => { if (at > 0) goTo(at - 1); };

// ---- mishaps

let safeAt = -1;
const showSafe = () => {
  const none = safeAt < 0;
  for (const id of ["safe-go", "safe-picture", "safe-words", "safe-how"]) byId(id).hidden = none;
  byId("safe-earlier").hidden = none || safeBefore(safeAt - 1) < 0;
  if (none) {
    put("safe-where", "No row is safe yet: begin again from the first step.");
    return;
  }
  const machine = machineAt(safeAt);
  const tap = taps[safeAt - 1];
  const rows = taps.slice(safeAt, at).filter((one) => one.row).length;
  put("safe-where", `The last safe row: ${whereOf(safeAt - 1)}, row counter ${machine.counter}, carriage at the `
    + `${sideWord(machine.side)}${tap.passes > 1 ? `, after row ${tap.row} of ${tap.passes}` : ""}. This is what should hang on the needles there:`);
  drawBeds(byId("safe-picture"), safeAt - 1, machine, null);
  tellBeds(byId("safe-words"), machine);
  const byHand = taps.slice(safeAt, Math.min(at + 1, last)).some((one) => one.stop.h);
  const yarn = settingsOf(machine).yarn;
  byId("safe-how").replaceChildren(...listed([
    byHand ? "Stitches were moved by hand since then, or are being moved now: put them back where the picture has them." : "",
    rows ? `Ravel back ${count(rows, "row", "rows")} and put each loop back on its needle.`
      : "No whole row has been knitted since: put each loop back on its needle.",
    yarn && settingsOf(machineAt(at)).yarn !== yarn ? `Thread the ${yarn} again.` : "",
    `Bring the carriage to the ${sideWord(machine.side)} without knitting, and set the row counter to ${machine.counter}.`,
    `Set the machine as it was: ${[...bedsWords(machine), setWords(machine)].join("; ")}.`,
    "Look at every loop for splits, twists and dropped stitches before you go on.",
  ].filter(Boolean)).children);
};

// ---- socks

const showSocks = () => {
  const list = byId("sock-list");
  const items = allPlaces().map(({ own, value }) => {
    const item = document.createElement("li");
    const words = document.createElement("span");
    const here = own === keyOf(sock);
    words.textContent = value === null ? "A place that cannot be read."
      : `${value.title}${value.version ? ` ${value.version}` : ""}, ${value.size}, ${value.name}: ${value.where || ""}, ${Math.floor((100 * value.at) / Math.max(value.of, 1))}% done${here ? " (this one)" : ""}`;
    item.append(words);
    const button = (label, act) => {
      const one = document.createElement("button");
      one.type = "button";
      one.textContent = label;
      one.setAttribute("aria-label", `${label}: ${words.textContent}`);
      one.addEventListener("click", act);
      item.append(one);
    };
    if (value !== null && !here && own === keyOf(value.name)) button("Go on with it", () => openSock(value.name));
    else if (value !== null && !here && value.file) words.textContent += `. Its page is the file ${value.file}.`;
    button("Forget", () => {
      if (!confirm("Forget this place? This cannot be undone.")) return;
      forgetPlace(own);
      if (here) { goTo(0); forgetPlace(own); }
      showSocks();
    });
    return item;
  });
  list.replaceChildren(...items);
};
const openSock = (name) => {
  sock = name;
  store.write(CURRENT + patternKey, name);
  const found = findPlace(name);
  turn = found.turn;
  tell(found.message);
  byId("socks").close();
  goTo(found.at);
};

// ---- small windows

const prepare = {
  go: () => {
    const chosen = at < last ? taps.findIndex(({ stop }) => stop === taps[at].stop) : 0;
    byId("go-step").value = String(chosen);
    setRows();
    byId("go-row").value = String(at < last ? Math.max(taps[at].row, 1) : 1);
  },
  mishap: () => { safeAt = safeBefore(at); showSafe(); },
  notes: () => { byId("own-notes").value = store.read(NOTES + keyOf(sock)) || ""; },
  socks: showSocks,
};
const setRows = () => {
  const tap = taps[Number(byId("go-step").value)];
  byId("go-row").max = String(Math.max(tap.passes, 1));
  byId("go-row").disabled = tap.passes < 2;
  byId("go-row").value = "1";
};
for (const button of document.querySelectorAll("[data-opens]")) {
  button.addEventListener("click", () => {
    const dialog = byId(button.dataset.opens);
    dialog.showModal();
    if (prepare[dialog.id]) prepare[dialog.id]();
  });
}
for (const button of document.querySelectorAll("[data-closes]")) {
  button.addEventListener("click", () => button.closest("dialog").close());
}
const fillSteps = () => {
  const select = byId("go-step");
  let group = null, section = -1;
  taps.forEach((tap, n) => {
    if (tap.row > 1) return;
    if (tap.stop.s !== section) {
      section = tap.stop.s;
      group = document.createElement("optgroup");
      group.label = pattern.sections[section];
      select.append(group);
    }
    const option = document.createElement("option");
    option.value = String(n);
    const time = tap.stop.i ? ` (time ${tap.stop.i[0]})` : "";
    const words = text(tap.stop.t);
    option.textContent = `${tap.stop.n || ""}${time} ${words.length > 60 ? `${words.slice(0, 58)}…` : words}`;
    group.append(option);
  });
};

// ---- settings

const applySettings = () => {
  document.documentElement.dataset.look = settings.look;
  document.documentElement.dataset.letters = settings.letters;
  for (const id of ["look", "letters", "pace"]) byId(id).value = String(settings[id]);
  for (const id of ["awake", "each"]) byId(id).checked = settings[id];
  put("pedal-on-key", settings.onKey ? `now: ${settings.onKey}` : "");
  put("pedal-back-key", settings.backKey ? `now: ${settings.backKey}` : "");
  put("awake-note", canStayAwake ? "" : "(this browser cannot; set the tablet so that it stays on)");
  byId("aloud").disabled = !canSpeak;
  stayAwake();
};
const change = (key, value) => {
  settings[key] = value;
  keepSettings();
  applySettings();
  show();
};
for (const id of ["look", "letters"]) byId(id).addEventListener("change", () => change(id, byId(id).value));
for (const id of ["awake", "each"]) byId(id).addEventListener("change", () => change(id, byId(id).checked));
byId("pace").addEventListener("change", () => {
  const value = Number(byId("pace").value);
  change("pace", value >= 0.1 && value <= 600 ? value : settings.pace);
});
const teach = (key, id) => {
  teaching = key;
  put(id, "Press the pedal now (Escape: leave it as it is).");
};
byId("pedal-on").addEventListener("click", () => teach("onKey", "pedal-on-key"));
byId("pedal-back").addEventListener("click", () => teach("backKey", "pedal-back-key"));

// ---- taps and keys

byId("forward").addEventListener("click", forward);
byId("back").addEventListener("click", (event) => {
  back();
  // After a tap on Back the space bar must not go back again.
  if (event.detail > 0) byId("main").focus({ preventScroll: true });
});
byId("aloud").addEventListener("click", (event) => {
  speak(spokenWords());
  if (event.detail > 0) byId("main").focus({ preventScroll: true });
});
byId("message-close").addEventListener("click", () => { tell(""); byId("main").focus(); });
byId("go-step").addEventListener("change", setRows);
byId("go-now").addEventListener("click", () => {
  const first = Number(byId("go-step").value);
  const wanted = Math.floor(Number(byId("go-row").value)) || 1;
  byId("go").close();
  goTo(first + Math.max(0, Math.min(wanted, Math.max(taps[first].passes, 1)) - 1));
});
byId("safe-earlier").addEventListener("click", () => { safeAt = safeBefore(safeAt - 1); showSafe(); });
byId("safe-go").addEventListener("click", () => { byId("mishap").close(); goTo(safeAt); });
byId("sock-new").addEventListener("click", () => {
  const name = byId("sock-name").value.trim();
  if (!name) { byId("sock-name").focus(); return; }
  byId("sock-name").value = "";
  openSock(name);
});

byId("own-notes").addEventListener("input", () => {
  if (!store.write(NOTES + keyOf(sock), byId("own-notes").value)) tell(NOT_KEPT);
});

document.addEventListener("keydown", (event) => {
  if (teaching) {
    event.preventDefault();
    if (["Shift", "Control", "Alt", "Meta"].includes(event.key)) return;
    const key = teaching, other = key === "onKey" ? "backKey" : "onKey";
    teaching = null;
    // Escape leaves all as it is; without Tab and Enter the page could not be used by keyboard.
    const taught = ["Escape", "Tab", "Enter"].includes(event.key) ? settings[key] : event.key;
    if (settings[other] === taught) settings[other] = "";
    change(key, taught);
    return;
  }
  if (event.altKey || event.ctrlKey || event.metaKey || document.querySelector("dialog[open]")) return;
  const onControl = event.target.closest("button, select, input, summary, a") !== null;
  // What a pedal was taught comes before what the keys do otherwise.
  const off = event.key === settings.backKey
    || (["PageUp", "ArrowLeft"].includes(event.key) && event.key !== settings.onKey);
  const on = !off && (event.key === settings.onKey || ["PageDown", "ArrowRight"].includes(event.key)
    || (event.key === " " && !onControl));
  if (!on && !off) return;
  event.preventDefault();
  if (event.repeat) return;
  if (on) forward();
  else back();
});
let drawn = 0;
window.addEventListener("resize", () => {
  cancelAnimationFrame(drawn);
  drawn = requestAnimationFrame(showBeds);
});

// ---- beginning

const FAULTS = pattern.faults ? `The check found ${count(pattern.faults, "fault", "faults")} in this pattern. Do not knit it before it is mended.` : "";
const begin = () => {
  sock = currentName();
  const found = findPlace(sock);
  turn = found.turn;
  stand(found.at);
  return found.message;
};
put("title", pattern.title);
applySettings();
showBefore();
fillSteps();
tell(FAULTS);
const atOnce = begin();
byId("main").focus({ preventScroll: true });
// The second store answers a moment later; until then the place of the first one stands.
mendStores(betterKept).then((mended) => {
  let message = atOnce;
  if (mended.size) {
    Object.assign(settings, keptSettings());
    applySettings();
    message = begin();
    if (mended.has(PLACES + keyOf(sock))) message = [FOUND_AGAIN, message].filter(Boolean).join(" ");
  }
  tell([FAULTS, message].filter(Boolean).join(" "));
  document.documentElement.dataset.ready = "yes";
});
