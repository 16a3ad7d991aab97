// One place for all tabs of a sock: the newest. A tab that is behind follows; a step backwards that
// another tab took is asked about.

const placeWords = (place) => `${whereOf(place)}, row counter ${machineAt(place).counter}`;
let asked = 0;   // the place before this one that another tab went to

// Takes over what another tab kept for this sock. Returns whether there was something to learn.
const learn = () => {
  const { value } = readPlace(keyOf(sock));
  if (!value || value.turn <= turn) return false;
  turn = value.turn;
  jumps = jumpsIn(value);
  if (value.mark !== pattern.mark) {
    tell("Another page of this pattern is being knitted from, and its steps are not those of this one. "
      + "Close one of the two.");
  } else if (value.at > at) {
    stand(value.at);
    tell(`This sock was knitted on in another tab, up to ${placeWords(at)}. This tab now stands there too.`);
  } else if (value.at < at) {
    asked = value.at;
    put("moved-words", `In another tab this sock was taken back to ${placeWords(asked)}. `
      + `Here it stands at ${placeWords(at)}. Which is right?`);
    if (!byId("moved").open) byId("moved").showModal();
  } else {
    return false;
  }
  return true;
};
byId("moved-back").addEventListener("click", () => byId("moved").close("back"));
byId("moved").addEventListener("close", () => {
  goTo(byId("moved").returnValue === "back" ? asked : at);
  byId("moved").returnValue = "";
});
window.addEventListener("storage", (event) => {
  if (event.key === PLACES + keyOf(sock)) learn();
});
// A tab that slept may not have been told.
document.addEventListener("visibilitychange", () => { if (!document.hidden) learn(); });
