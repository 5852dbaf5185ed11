// What a form gains from a script: the focus on the list of problems, a warning
// before typed text is lost, and one sending for a double tap. Without the
// script every form still works.

const summary = document.querySelector(".summary");
if (summary) {
  summary.focus();
  summary.addEventListener("click", (event) => {
    const link = event.target.closest("a");
    const field = link && document.getElementById(link.hash.slice(1));
    if (!field) return;
    event.preventDefault();
    const group = field.closest("fieldset, .field") || field;
    group.scrollIntoView({ block: "start" });
    field.focus({ preventScroll: true });
  });
}

const changed = new Set();

for (const form of document.querySelectorAll("form[method=post]")) {
  if ("warn" in form.dataset) {
    form.addEventListener("input", () => changed.add(form));
  }
  form.addEventListener("submit", (event) => {
    if (form.dataset.sent) {
      event.preventDefault();
      return;
    }
    form.dataset.sent = "yes";
    changed.delete(form);
    // Not the disabled attribute: it would take the pressed button's own value
    // out of what is sent, and the keyboard focus with it.
    for (const button of form.querySelectorAll("button")) {
      button.setAttribute("aria-disabled", "true");
    }
    // If nothing came back by then, let the person try again. The server takes
    // the same form once only.
    setTimeout(() => release(form), 8000);
  });
}

function release(form) {
  delete form.dataset.sent;
  for (const button of form.querySelectorAll("button")) {
    button.removeAttribute("aria-disabled");
  }
}

addEventListener("pageshow", () => document.querySelectorAll("form[data-sent]").forEach(release));

addEventListener("beforeunload", (event) => {
  if (changed.size > 0) event.preventDefault();
});
