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

  // The number in a field; null when it is empty or none, which is marked.
  function wanted(name) {
    const field = form.elements[name];
    const text = field.value.trim().replace(",", ".").replace(/\s*(cm|m)$/i, "");
    const value = Number(text);
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
