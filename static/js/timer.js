// A clock for a test: it counts up and gives the minutes, or runs through phases
// and says when each begins. What it has counted is kept over a reload, for this
// window. Without it the field is filled in from a watch.

const place = document.querySelector("[data-timer]");
const phases = JSON.parse(place.dataset.timer);
const field = document.getElementById(place.dataset.field);
const key = "brae-timer " + location.pathname;
const total = phases.reduce((sum, p) => sum + p.seconds, 0);
const longest = 3 * 3600; // a clock that was forgotten is not taken up again

const clock = document.createElement("p");
clock.className = "sum";
clock.role = "timer";
const face = document.createElement("strong");
clock.append(face);
const told = document.createElement("p"); // spoken when something begins or ends, not each second
told.setAttribute("aria-live", "assertive");
told.className = "sentence";
const row = document.createElement("div");
row.className = "buttons";
const go = button("Start", start);
const reset = button("Back to 0", clear);
row.append(go, reset);
place.append(clock, told, row);

let state = load();
let ticking;
let phase = -1;
show();
if (state.since) run();

function button(label, action) {
  const b = document.createElement("button");
  b.type = "button";
  b.className = "button quiet";
  b.textContent = label;
  b.addEventListener("click", action);
  return b;
}

// load is what was counted: seconds before the last start, and when that was.
function load() {
  try {
    const kept = JSON.parse(sessionStorage.getItem(key));
    if (kept && (!kept.since || Date.now() - kept.since < longest * 1000)) return kept;
  } catch { /* nothing is kept */ }
  return { counted: 0, since: 0 };
}

function keep() {
  try { sessionStorage.setItem(key, JSON.stringify(state)); } catch { /* it runs all the same */ }
}

function seconds() {
  return state.counted + (state.since ? (Date.now() - state.since) / 1000 : 0);
}

function start() {
  if (state.since) {
    stop();
    return;
  }
  state.since = Date.now();
  keep();
  run();
}

function run() {
  go.textContent = "Stop";
  clearInterval(ticking);
  ticking = setInterval(show, 200);
  show();
}

function stop() {
  state = { counted: seconds(), since: 0 };
  keep();
  clearInterval(ticking);
  go.textContent = "Go on";
  if (field && !total) {
    field.value = text(Math.round(state.counted));
    field.dispatchEvent(new Event("input", { bubbles: true }));
    told.textContent = `${text(Math.round(state.counted))} is in the field for the time.`;
  }
  show();
}

function clear() {
  clearInterval(ticking);
  state = { counted: 0, since: 0 };
  phase = -1;
  told.textContent = "";
  go.textContent = "Start";
  keep();
  show();
}

function show() {
  const gone = seconds();
  if (!total) {
    face.textContent = text(Math.floor(gone));
    return;
  }
  face.textContent = text(Math.ceil(Math.max(0, total - gone)));
  if (!state.since) return;
  let end = 0;
  const now = phases.findIndex((p) => (end += p.seconds) > gone);
  if (now === phase) return;
  phase = now;
  if (now >= 0) {
    told.textContent = phases[now].says;
  } else {
    state = { counted: total, since: 0 };
    keep();
    clearInterval(ticking);
    go.textContent = "Start";
    told.textContent = "The time is over. Stop.";
  }
  if (navigator.userActivation?.hasBeenActive) navigator.vibrate?.(300);
}

function text(s) {
  return `${Math.floor(s / 60)}:${String(s % 60).padStart(2, "0")}`;
}

// What was sent needs no clock any more.
place.closest("form").addEventListener("submit", () => {
  try { sessionStorage.removeItem(key); } catch { /* nothing is kept */ }
});
