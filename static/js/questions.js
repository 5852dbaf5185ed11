// Answers a health question with one key: y for yes, n for no, s for not sure. The
// focus goes on to the next question, or to what is asked about a yes. Tab, arrows
// and space do as everywhere.

const answers = { y: 0, n: 1, s: 2 };
const seen = (element) => element.getClientRects().length > 0;

document.addEventListener("keydown", (event) => {
  const group = event.target.closest?.(".three");
  const at = answers[event.key.toLowerCase()];
  if (!group || at === undefined || event.target.type !== "radio" || event.ctrlKey || event.metaKey || event.altKey) return;
  event.preventDefault();
  const radio = group.querySelectorAll("input")[at];
  radio.checked = true;
  radio.dispatchEvent(new Event("input", { bubbles: true }));
  const controls = [...group.closest("form").querySelectorAll("input:not([type=hidden]), select, textarea, button")].filter(seen);
  let next = controls[controls.indexOf(group.querySelectorAll("input")[2]) + 1];
  // A group of answers is entered at the one that is chosen, as by Tab.
  if (next?.type === "radio") next = next.closest("fieldset").querySelector(":checked") ?? next;
  next?.focus();
});

// Shows what the answers come to by now. What is read aloud is replaced only where
// it has changed, and nothing that has the focus is.
function refresh(page) {
  for (const id of ["outlook-said", "outlook-more", "decide", "progress", "resting-counts", "pressure-counts"]) {
    const old = document.getElementById(id);
    const now = page.getElementById(id);
    if (!old || !now || old.innerHTML === now.innerHTML || old.contains(document.activeElement)) continue;
    const open = [...old.querySelectorAll("details")].map((d) => d.open);
    old.replaceChildren(...now.childNodes);
    old.querySelectorAll("details").forEach((d, i) => { d.open = open[i] ?? d.open; });
  }
}

document.querySelector("form[data-draft]")?.addEventListener("answered", (event) => refresh(event.detail));

// A step begins at its heading: by keyboard and by ear nobody goes through the head
// of the record again for each of them. After a refusal form.js leads to the list.
const heading = document.querySelector("main h1");
if (heading && !document.querySelector(".summary")) {
  heading.tabIndex = -1;
  heading.focus({ preventScroll: true });
}
