// A prescription shows what follows from it while it is filled in: the same form is
// sent as the button for the zones sends it, and the answer is put into the place of
// the old one. Nothing is signed by it, and the fields are left alone. Without the
// script the button does it.

const form = document.querySelector("main form:has([name=minutes_per_session])");
let timer;
let asking;

form?.addEventListener("input", (event) => {
  const light = form.elements.target_light;
  if (event.target.name === "class" && light) light.checked = event.target.value === "light";
  clearTimeout(timer);
  timer = setTimeout(answer, event.target.matches("textarea, [type=text]") ? 350 : 0);
});

async function answer() {
  asking?.abort();
  asking = new AbortController();
  const body = new URLSearchParams(new FormData(form));
  body.set("do", "zones");
  try {
    const response = await fetch(form.action, { method: "POST", body, signal: asking.signal });
    const page = new DOMParser().parseFromString(await response.text(), "text/html");
    for (const place of document.querySelectorAll("[data-follows]")) {
      const fresh = page.getElementById(place.id);
      if (!fresh) continue;
      for (const open of place.querySelectorAll("details[open]")) page.getElementById(open.id)?.setAttribute("open", "");
      if (place.innerHTML !== fresh.innerHTML) place.replaceChildren(...fresh.childNodes);
    }
  } catch {
    // a newer question, or no network: the button is still there
  }
}
