// After a mishap: the last safe row, and how to come back to it.

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
    "See that no loop is split, crossed or dropped before you go on.",
  ].filter(Boolean)).children);
};
byId("safe-earlier").addEventListener("click", () => { safeAt = safeBefore(safeAt - 1); showSafe(); });
byId("safe-go").addEventListener("click", () => { byId("mishap").close(); goTo(safeAt); });
