// The data of the page, and every tap of the piece in order.

const pattern = JSON.parse(document.getElementById("data").textContent);
const byId = (id) => document.getElementById(id);

// One tap each: `now` is the machine before it, `between` after the hand work that goes with a
// row (or null), `done` after it; `row` counts the rows of the stop from 1 (0: hand work only);
// `first` and `end` are the first tap of the stop and the one after its last.
const taps = (() => {
  const found = [];
  let now = { state: pattern.start, side: "R", counter: 0 };
  for (const stop of pattern.stops) {
    const passes = stop.k || 0;
    const states = stop.a.flatMap(([state, times]) => Array(times).fill(state));
    let side = stop.c;
    const first = found.length, end = first + Math.max(passes, 1);
    for (let n = 0; n < Math.max(passes, 1); n += 1) {
      const between = n === 0 && stop.b !== undefined
        ? { state: stop.b, side: stop.c, counter: stop.r } : null;
      if (passes) side = side === "R" ? "L" : "R";
      const done = { state: states[n], side, counter: stop.r + (passes ? n + 1 : 0) };
      found.push({ stop, first, end, row: passes ? n + 1 : 0, passes, now, between, done,
                   safe: passes > 0 && stop.x[n] === "1" });
      now = done;
    }
  }
  return found;
})();
const last = taps.length;

// The machine when the next tap is number `at`.
const machineAt = (at) => (at < last ? taps[at].now : taps[last - 1].done);
const settingsOf = (machine) => {
  const [racking, yarn, words] = pattern.settings[pattern.states[machine.state][2]];
  return { racking, yarn, words };
};
const text = (number) => pattern.texts[number];
const sideWord = (side) => (side === "L" ? "left" : "right");
const otherSide = (side) => (side === "L" ? "R" : "L");
const count = (n, one, many) => `${n} ${n === 1 ? one : many}`;

// Seconds that the taps from `at` to `end` take, by seconds for a row, a stitch moved and a setting.
const secondsFor = (at, end, pace) => {
  const [, hand, setting] = pattern.pace;
  let seconds = 0;
  for (let n = at; n < end; n += 1) {
    const { stop, row } = taps[n];
    if (row) seconds += pace;
    if (row <= 1) seconds += (stop.h || 0) * hand + (stop.g || 0) * setting;
  }
  return seconds;
};
const timeWords = (seconds) => {
  const minutes = Math.ceil(seconds / 60);
  if (minutes < 60) return count(minutes, "minute", "minutes");
  const rest = minutes % 60;
  return `${count(Math.floor(minutes / 60), "hour", "hours")}${rest ? ` ${rest} minutes` : ""}`;
};

// What the next tap stands for, in a line.
const cueOf = (at) => {
  if (at >= last) return "";
  const { stop, row, passes, between } = taps[at];
  if (!row) return stop.h || stop.g ? "By hand" : "Read this";
  const lead = between ? "First by hand, then " : "";
  let what = passes === 1 ? "one row" : `row ${row} of ${passes}`;
  if (stop.u && passes > 2 && passes % 2 === 0) {
    what = `round ${Math.ceil(row / 2)} of ${passes / 2}, ${row % 2 ? "first" : "second"} row`;
  }
  const line = `${lead}${what}`;
  return line[0].toUpperCase() + line.slice(1);
};
// Where the carriage is, and which way it goes if it goes now.
const carriageOf = (at) => {
  const { side } = machineAt(at);
  if (at >= last || !taps[at].row) return { words: `Carriage at the ${sideWord(side)}`, way: "" };
  const from = taps[at].between ? taps[at].between.side : side, to = otherSide(from);
  return { words: `Carriage from ${sideWord(from)} to ${sideWord(to)}`, way: to === "L" ? "←" : "→" };
};

// Where a tap is: "Leg, step 15", with the time round a repeat.
const whereOf = (at) => {
  if (at >= last) return "Finished";
  const { stop } = taps[at];
  const step = stop.n ? `, step ${stop.n}` : "";
  return `${pattern.sections[stop.s]}${step}`;
};

// The last tap not after `at` that begins at a safe row; -1 if there is none.
const safeBefore = (at) => {
  for (let n = Math.min(at, last); n > 0; n -= 1) if (taps[n - 1].safe) return n;
  return -1;
};
