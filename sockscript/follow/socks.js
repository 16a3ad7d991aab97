// The socks that this browser keeps, with their places and logs.

const sockItem = (words, buttons) => {
  const item = document.createElement("li");
  const told = document.createElement("span");
  told.textContent = words;
  item.append(told, ...buttons.map(([label, act]) => {
    const one = document.createElement("button");
    one.type = "button";
    one.textContent = label;
    one.setAttribute("aria-label", `${label}: ${words}`);
    one.addEventListener("click", act);
    return one;
  }));
  return item;
};
const forgotten = (question, forget) => () => {
  if (!confirm(question)) return;
  forget();
  showSocks();
};
const showSocks = () => {
  const places = allPlaces();
  const items = places.map(({ own, value }) => {
    const here = own === keyOf(sock);
    let words = value === null ? "A place that cannot be read."
      : `${value.title}${value.version ? ` ${value.version}` : ""}, ${value.size}, ${value.name}: ${value.where || ""}, ${Math.floor((100 * value.at) / Math.max(value.of, 1))}% done${here ? " (this one)" : ""}`;
    const buttons = [];
    if (value !== null && !here && own === keyOf(value.name)) buttons.push(["Go on with it", () => openSock(value.name)]);
    else if (value !== null && !here && value.file) words += `. Its page is the file ${value.file}.`;
    buttons.push(["Forget the place", forgotten("Forget this place? Notes, times and measurements stay.", () => {
      forgetPlace(own);
      if (here) { jumps = []; goTo(0); forgetPlace(own); }
    })]);
    return sockItem(words, buttons);
  });
  const known = new Set(places.map(({ own }) => own));
  for (const key of store.keys().filter((one) => one.startsWith(LOGS))) {
    const own = key.slice(LOGS.length), log = readLog(own);
    if (isEmpty(log) || known.has(own)) continue;
    items.push(sockItem(`${log.title}, ${log.name}: notes, times and measurements`, [
      ...(own === keyOf(log.name) && own !== keyOf(sock) ? [["Open", () => openSock(log.name)]] : []),
      ["Delete them", forgotten("Delete the notes, times and measurements of this sock? This cannot be undone.",
        () => store.forget(key))]]));
  }
  byId("sock-list").replaceChildren(...items);
};
const openSock = (name) => {
  sock = name;
  store.write(CURRENT + patternKey, name);
  const found = findPlace(name);
  ({ turn, jumps } = found);
  tell(found.message);
  byId("socks").close();
  goTo(found.at);
};
byId("sock-new").addEventListener("click", () => {
  const name = byId("sock-name").value.trim();
  if (!name) { byId("sock-name").focus(); return; }
  byId("sock-name").value = "";
  openSock(name);
});
