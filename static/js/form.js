// What a form gains from a script: the focus on the list of problems, a warning
// before typed text is lost, and one sending for a double tap. Without the
// script every form still works.

const summary = document.querySelector(".summary");
const unsaved = new Set();

if (summary) {
  summary.focus();
  summary.addEventListener("click", (event) => {
    const link = event.target.closest("a");
    const field = link && document.getElementById(link.hash.slice(1));
    if (!field) return;
    event.preventDefault();
    // The question comes into view together with its answer.
    (field.closest(".field, .group") ?? field).scrollIntoView({ block: "start" });
    field.focus({ preventScroll: true });
  });
}

for (const form of document.querySelectorAll("form[method=post]")) {
  const warns = "warn" in form.dataset;
  if (warns && summary) unsaved.add(form); // refused: what stands there is saved nowhere
  if (warns) form.addEventListener("input", () => unsaved.add(form));
  form.addEventListener("saved", () => unsaved.delete(form));
  form.addEventListener("kept", () => { // in this browser: another one can follow
    unsaved.delete(form);
    release(form);
  });

  form.addEventListener("submit", (event) => {
    if (form.dataset.sent) {
      event.preventDefault();
      return;
    }
    form.dataset.sent = "yes";
    unsaved.delete(form);
    // Not the disabled attribute: it would take the pressed button's own value
    // out of what is sent, and the keyboard's place with it.
    for (const button of form.querySelectorAll("button")) button.setAttribute("aria-disabled", "true");
    // If no answer came by then, let the person try again. Where that could
    // count twice, the form carries a key that the server takes only once.
    setTimeout(() => {
      release(form);
      if (warns) unsaved.add(form);
    }, 8000);
  });
}

function release(form) {
  delete form.dataset.sent;
  for (const button of form.querySelectorAll("button")) button.removeAttribute("aria-disabled");
}

// A page that comes back by the back button comes back as it was left.
addEventListener("pageshow", () => document.querySelectorAll("form[data-sent]").forEach(release));

addEventListener("beforeunload", (event) => {
  if (unsaved.size > 0) event.preventDefault();
});
