// Saves a form of the intake, or a note, while it is filled in, so that nothing is lost when
// a phone rings or a window closes. The server takes it as it takes the button
// Save; without this script that button does the same.

const form = document.querySelector("form[data-draft]");
const told = document.getElementById("saved");
let timer; // until the next saving
let busy;  // the saving under way
let stopped = false;

form.addEventListener("input", (event) => {
  clearTimeout(timer);
  // A choice is made at once; text is finished when the fingers rest.
  if (!stopped) timer = setTimeout(start, event.target.matches("[type=radio], [type=checkbox], select") ? 250 : 1000);
});
addEventListener("visibilitychange", () => {
  if (document.hidden && timer) start();
});

// A button is pressed while a saving is under way: what it sends must be newer.
document.addEventListener("submit", (event) => {
  clearTimeout(timer);
  timer = undefined; // the page goes: nothing is to be saved behind the button's back
  if (!busy) return;
  event.preventDefault();
  event.stopImmediatePropagation();
  busy.finally(() => event.target.requestSubmit(event.submitter));
}, true);

function start() {
  clearTimeout(timer);
  timer = undefined;
  if (busy) {
    timer = setTimeout(start, 500);
    return;
  }
  busy = save().finally(() => { busy = undefined; });
}

async function save() {
  const body = new URLSearchParams(new FormData(form));
  body.set("do", "auto");
  try {
    const answer = await fetch(form.action, { method: "POST", body, keepalive: true });
    if (answer.status === 409) {
      stopped = true;
      told.textContent = told.dataset.conflict ?? "Somebody else has saved this intake. Press Save to see what differs. What you typed is still here.";
      return;
    }
    const page = new DOMParser().parseFromString(await answer.text(), "text/html");
    const version = page.querySelector("form[data-draft] [name=version]")?.value;
    if (!version) throw new Error("not the page of the form");
    for (const field of document.querySelectorAll("[name=version]")) field.value = version;
    form.dispatchEvent(new CustomEvent("answered", { detail: page }));
    told.textContent = `Saved at ${new Date().toLocaleTimeString([], { hour: "2-digit", minute: "2-digit" })}.`;
    if (!timer) form.dispatchEvent(new Event("saved"));
  } catch {
    told.textContent = "Not saved. Look at the connection, then press Save. What you typed is still here.";
  }
}
