// Puts a place of the piece on the page.

let at = 0;               // the tap that comes next
let sock = FIRST_SOCK;
let turn = 0;             // of the newest place of this sock that this tab knows
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
  return [`${whereOf(at)}.`, ...mind, text(stop.t), `${cueOf(at)}.`].join(" ");
};

const viewsOf = () => {
  if (at >= last) return [["now", "Now", machineAt(at)]];
  const tap = taps[at];
  return [["now", "Now", tap.now],
          ...(tap.between ? [["between", "After the hand work", tap.between]] : []),
          ["done", tap.row ? "After this row" : "When this is done", tap.done]];
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
      byId("views").querySelector("[aria-pressed=true]").focus();
    });
    return button;
  }));
  const machine = views.find(([name]) => name === view)[2];
  const seen = drawBeds(byId("picture"), at, machine, view === "now" ? null : views[0][2]);
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
  const remarks = byId("remarks");
  const lines = done ? pattern.finishing.map((words) => [0, words])
    : (tap.stop.w || []).map(([mind, number]) => [mind, text(number)]);
  remarks.replaceChildren(...listed(lines.map(([mind, words]) => (mind ? `Mind: ${words}` : words))).children);
  lines.forEach(([mind], n) => { if (mind) remarks.children[n].className = "caution"; });
  remarks.hidden = !lines.length;
  byId("begin").hidden = at !== 0;
  const whole = tap && tap.stop.n ? pattern.whole[tap.stop.n] : undefined;
  byId("whole").hidden = !whole;
  put("whole-text", whole || "");
};

const show = () => {
  const machine = machineAt(at);
  showTask();
  put("counter", String(machine.counter));
  put("carriage", at >= last ? "" : `Carriage at the ${sideWord(machine.side)}`);
  put("left", at >= last ? "" : `about ${timeWords(secondsLeft(at, settings.pace))} left`);
  put("forward", at >= last ? "Finished" : taps[at].row ? "Row done" : "Done");
  byId("forward").disabled = at >= last;
  byId("back").disabled = at === 0;
  byId("bar").style.width = `${(100 * at) / Math.max(last, 1)}%`;
  put("size", [pattern.size === "one size" ? "" : `size ${pattern.size}`, sock,
               `${Math.floor((100 * at) / Math.max(last, 1))}% done`].filter(Boolean).join(" · "));
  showBeds();
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
                   pattern.choices && `with ${pattern.choices}`].filter(Boolean));
  part("Notes", pattern.notes);
  part("Cautions", pattern.cautions, "caution");
  for (const [title, items] of pattern.before) part(title, items);
  part("Measurements", pattern.measures.map(([name, value]) => `${name}: ${value}`));
};
