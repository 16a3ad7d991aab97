// What the tablet can do: speak, and stay awake.

const canSpeak = "speechSynthesis" in window && "SpeechSynthesisUtterance" in window;
const speak = (words) => {
  if (!canSpeak) return;
  speechSynthesis.cancel();
  const spoken = new SpeechSynthesisUtterance(words);
  spoken.lang = "en";
  spoken.rate = 0.95;
  speechSynthesis.speak(spoken);
};

let lock = null;
const canStayAwake = "wakeLock" in navigator;
// The browser lets go of the lock whenever the page is hidden, so it is asked for again.
const stayAwake = async () => {
  if (!canStayAwake) return;
  if (!settings.awake) {
    if (lock) await lock.release();
    lock = null;
    return;
  }
  if (document.visibilityState !== "visible" || (lock && !lock.released)) return;
  try {
    lock = await navigator.wakeLock.request("screen");
  } catch {
    lock = null;
  }
};
document.addEventListener("visibilitychange", stayAwake);
