// Puts a place of the piece on the page.

let at = 0;               // the tap that comes next
let sock = FIRST_SOCK;
let turn = 0;             // of the newest place of this sock that this tab knows
let jumps = [];           // [from, to] of steps over several rows, so that one step goes back over them
let view = "now";

const put = (id, words) => { byId(id).textContent = words; };
const listed = (items) => {
  const list = document.createElement("ul");
  for (const words of items) {
    const item = document.createElement("li");
    item.textContent = words;
    list.append(item);
  }
  return list;
};

const tell = (words) => {
  put("message-text", words);
  byId("message").hidden = !words;
};

const spokenWords = () => {
  if (at >= last) return ["Finished.", ...pattern.finishing].join(" ");
  const { stop } = taps[at];
  const mind = (stop.w || []).map(([, number]) => text(number));
  return [`${whereOf(at)}.`, ...mind, text(stop.t), `${carriageOf(at).words}.`, `${cueOf(at)}.`].join(" ");
};

// The machine after the work by hand that comes now; null if there is none.
const handWork = () => {
  if (at >= last) return null;
  const tap = taps[at];
  return tap.row ? tap.between : tap.done;
};
// Taps of this stop that are left, if they are rows.
const rowsLeft = () => (at < last && taps[at].row ? taps[at].end - at : 0);
// How many taps the large button, the space bar and the pedal stand for.
const atOnce = () => (at >= last ? 0 : settings.single ? 1 : taps[at].end - at);

const viewsOf = () => {
  if (at >= last) return [["now", "Now", machineAt(at)]];
  const tap = taps[at], several = rowsLeft() > 1;
  return [["now", "Now", tap.now],
          ...(tap.between ? [["between", "After the hand work", tap.between]] : []),
          ["done", tap.row ? "After this row" : "When this is done", tap.done],
          ...(several ? [["end", "After the last row", taps[tap.end - 1].done]] : [])];
};

const showBeds = () => {
  const views = viewsOf();
  if (!views.some(([name]) => name === view)) view = "now";
  byId("views").replaceChildren(...views.map(([name, words]) => {
    const button = document.createElement("button");
    button.type = "button";
    button.textContent = words;
    button.setAttribute("aria-pressed", String(name === view));
    button.addEventListener("click", () => {
      view = name;
      showBeds();
      fitWords();
      byId("views").querySelector("[aria-pressed=true]").focus();
    });
    return button;
  }));
  const machine = views.find(([name]) => name === view)[2];
  const coming = view === "now" ? handWork() : null;
  const seen = drawBeds(byId("picture"), at, machine, view === "now" ? null : views[0][2],
                        coming && coming.state !== machine.state ? coming : null);
  drawLegend(byId("legend"), seen);
  tellBeds(byId("words"), machine);
  put("set-back", pattern.beds === 2 ? bedWords(machine, 1) : "");
  put("set-front", bedWords(machine, 0));
  put("set", setWords(machine));
};

const showTask = () => {
  const done = at >= last;
  const tap = done ? null : taps[at];
  const time = tap && tap.stop.i;
  put("where", whereOf(at) + (time ? ` · time ${time[0]} of ${time[1]}` : ""));
  put("cue", cueOf(at));
  put("text", done ? "Every step is done. What is left:" : text(tap.stop.t));
  const byHand = handWork();
  put("needles", byHand ? changeWords(tap.now, byHand) : "");
  const remarks = byId("remarks");
  const lines = done ? pattern.finishing.map((words) => [0, words])
    : (tap.stop.w || []).map(([mind, number]) => [mind, text(number)]);
  remarks.replaceChildren(...listed(lines.map(([mind, words]) => (mind ? `Mind: ${words}` : words))).children);
  lines.forEach(([mind], n) => { if (mind) remarks.children[n].className = "caution"; });
  remarks.hidden = !lines.length;
  byId("begin").hidden = at !== 0;
  byId("end").hidden = !done;
  const whole = tap && tap.stop.n ? pattern.whole[tap.stop.n] : undefined;
  byId("whole").hidden = !whole;
  put("whole-text", whole || "");
};

const showButtons = () => {
  const rows = rowsLeft(), all = at < last && taps[at].first === at;
  put("forward", at >= last ? "Finished" : !rows ? "Done"
    : atOnce() === 1 ? "Row done" : all ? `All ${rows} rows done` : `Last ${rows} rows done`);
  byId("forward").disabled = at >= last;
  byId("back").disabled = at === 0;
  for (const id of ["one", "ten", "shows-button"]) byId(id).hidden = rows < 2;
  put("one", settings.single ? `All ${rows}` : "1 row");
  byId("ten").disabled = rows <= 10;
};

// The step in letters as large as there is room for, and then the picture. The words down to the
// carriage come first: they should be read without scrolling.
const SIZES = [2.3, 2.05, 1.8, 1.6, 1.4, 1.25, 1.1, 0.95, 0.8, 0.7];
const SMALLEST = 17;   // pixels
const fitWords = () => {
  const pixels = (one, what) => parseFloat(getComputedStyle(one)[what]);
  const main = byId("main"), rem = pixels(document.documentElement, "fontSize");
  const task = document.querySelector(".task"), beds = document.querySelector(".beds"), way = document.querySelector(".way");
  const around = pixels(main, "paddingBottom") + pixels(task, "paddingBottom");
  const bottom = (parts) => Math.max(...parts.map((one) => one.offsetTop + one.offsetHeight)) - main.offsetTop + around;
  const fits = (parts) => SIZES.some((size) => {
    main.style.setProperty("--step", `${Math.max(size * rem, SMALLEST).toFixed(1)}px`);
    return bottom(parts) <= main.clientHeight && way.scrollWidth <= way.clientWidth;
  });
  if (!fits([...task.children])) fits([document.querySelector(".row")]);
  for (const part of [100, 90, 80, 70, 60]) {
    main.style.setProperty("--picture", `${part}%`);
    if (bottom([...beds.children]) <= main.clientHeight) return;
  }
  main.style.setProperty("--picture", "100%");
};

const show = () => {
  const machine = machineAt(at);
  showTask();
  put("counter", String(machine.counter));
  put("until", rowsLeft() > 1 ? `until ${taps[taps[at].end - 1].done.counter}` : "");
  const carriage = carriageOf(at);
  put("carriage", at >= last ? "" : carriage.words);
  put("arrow", carriage.way);
  put("left", at >= last ? "" : `about ${timeWords(secondsFor(at, last, settings.pace))} left`);
  showButtons();
  byId("bar").style.width = `${(100 * at) / Math.max(last, 1)}%`;
  put("size", [pattern.size === "one size" ? "" : `size ${pattern.size}`, sock,
               `${Math.floor((100 * at) / Math.max(last, 1))}% done`].filter(Boolean).join(" · "));
  showBeds();
  byId("main").scrollTop = 0;
  fitWords();
};

const showBefore = () => {
  const box = byId("before-lists");
  const part = (title, items, kind) => {
    if (!items.length) return;
    const head = document.createElement("h3");
    head.textContent = title;
    const list = listed(items);
    if (kind) list.className = kind;
    box.append(head, list);
  };
  part("Pattern", [[pattern.author && `by ${pattern.author}`, pattern.version && `version ${pattern.version}`,
                    pattern.licence].filter(Boolean).join(", "),
                   pattern.machine && `for the ${pattern.machine}`,
                   pattern.choices && `with ${pattern.choices}`,
                   `fingerprint ${pattern.fingerprint}`].filter(Boolean));
  part("Notes", pattern.notes);
  part("Cautions", pattern.cautions, "caution");
  for (const [title, items] of pattern.before) part(title, items);
  part("Measurements", pattern.measures.map(([name, value]) => `${name}: ${value}`));
};
