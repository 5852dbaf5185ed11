// A button that copies a text to hand on. Without this script a tap on the text
// selects all of it.
for (const line of document.querySelectorAll("[data-copy]")) {
  const text = document.getElementById(line.dataset.copy);
  line.hidden = !navigator.clipboard;
  line.querySelector("button").addEventListener("click", async () => {
    try {
      await navigator.clipboard.writeText(text.textContent);
      line.querySelector("[role=status]").textContent = line.dataset.done;
    } catch {
      getSelection().selectAllChildren(text); // not allowed: then the keyboard's way
    }
  });
}
