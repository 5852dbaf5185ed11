// Numbers answer while somebody types: the page of the same form is fetched and
// its answer put into the place of the old one. Fields are left alone, so that
// the cursor stays; only what is wrong with them is told, once somebody has left
// them. Without the script the button does it.

const form = document.querySelector("form[data-live]");
const result = document.getElementById("result");
const left = new Set(); // names of fields that somebody has filled in and left
let timer;
let asking;

form.addEventListener("input", () => ask(250));
form.addEventListener("change", (event) => {
  left.add(event.target.name);
  ask(0);
});

function ask(wait) {
  clearTimeout(timer);
  timer = setTimeout(answer, wait);
}

async function answer() {
  asking?.abort();
  asking = new AbortController();
  const address = new URL(form.action);
  address.search = new URLSearchParams([...new FormData(form)].filter(([name, value]) => value || name === "shown"));
  let page;
  try {
    const response = await fetch(address, { signal: asking.signal });
    page = new DOMParser().parseFromString(await response.text(), "text/html");
  } catch {
    return; // a newer question, or no network: the button is still there
  }
  const fresh = page.getElementById("result");
  if (!fresh) { // signed out in the meantime, or out of order
    location.assign(address);
    return;
  }
  history.replaceState(null, "", address);
  document.title = page.title;
  document.querySelector(".summary")?.remove();
  const list = page.querySelector(".summary ul");
  if (list) fresh.append(list);
  if (result.innerHTML !== fresh.innerHTML) result.replaceChildren(...fresh.childNodes);
  fields(page);
}

// fields tells what is wrong, or shows other fields where another kind of
// question was chosen.
function fields(page) {
  const names = (root) => [...root.querySelectorAll("#fields [name]")].map(({ name, type, value }) => name + (type === "hidden" ? value : "")).join();
  if (names(page) !== names(document)) {
    const focused = document.activeElement?.id;
    document.getElementById("fields").replaceChildren(...page.getElementById("fields").childNodes);
    document.getElementById(focused)?.focus();
    return;
  }
  for (const control of form.querySelectorAll("input[type=text], select, textarea")) {
    const fresh = page.getElementById(control.id);
    const problem = left.has(control.name) ? fresh.closest(".field").querySelector(".problem") : null;
    const field = control.closest(".field");
    field.classList.toggle("wrong", problem !== null);
    field.querySelector(".problem")?.remove();
    if (problem) (field.querySelector(".hint") ?? field.querySelector("label")).after(problem);
    for (const name of ["aria-invalid", "aria-describedby"]) {
      let value = fresh.getAttribute(name);
      if (!problem) value = name === "aria-invalid" ? null : value?.replace(control.id + "-problem", "").trim();
      if (value) control.setAttribute(name, value);
      else control.removeAttribute(name);
    }
  }
}
