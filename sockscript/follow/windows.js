// The small windows, and the settings in one of them.

const prepare = {
  go: () => {
    const tap = taps[Math.min(at, last - 1)];
    byId("go-section").value = String(tap.stop.s);
    fillSteps();
    byId("go-step").value = String(tap.first);
    setRows();
    byId("go-row").value = String(Math.max(tap.row, 1));
    byId("go-counter").value = "";
    showReadings();
  },
  mishap: () => { safeAt = safeBefore(at); showSafe(); },
  log: showLog,
  socks: showSocks,
  shows: () => {
    byId("shows-counter").value = "";
    put("shows-wrong", "");
    byId("shows-counter").focus();
  },
};
const open = (id) => {
  const dialog = byId(id);
  dialog.showModal();
  if (prepare[id]) prepare[id]();
};
for (const button of document.querySelectorAll("[data-opens]")) {
  button.addEventListener("click", () => {
    const around = button.closest("dialog");
    if (around) around.close();
    open(button.dataset.opens);
  });
}
for (const button of document.querySelectorAll("[data-closes]")) {
  button.addEventListener("click", () => button.closest("dialog").close());
}
// The space bar goes on with the knitting, not with the button that opened the window.
const toWork = () => { if (!document.querySelector("dialog[open]")) byId("main").focus({ preventScroll: true }); };
for (const dialog of document.querySelectorAll("dialog")) dialog.addEventListener("close", toWork);

// ---- settings

const applySettings = () => {
  document.documentElement.dataset.look = settings.look;
  document.documentElement.dataset.letters = settings.letters;
  for (const id of ["look", "letters", "pace"]) byId(id).value = String(settings[id]);
  for (const id of ["awake", "each", "single"]) byId(id).checked = settings[id];
  put("pedal-on-key", settings.onKey ? `now: ${settings.onKey}` : "");
  put("pedal-back-key", settings.backKey ? `now: ${settings.backKey}` : "");
  put("awake-note", canStayAwake ? "" : "(this browser cannot; set the tablet so that it stays on)");
  for (const one of document.querySelectorAll("[data-aloud]")) one.disabled = !canSpeak;
  stayAwake();
};
const change = (key, value) => {
  settings[key] = value;
  keepSettings();
  applySettings();
  show();
};
for (const id of ["look", "letters", "unit"]) byId(id).addEventListener("change", () => change(id, byId(id).value));
byId("unit").addEventListener("change", fillMeasures);
byId("knitter").addEventListener("change", () => change("knitter", byId("knitter").value.trim().slice(0, 60)));
for (const id of ["awake", "each", "single"]) byId(id).addEventListener("change", () => change(id, byId(id).checked));
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
byId("note-keep").addEventListener("click", keepNote);
byId("log").addEventListener("close", keepNote);
byId("log-save").addEventListener("click", () => { keepNote(); saveLog(); });
byId("log-print").addEventListener("click", () => { keepNote(); window.print(); });
window.addEventListener("beforeprint", fillPrint);
