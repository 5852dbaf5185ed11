// The points of a plan's drawing can be moved up and down, with a pointer or the
// arrow keys: that types the minutes of the week's sessions. What is typed in the
// table moves the points. Without the script the table does it all.

const figure = document.querySelector("[data-ladder]");
if (figure) {
  const svg = figure.querySelector("svg");
  const ground = 176, hill = 140, most = 240;
  let top = Number(figure.dataset.top);
  const points = [...svg.querySelectorAll("g[data-field]")];

  // The drawing is no picture any more: its points are controls.
  svg.setAttribute("role", "group");

  const goal = document.getElementById("goal");
  const input = (point, name) => document.getElementById(`${point.dataset.field}.${name}`);
  const number = (point, name) => Number.parseInt(input(point, name).value, 10) || 0;

  // counts is what a week adds up to, as the server counts it.
  const counts = (point) => {
    const sessions = number(point, "sessions"), minutes = number(point, "minutes");
    const easy = number(point, "easy"), hard = number(point, "vigorous");
    const work = sessions * (minutes - easy);
    switch (input(point, "class").value) {
      case "light": return sessions * minutes;
      case "vigorous": return 2 * work;
      default: return Math.max(work, 0) + hard;
    }
  };

  const draw = (point) => {
    const sum = counts(point), minutes = number(point, "minutes");
    const y = Math.max(8, ground - (sum * hill) / top);
    point.setAttribute("transform", `translate(0 ${y - Number(point.dataset.y)})`);
    point.setAttribute("aria-valuenow", minutes);
    point.setAttribute("aria-valuetext", `${number(point, "sessions")} times ${minutes} minutes, ${sum} that count`);
  };

  const type = (point, minutes) => {
    const field = input(point, "minutes");
    const value = String(Math.max(1, Math.min(most, Math.round(minutes))));
    if (field.value === value) return;
    field.value = value;
    field.dispatchEvent(new Event("input", { bubbles: true })); // unsaved, and told to the drawing
  };

  for (const point of points) {
    point.classList.add("movable");
    point.querySelector("circle").setAttribute("r", "7");
    for (const [name, value] of Object.entries({
      role: "slider", tabindex: "0", "aria-orientation": "vertical", "aria-valuemin": "1", "aria-valuemax": String(most),
      "aria-label": `${point.dataset.name}, minutes each time`,
    })) point.setAttribute(name, value);
    draw(point);

    point.addEventListener("keydown", (event) => {
      const step = { ArrowUp: 1, ArrowRight: 1, ArrowDown: -1, ArrowLeft: -1, PageUp: 5, PageDown: -5 }[event.key];
      if (!step) return;
      event.preventDefault();
      type(point, number(point, "minutes") + step);
    });

    point.addEventListener("pointerdown", (event) => {
      event.preventDefault();
      point.setPointerCapture(event.pointerId);
      point.focus();
      const from = event.clientY, before = number(point, "minutes");
      const perSession = Math.max(number(point, "sessions"), 1) * (input(point, "class").value === "vigorous" ? 2 : 1);
      const scale = top / (hill * (svg.getBoundingClientRect().height / svg.viewBox.baseVal.height));
      const move = (e) => type(point, before + ((from - e.clientY) * scale) / perSession);
      const end = () => {
        point.removeEventListener("pointermove", move);
        point.removeEventListener("pointerup", end);
        point.removeEventListener("pointercancel", end);
      };
      point.addEventListener("pointermove", move);
      point.addEventListener("pointerup", end);
      point.addEventListener("pointercancel", end);
    });
  }

  document.querySelector("table.weeks")?.addEventListener("input", (event) => {
    const row = event.target.id.slice(0, event.target.id.lastIndexOf("."));
    const point = points.find((p) => p.dataset.field === row);
    if (!point) return;
    draw(point);
    // The hill was drawn for what stood here before; the points are right at once,
    // the rest when the server has looked at the weeks.
    figure.classList.add("moved");
    const cell = event.target.closest("tr").querySelector("[data-label=Counts]");
    if (cell) cell.textContent = counts(point) + (input(point, "class").value === "light" ? " light" : ` of ${goal?.value ?? ""}`);
  });
}
