// Going to a place: by section and step, by the row counter, or by the counter within a run.

const setRows = () => {
  const tap = taps[Number(byId("go-step").value)];
  byId("go-row").max = String(Math.max(tap.passes, 1));
  byId("go-row").disabled = tap.passes < 2;
  byId("go-row").value = "1";
};
const fillSections = () => {
  byId("go-section").replaceChildren(...pattern.sections.flatMap((title, n) => {
    if (!taps.some(({ stop }) => stop.s === n)) return [];
    const option = document.createElement("option");
    option.value = String(n);
    option.textContent = title;
    return [option];
  }));
};
const fillSteps = () => {
  const section = Number(byId("go-section").value);
  byId("go-step").replaceChildren(...taps.flatMap((tap, n) => {
    if (n !== tap.first || tap.stop.s !== section) return [];
    const option = document.createElement("option");
    option.value = String(n);
    const time = tap.stop.i ? ` (time ${tap.stop.i[0]})` : "";
    const words = text(tap.stop.t);
    option.textContent = `${tap.stop.n || ""}${time} ${words.length > 60 ? `${words.slice(0, 58)}…` : words}`;
    return [option];
  }));
};
// Where the row counter shows a number and a row comes next, each as a button.
const showReadings = () => {
  const wanted = byId("go-counter").value.trim();
  const found = wanted === "" ? [] : taps.flatMap((tap, n) => (tap.row && tap.now.counter === Number(wanted) ? [n] : []));
  byId("go-readings").replaceChildren(...found.map((n) => {
    const button = document.createElement("button");
    button.type = "button";
    const { row, passes, now } = taps[n];
    button.textContent = `${whereOf(n)}: next is ${passes > 1 ? `row ${row} of ${passes}` : "its row"}, carriage at the ${sideWord(now.side)}`;
    button.addEventListener("click", () => { byId("go").close(); goTo(n); });
    return button;
  }));
  put("go-none", wanted !== "" && !found.length ? "The counter never shows that before a row of this size." : "");
};
byId("go-section").addEventListener("change", () => { fillSteps(); setRows(); });
byId("go-step").addEventListener("change", setRows);
byId("go-counter").addEventListener("input", showReadings);
byId("go-now").addEventListener("click", () => {
  const { first, passes } = taps[Number(byId("go-step").value)];
  const wanted = Math.floor(Number(byId("go-row").value)) || 1;
  byId("go").close();
  goTo(first + Math.max(0, Math.min(wanted, Math.max(passes, 1)) - 1));
});
byId("shows-form").addEventListener("submit", (event) => {
  event.preventDefault();
  const { stop, first, passes } = taps[at];
  const wanted = byId("shows-counter").value.trim();
  const rows = wanted === "" ? NaN : Number(wanted) - stop.r;
  if (!(rows >= 0 && rows <= passes && Number.isInteger(rows))) {
    put("shows-wrong", `In this step the counter goes from ${stop.r} to ${stop.r + passes}. If yours shows something else, use 'Go to a place'.`);
    return;
  }
  byId("shows").close();
  if (first + rows > at) knitTo(first + rows);
  else goTo(first + rows);
});
