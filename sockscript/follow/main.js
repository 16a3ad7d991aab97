// From place to place: taps, keys, and how the page begins.

const BOUNCE = 200;   // a second press within so many milliseconds is the same one
let pressed = -BOUNCE;
let teaching = null;

// Shows a place without keeping it.
const stand = (place) => {
  at = Math.max(0, Math.min(place, last));
  view = "now";
  arrived = clock();
  show();
};
const goTo = (place, { speakIt = false } = {}) => {
  if (learn()) return;
  const before = at < last ? taps[at].stop : null;
  stand(place);
  turn += 1;
  if (!keepPlace(sock, at, turn, jumps)) tell(NOT_KEPT);
  const machine = machineAt(at);
  const stop = at < last ? taps[at].stop : null;
  put("said", stop === before
    ? `Row counter ${machine.counter}. ${carriageOf(at).words}. ${cueOf(at)}.`
    : spokenWords());
  if (speakIt && settings.each && stop !== before) speak(spokenWords());
};
// On from here to tap `to`, which was knitted; one step back goes over all of it.
const knitTo = (to) => {
  stayAwake();
  const now = clock();
  if (now - pressed < BOUNCE || at >= last || to <= at) return;
  pressed = now;
  if (learn()) return;
  timeStep(at, to);
  if (to - at > 1) jumps.push([at, to]);
  goTo(to, { speakIt: true });
};
const forward = () => knitTo(at + atOnce());
const back = () => {
  if (at === 0 || learn()) return;
  while (jumps.length && jumps.at(-1)[1] > at) jumps.pop();
  goTo(jumps.length && jumps.at(-1)[1] === at ? jumps.pop()[0] : at - 1);
};

// ---- taps and keys

byId("forward").addEventListener("click", forward);
byId("back").addEventListener("click", back);
byId("one").addEventListener("click", () => knitTo(settings.single ? taps[at].end : at + 1));
byId("ten").addEventListener("click", () => knitTo(Math.min(at + 10, last)));
for (const one of document.querySelectorAll("[data-aloud]")) {
  one.addEventListener("click", () => {
    if (byId("menu").open) byId("menu").close();
    speak(spokenWords());
  });
}
byId("message-close").addEventListener("click", () => { tell(""); fitWords(); toWork(); });
// After a tap on a button the space bar goes on with the knitting; who came by keyboard stays.
document.addEventListener("click", (event) => {
  if (event.detail > 0 && event.target.closest("button, summary")) toWork();
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
  const onControl = event.target.closest("button, select, input, textarea, summary, a") !== null;
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
  drawn = requestAnimationFrame(() => { showBeds(); fitWords(); });
});

// ---- beginning

const FAULTS = pattern.faults ? `The check found ${count(pattern.faults, "fault", "faults")} in this pattern. Do not knit it before it is mended.` : "";
const begin = () => {
  sock = currentName();
  const found = findPlace(sock);
  ({ turn, jumps } = found);
  stand(found.at);
  return found.message;
};
put("title", pattern.title);
applySettings();
showBefore();
fillSections();
tell(FAULTS);
const first = begin();
byId("main").focus({ preventScroll: true });
// The second store answers a moment later; until then the place of the first one stands.
mendStores(betterKept).then((mended) => {
  let message = first;
  if (mended.size) {
    Object.assign(settings, keptSettings());
    applySettings();
    message = begin();
    if (mended.has(PLACES + keyOf(sock))) message = [FOUND_AGAIN, message].filter(Boolean).join(" ");
  }
  tell([FAULTS, message].filter(Boolean).join(" "));
  fitWords();
  document.documentElement.dataset.ready = "yes";
});
