// The needle beds: drawn as SVG and told in words, from the letters of a state.

const SVG = "http://www.w3.org/2000/svg";
const WIDTH = 10;               // of a needle, in units of the drawing
const SIDE = 44;                // room for the carriage at each end
const BACK_BAR = 24, FRONT_BAR = 112, BAR = 12;
const LARGEST = 1.3;            // times that a drawing is enlarged at most
const REACH = { 1: 14, 2: 20, 3: 28 };   // how far a needle stands out of its bed

// One needle from its letter; see needle_letter in states.py.
const needleOf = (letter) => {
  const code = letter.charCodeAt(0) - 97;
  return { letter, position: Math.floor(code / 6), loops: Math.floor((code % 6) / 2), laid: code % 2 };
};
const bedOf = (letters) => {
  const bed = [];
  for (const [, times, letter] of letters.matchAll(/(\d*)([a-x])/g)) {
    for (let n = Number(times || 1); n > 0; n -= 1) bed.push(needleOf(letter));
  }
  while (bed.length < pattern.needles) bed.push(needleOf("a"));
  return bed;
};
// Front and back bed of a state.
const bedsOf = (state) => pattern.states[state].slice(0, 2).map(bedOf);
// How many needles right of the middle the back bed stands.
const rackedBy = (state) => settingsOf({ state }).racking;
const nameOf = (index) => {
  const half = Math.floor(pattern.needles / 2);
  return index < half ? `L${half - index}` : `R${index - half + 1}`;
};

// The needles that each section uses, so that the picture stands still while it grows.
const used = pattern.sections.map((_, section) => {
  const states = new Set();
  for (const tap of taps) {
    if (tap.stop.s !== section) continue;
    for (const machine of [tap.now, tap.between, tap.done]) if (machine) states.add(machine.state);
  }
  let first = pattern.needles, end = 0;
  for (const state of states) {
    bedsOf(state).forEach((bed, which) => {
      const aside = which ? rackedBy(state) : 0;
      bed.forEach(({ letter }, n) => {
        if (letter !== "a") { first = Math.min(first, n + aside); end = Math.max(end, n + aside + 1); }
      });
    });
  }
  const middle = Math.floor(pattern.needles / 2);
  if (first >= end) [first, end] = [middle - 5, middle + 5];
  return { first: Math.max(first - 1, 0), end: Math.min(end + 1, pattern.needles) };
});
const sectionAt = (at) => taps[Math.min(at, last - 1)].stop.s;

const SIGNS = [
  ["one", pattern.signs.one, (n) => n.loops === 1 && n.position < 3],
  ["two", pattern.signs.two, (n) => n.loops === 2 && n.position < 3],
  ["held", pattern.signs.held, (n) => n.loops === 1 && n.position === 3],
  ["held-two", pattern.signs["held-two"], (n) => n.loops === 2 && n.position === 3],
  ["upper", pattern.signs.upper, (n) => n.position === 2],
  ["laid", pattern.signs.laid, (n) => n.laid === 1],
  ["empty", pattern.signs.empty, (n) => n.loops === 0 && n.position > 0],
  ["out", pattern.signs.out, (n) => n.position === 0 && n.loops === 0],
  ["changed", "has changed", () => false],
  ["spot", "is moved now", () => false],
  ["carriage", "carriage, and the way it goes next", () => false],
];

const shape = (name, attributes, parent) => {
  const one = document.createElementNS(SVG, name);
  for (const [key, value] of Object.entries(attributes)) one.setAttribute(key, value);
  if (parent) parent.append(one);
  return one;
};
const diamond = (x, y, r) => `M${x} ${y - r}L${x + r} ${y}L${x} ${y + r}L${x - r} ${y}Z`;

// One needle; `way` is 1 for the back bed (needles point down), -1 for the front bed.
const drawNeedle = (parent, needle, x, bar, way) => {
  if (needle.position === 0 && !needle.loops) {
    shape("circle", { cx: x, cy: bar + way * 4, r: 1.1, class: "out" }, parent);
    return;
  }
  const tip = bar + way * (REACH[needle.position] || 8);
  if (needle.position) shape("path", { d: `M${x} ${bar}V${tip}`, class: "stem" }, parent);
  if (needle.position === 2) shape("path", { d: `M${x - 3.5} ${bar + way * 9}h7`, class: "stem" }, parent);
  if (!needle.loops) shape("path", { d: `M${x - 2.5} ${tip}h5`, class: "stem" }, parent);
  const held = needle.position === 3;
  if (needle.loops === 1) {
    if (held) shape("path", { d: diamond(x, tip, 4.4), class: "ring" }, parent);
    else shape("circle", { cx: x, cy: tip, r: 3.4, class: "ring" }, parent);
  } else if (needle.loops === 2) {
    if (held) shape("path", { d: diamond(x, tip, 4.9), class: "ring" }, parent);
    else shape("circle", { cx: x, cy: tip, r: 4.1, class: "ring" }, parent);
    shape("circle", { cx: x, cy: tip, r: 1.5, class: "loop" }, parent);
  }
  if (needle.laid) {
    const y = tip + way * 7;
    shape("path", { d: `M${x - 5} ${y}q2.5 ${way * 4} 5 0t5 0`, class: "laid" }, parent);
  }
};

const carriageSign = (parent, x, top, bottom, next) => {
  shape("rect", { x, y: top, width: 32, height: bottom - top, rx: 6, class: "carriage" }, parent);
  const y = (top + bottom) / 2, a = next === "L" ? -1 : 1, middle = x + 16;
  shape("path", { d: `M${middle - a * 9} ${y}h${a * 17}M${middle + a * 2} ${y - 7}l${a * 7} 7l${-a * 7} 7`,
                  class: "arrow" }, parent);
};

const bedsWords = (machine) => [...(pattern.beds === 2 ? [bedWords(machine, 1)] : []), bedWords(machine, 0)];
const wordsFor = (machine) => [
  ...bedsWords(machine), `carriage at the ${sideWord(machine.side)}, row counter ${machine.counter}`].join("; ") + ".";

// Ticks and names of the first needle of each half and of every tenth of a strip, as far as the
// names have room. Those beside the middle lean away from it, so that both can be read.
const drawNumbers = (svg, from, to, top, letters) => {
  let free = -Infinity;
  for (let n = from; n < to; n += 1) {
    const name = nameOf(n);
    const number = Number(name.slice(1));
    if (number !== 1 && number % 10) continue;
    const middle = SIDE + (n - from + 0.5) * WIDTH;
    shape("path", { d: `M${middle} ${top - 7}v5`, class: "tick" }, svg);
    const wide = letters * 0.62 * name.length;
    const lean = number === 1 ? Math.max(0, (wide - WIDTH) / 2 + 1.5) : 0;
    const x = middle + (name[0] === "L" ? -lean : lean);
    if (x - wide / 2 < free) continue;
    const label = shape("text", { x, y: top - 10, "font-size": letters.toFixed(1), class: "number" }, svg);
    label.textContent = name;
    free = x + wide / 2 + 2;
  }
};

// The names of needles in bold, where the hand goes now; as many as have room.
const drawSpots = (svg, hand, y, letters) => {
  let free = -Infinity;
  for (const [name, x] of hand) {
    const wide = letters * 0.66 * name.length;
    if (x - wide / 2 < free) continue;
    const label = shape("text", { x, y, "font-size": letters.toFixed(1), class: "spot-name" }, svg);
    label.textContent = name;
    free = x + wide / 2 + 3;
  }
};

// Draws a machine into `box` with the needles that the section of tap `at` uses; `compare` marks
// the needles that are not as in that machine, `coming` those that the hand moves next.
const drawBeds = (box, at, machine, compare, coming) => {
  const range = used[sectionAt(at)];
  const [front, back] = bedsOf(machine.state);
  const old = compare && bedsOf(compare.state);
  const next = coming && bedsOf(coming.state);
  const beds = pattern.beds === 2 ? [[back, BACK_BAR + BAR, 1, 1], [front, FRONT_BAR, -1, 0]]
    : [[front, FRONT_BAR, -1, 0]];
  const all = range.end - range.first;
  const room = box.clientWidth || 360;
  // On a low screen the needles stand closer, so that one strip shows them all.
  const pitch = window.innerHeight <= 480 ? 5.2 : 8;
  const strips = Math.max(1, Math.ceil((all * pitch) / Math.max(room - 70, 120)));
  const each = Math.ceil(all / strips);
  const way = otherSide(machine.side);
  const seen = new Set(["carriage"]);
  const top = pattern.beds === 2 ? BACK_BAR : FRONT_BAR - 40;
  box.replaceChildren();
  for (let strip = 0; strip < strips; strip += 1) {
    const from = range.first + strip * each;
    const to = Math.min(from + each, range.end);
    const wide = each * WIDTH + 2 * SIDE;
    const letters = Math.min(15, 13 / Math.min(room / wide, LARGEST));
    const high = FRONT_BAR + BAR + 6 + (next ? letters + 6 : 0);
    const svg = shape("svg", { viewBox: `0 ${top - letters - 12} ${wide} ${high - top + letters + 12}`, role: "img" });
    svg.style.maxWidth = `${wide * LARGEST}px`;
    const title = shape("title", {}, svg);
    title.textContent = `${wordsFor(machine)}${strips > 1 ? ` Needles ${nameOf(from)} to ${nameOf(to - 1)}.` : ""}`;
    for (const [bed, bar, out, which] of beds) {
      shape("rect", { x: SIDE, y: out > 0 ? bar - BAR : bar, width: (to - from) * WIDTH, height: BAR, class: "bar" }, svg);
      // Needles that face each other stand below each other; the names are those of the front bed.
      const aside = which ? rackedBy(machine.state) : 0;
      const hand = [];
      for (let n = Math.max(from - aside, 0); n < Math.min(to - aside, pattern.needles); n += 1) {
        const x = SIDE + (n + aside - from + 0.5) * WIDTH;
        if (next && next[which][n].letter !== bed[n].letter) {
          seen.add("spot");
          hand.push([nameOf(n), x]);
          shape("rect", { x: x - 5, y: out > 0 ? bar - BAR : bar - 34, width: 10, height: 34 + BAR, rx: 3, class: "spot" }, svg);
        }
        drawNeedle(svg, bed[n], x, bar, out);
        for (const [sign, , fits] of SIGNS) if (fits(bed[n])) seen.add(sign);
        if (old && old[which][n].letter !== bed[n].letter) {
          seen.add("changed");
          shape("path", { d: `M${x - 4} ${bar - out * (BAR - 3)}h8`, class: "changed" }, svg);
        }
      }
      drawSpots(svg, hand, which ? top - 10 : FRONT_BAR + BAR + letters + 4, letters);
    }
    if (!next || same(back, next[1])) drawNumbers(svg, from, to, top, letters);
    const here = machine.side === "L" ? strip === 0 : strip === strips - 1;
    const right = SIDE + (to - from) * WIDTH + 6;
    if (here) carriageSign(svg, machine.side === "L" ? 6 : right, top, FRONT_BAR + BAR, way);
    box.append(svg);
  }
  return seen;
};

// The signs that were drawn, each with its meaning.
const drawLegend = (list, seen) => {
  const samples = { one: "i", two: "k", held: "u", "held-two": "w", upper: "o", laid: "j", empty: "g", out: "a" };
  list.replaceChildren();
  for (const [sign, words] of SIGNS) {
    if (!seen.has(sign)) continue;
    const item = document.createElement("li");
    const svg = shape("svg", { viewBox: sign === "carriage" ? "0 0 36 24" : "0 0 14 36", "aria-hidden": "true", class: sign === "carriage" ? "wide" : "" }, item);
    if (sign === "carriage") carriageSign(svg, 2, 1, 23, "R");
    else if (sign === "changed") shape("path", { d: "M3 17h8", class: "changed" }, svg);
    else if (sign === "spot") shape("rect", { x: 2, y: 2, width: 10, height: 32, rx: 3, class: "spot" }, svg);
    else drawNeedle(svg, needleOf(samples[sign]), 7, sign === "out" ? 13 : 2, 1);
    item.append(words);
    list.append(item);
  }
};

const same = (one, other) => one.every(({ letter }, n) => letter === other[n].letter);

// What a hand does to one needle, in words; "" for the needle that a stitch leaves.
const changeOf = (old, now) => {
  if (now.position !== old.position) {
    return ["out of work", old.position === 3 ? "back to work" : "into work",
            "into upper working position", "into hold"][now.position];
  }
  if (now.loops > old.loops) return old.loops ? "gets a second loop" : "gets a stitch";
  return now.laid > old.laid ? "gets the yarn laid over" : "";
};
const MOST_NAMED = 5;   // stretches of needles: more are read off the picture
// Which needles the hand moves between two machines: "R10 of the front bed into hold".
const changeWords = (before, after) => {
  const told = [];
  const old = bedsOf(before.state), now = bedsOf(after.state);
  for (const [name, which] of [["back", 1], ["front", 0]].slice(2 - pattern.beds)) {
    for (let first = 0; first < pattern.needles;) {
      const what = changeOf(old[which][first], now[which][first]);
      let end = first;
      while (what && end + 1 < pattern.needles && changeOf(old[which][end + 1], now[which][end + 1]) === what) end += 1;
      if (what) {
        const range = end > first ? `${nameOf(first)} to ${nameOf(end)}` : nameOf(first);
        told.push(`${range}${pattern.beds === 2 ? ` of the ${name} bed` : ""} ${end > first ? what.replace("gets", "get") : what}`);
      }
      first = end + 1;
    }
  }
  return told.length && told.length <= MOST_NAMED ? `Now ${told.join("; ")}.` : "";
};

// What hangs on every needle, in words: a list item for each stretch of needles alike.
const tellBeds = (list, machine) => {
  list.replaceChildren();
  const [front, back] = bedsOf(machine.state);
  const say = (words) => {
    const item = document.createElement("li");
    item.textContent = words;
    list.append(item);
  };
  for (const [name, bed] of [["Back", back], ["Front", front]].slice(2 - pattern.beds)) {
    const inUse = bed.map((n, index) => ({ ...n, index })).filter((n) => n.letter !== "a");
    if (!inUse.length) say(`${name} bed: all needles out of work.`);
    // Every other needle reads better as one stretch than as single ones.
    const step = inUse.length > 2 && inUse.every((n, i) => !i || n.index - inUse[i - 1].index === 2) ? 2 : 1;
    for (let first = 0; first < inUse.length;) {
      let end = first;
      while (end + 1 < inUse.length && inUse[end + 1].letter === inUse[first].letter
             && inUse[end + 1].index === inUse[end].index + step) end += 1;
      const needles = end - first + 1;
      const range = needles > 1 ? `${step === 2 ? "every other needle from " : ""}${nameOf(inUse[first].index)} to ${nameOf(inUse[end].index)} (${needles} needles)` : nameOf(inUse[first].index);
      const { position, loops, laid } = inUse[first];
      const where = ["out of work", "", "in upper working position", "in hold"][position];
      const what = ["empty", "one stitch", "two loops or more"][loops] + (needles > 1 && loops ? " each" : "");
      say(`${name} bed, ${range}: ${[what, where, laid ? "yarn laid over" : ""].filter(Boolean).join(", ")}.`);
      first = end + 1;
    }
  }
};

// How a bed is set and what hangs on it, in a line.
const bedWords = (machine, which) => pattern.words[pattern.states[machine.state][3 + which]];
// The rest of the settings, in a line.
const setWords = (machine) => settingsOf(machine).words;
