"use strict";
(() => {
  const NEAR = { foot: 7, stitches: 1, yarn: 0.1 };
  const form = document.getElementById("wanted");
  const count = document.getElementById("count");
  const cards = [...document.querySelectorAll("ul.patterns > li")].map((item) => ({
    item,
    words: plain(item.textContent),
    feet: numbers(item.dataset.feet),
    works: numbers(item.dataset.works),
    stitches: numbers(item.dataset.stitches),
    yarn: numbers(item.dataset.yarn),
    beds: Number(item.dataset.beds || 9),
    clean: item.dataset.status === "clean",
  }));

  function plain(text) {
    return text.normalize("NFD").replace(/\p{Mn}/gu, "").toLowerCase();
  }

  function numbers(text) {
    return (text || "").split(" ").filter(Boolean).map(Number);
  }

  // What a number is multiplied by, if one of these stands after it: inches to cm, stitches in an
  // inch to those in 10 cm, yards to metres.
  const ALSO = {
    foot: [/(in|inch|inches|["”″])$/i, 2.54],
    stitches: [/(per|\/)\s*(in|inch|["”″])$/i, 10 / 2.54],
    yarn: [/(yd|yds|yards)$/i, 0.9144],
  };
  const PARTS = { "¼": 1 / 4, "½": 1 / 2, "¾": 3 / 4, "⅓": 1 / 3, "⅔": 2 / 3, "⅛": 1 / 8, "⅜": 3 / 8,
    "⅝": 5 / 8, "⅞": 7 / 8 };

  // "9.5", "9,5", "9½", "9 1/2": a number; anything else: NaN.
  function amount(text) {
    const found = /^(\d+(?:[.,]\d+)?)?\s*(?:([¼½¾⅓⅔⅛⅜⅝⅞])|(\d+)\/(\d+))?$/.exec(text);
    if (!found || text === "") {
      return NaN;
    }
    return Number((found[1] || "0").replace(",", ".")) + (found[2] ? PARTS[found[2]] : 0)
      + (found[3] ? Number(found[3]) / Number(found[4]) : 0);
  }

  // The number in a field; null when it is empty or none, which is marked.
  function wanted(name) {
    const field = form.elements[name];
    const typed = field.value.trim();
    const [unit, times] = ALSO[name];
    const text = typed.replace(unit, "").replace(/(cm|m)$/i, "").trim();
    const value = amount(text) * (unit.test(typed) ? times : 1);
    const bad = text !== "" && !(value > 0);
    field.toggleAttribute("aria-invalid", bad);
    if (bad) {
      field.setAttribute("aria-invalid", "true");
    }
    return text === "" || bad ? null : value;
  }

  function show() {
    const words = plain(form.elements.words.value).split(/\s+/).filter(Boolean);
    const cm = wanted("foot");
    const foot = cm === null ? null : cm * 10;
    const stitches = wanted("stitches");
    const yarn = wanted("yarn");
    const beds = form.elements.beds.value;
    const clean = form.elements.clean.value === "clean";
    let shown = 0;
    for (const card of cards) {
      const fits = words.every((word) => card.words.includes(word))
        && (foot === null || card.feet.some((one) => Math.abs(one - foot) <= NEAR.foot)
          || (card.works.length === 2 && card.works[0] <= foot && foot <= card.works[1]))
        && (stitches === null
          || card.stitches.some((one) => Math.abs(one - stitches) <= NEAR.stitches))
        && (yarn === null || card.yarn.some((one) => Math.abs(one - yarn) <= yarn * NEAR.yarn))
        && (beds === "" || card.beds <= Number(beds))
        && (!clean || card.clean);
      card.item.hidden = !fits;
      shown += fits ? 1 : 0;
    }
    count.textContent = shown === cards.length ? `${cards.length} patterns`
      : `${shown} of ${cards.length} patterns fit`;
  }

  let waiting = 0;
  form.addEventListener("input", () => {
    clearTimeout(waiting);
    waiting = setTimeout(show, 120);
  });
  form.addEventListener("submit", (event) => {
    event.preventDefault();
    show();
  });
  form.addEventListener("reset", () => setTimeout(show, 0));
  form.hidden = false;
  show();
})();
