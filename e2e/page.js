// What the tests ask of a page, in the way a person would: by what can be read
// on it. It is put around each question, since pages run no script of ours.

const words = (node) => node.textContent.replace(/\s+/g, " ").trim();
const says = (node, wanted) => { const text = words(node); return text === wanted || text === wanted + " (optional)"; };
const shown = (node) => node.checkVisibility({ visibilityProperty: true }) && node.getClientRects().length > 0;

function only(list, what) {
  if (list.length === 1) return list[0];
  throw new Error(list.length === 0 ? `the page shows no ${what}` : `the page shows ${list.length} of ${what}`);
}

// group is the set of questions under a heading, or the whole page.
function group(legend) {
  if (!legend) return document;
  const legends = [...document.querySelectorAll("legend")].filter((l) => shown(l) && says(l, legend));
  return only(legends, `group "${legend}"`).closest("fieldset");
}

// field is the control that a label names.
function field(label, legend) {
  const labels = [...group(legend).querySelectorAll("label")].filter((l) => shown(l) && says(l, label) && l.control);
  return only(labels, `field "${label}"`).control;
}

// choice is one answer to a question.
function choice(question, answer, legend) {
  const questions = [...group(legend).querySelectorAll("fieldset > legend")].filter((l) => shown(l) && says(l, question));
  const labels = [...only(questions, `question "${question}"`).closest("fieldset").querySelectorAll("label")];
  return only(labels.filter((l) => says(l, answer)), `answer "${answer}" to "${question}"`).control;
}

// pressable finds what can be pressed by its words, or by how they begin if
// nothing says just that. Links to the same place are one.
const pressable = (selector) => (text) => {
  const all = [...document.querySelectorAll(selector)].filter(shown);
  const exact = all.filter((b) => says(b, text));
  const found = exact.length ? exact : all.filter((b) => words(b).startsWith(text));
  return only(found.filter((b) => !b.href || found.find((other) => other.href === b.href) === b), `"${text}" to press`);
};
const button = pressable("button, input[type=submit], a.button, summary");
const link = pressable("a[href]");

// point is where to put the finger or the pointer on an element.
function point(element) {
  element.scrollIntoView({ block: "center", behavior: "instant" });
  const box = element.getBoundingClientRect();
  const x = box.left + box.width / 2, y = box.top + box.height / 2;
  const there = document.elementFromPoint(x, y);
  if (!there || !(element.contains(there) || there.contains(element))) {
    throw new Error(`"${words(element) || element.name}" is covered by ${there ? there.outerHTML.slice(0, 120) : "the edge of the window"}`);
  }
  return { x, y };
}

// set gives a control its value as a change by the person would.
function set(control, value) {
  control.focus();
  control.value = value;
  if (control.value !== value) throw new Error(`${control.name} does not take "${value}"`);
  control.dispatchEvent(new Event("input", { bubbles: true }));
  control.dispatchEvent(new Event("change", { bubbles: true }));
}

// pick chooses an option of a list by its words.
function pick(list, text) {
  set(list, only([...list.options].filter((o) => says(o, text)), `option "${text}"`).value);
}

const name = (node) => {
  const tag = node.tagName.toLowerCase() + (node.id ? "#" + node.id : "");
  return `${tag} "${(words(node) || node.getAttribute("aria-label") || node.name || "").slice(0, 60)}"`;
};

// ordinary says whether the page is in order in the ways that every page must be.
function ordinary() {
  const wrong = [];
  const headings = [...document.querySelectorAll("h1")].filter(shown);
  if (headings.length !== 1) wrong.push(`${headings.length} h1 instead of one`);
  if (!document.documentElement.lang) wrong.push("the document has no language");
  if (!document.title.trim()) wrong.push("the document has no title");
  if (document.querySelectorAll("main").length !== 1) wrong.push("not exactly one main");
  const ids = [...document.querySelectorAll("[id]")].map((e) => e.id);
  for (const id of new Set(ids.filter((id, i) => ids.indexOf(id) !== i))) wrong.push(`the id ${id} stands twice`);
  for (const kind of ["aria-describedby", "aria-labelledby"])
    for (const e of document.querySelectorAll(`[${kind}]`))
      for (const id of e.getAttribute(kind).split(/\s+/))
        if (!document.getElementById(id)) wrong.push(`${name(e)}: ${kind} names ${id}, which is not there`);
  return wrong;
}

// tooWide lists what makes the page wider than the window.
function tooWide(width) {
  if (document.documentElement.scrollWidth <= width) return [];
  const wide = [...document.body.querySelectorAll("*")].filter((e) => shown(e) && e.getBoundingClientRect().right > width + 0.5);
  return [`the page is ${document.documentElement.scrollWidth} px wide in a window of ${width} px: ` +
    wide.slice(-3).map(name).join(", ")];
}

const interactive = "a[href], button, input:not([type=hidden]), select, textarea, summary, [tabindex]:not([tabindex='-1'])";

// small lists the targets that are less than so many pixels wide or high. Links
// within a sentence are excepted, as WCAG 2.5.8 does.
function small(pixels) {
  const wrong = [];
  for (const e of document.querySelectorAll(interactive)) {
    if (!shown(e) || e.closest(".skip")) continue;
    let box = e.getBoundingClientRect();
    for (const label of e.labels ?? []) { // what is tapped is both
      const l = label.getBoundingClientRect();
      if (e.type !== "radio" && e.type !== "checkbox") continue;
      const left = Math.min(box.left, l.left), top = Math.min(box.top, l.top);
      box = new DOMRect(left, top, Math.max(box.right, l.right) - left, Math.max(box.bottom, l.bottom) - top);
    }
    const sentence = e.tagName === "A" && getComputedStyle(e).display === "inline" && words(e.parentElement) !== words(e);
    if (!sentence && (box.width < pixels - 0.5 || box.height < pixels - 0.5))
      wrong.push(`${name(e)} is ${Math.round(box.width)} by ${Math.round(box.height)} px, less than ${pixels}`);
  }
  return wrong;
}

// moving lists what moves although the person asked for less motion.
function moving() {
  const long = (times) => times.split(",").some((t) => parseFloat(t) * (t.trim().endsWith("ms") ? 1 : 1000) > 10);
  return [...document.querySelectorAll("*")].filter((e) => {
    const style = getComputedStyle(e);
    return long(style.transitionDuration) || (style.animationName !== "none" && long(style.animationDuration));
  }).map((e) => `${name(e)} moves although less motion is asked for`);
}

// clipped lists texts that are cut off, with the spacing of WCAG 1.4.12 on.
function clipped() {
  const sheet = new CSSStyleSheet();
  sheet.replaceSync("* { line-height: 1.5 !important; letter-spacing: 0.12em !important; word-spacing: 0.16em !important } p { margin-bottom: 2em !important }");
  document.adoptedStyleSheets.push(sheet);
  try {
    return tooWide(innerWidth).concat([...document.body.querySelectorAll("*")].filter((e) => {
      const style = getComputedStyle(e);
      return shown(e) && !e.closest(".hidden, svg") && style.overflow !== "visible" && style.clipPath === "none" &&
        !["INPUT", "SELECT", "TEXTAREA"].includes(e.tagName) && (e.scrollWidth > e.clientWidth + 1 || e.scrollHeight > e.clientHeight + 1);
    }).map((e) => `${name(e)} cuts its text off when it is spaced out`));
  } finally {
    document.adoptedStyleSheets = document.adoptedStyleSheets.filter((s) => s !== sheet);
  }
}

// stops lists where Tab must stop: a group of radio buttons is one stop.
function stops() {
  const groups = new Map();
  const list = [];
  for (const e of document.querySelectorAll(interactive)) {
    if (!shown(e) || e.disabled || e.tabIndex < 0) continue;
    if (e.type === "radio") {
      const key = (e.form ? [...document.forms].indexOf(e.form) : -1) + "/" + e.name;
      if (groups.has(key)) { if (e.checked) list[groups.get(key)] = e; continue; }
      groups.set(key, list.length);
    }
    list.push(e);
  }
  return list;
}

// start puts the keyboard at the beginning of the page.
function start() {
  scrollTo(0, 0);
  const mark = document.createElement("span");
  mark.tabIndex = -1;
  document.body.prepend(mark);
  mark.focus();
  mark.remove();
  return stops().length;
}

// here tells where the keyboard is: which stop, and what is wrong with how it
// looks there.
function here() {
  const e = document.activeElement;
  if (!e || e === document.body || e === document.documentElement) return { stop: -1, name: "", wrong: [] };
  const wrong = [];
  const ringed = (node, pseudo) => {
    const s = getComputedStyle(node, pseudo);
    return (s.outlineStyle !== "none" && parseFloat(s.outlineWidth) >= 2) || s.boxShadow !== "none";
  };
  const marks = [...(e.labels ?? [])];
  if (!ringed(e) && !marks.some((l) => ringed(l) || ringed(l, "::before"))) wrong.push(`${name(e)} shows no ring`);
  const box = e.getBoundingClientRect();
  const on = (x, y) => {
    const there = document.elementFromPoint(x, y);
    return there && (e.contains(there) || there.contains(e) && there !== document.body || marks.some((l) => l.contains(there)));
  };
  const at = (share) => [box.left + box.width * share, box.top + box.height * share];
  if (![0.05, 0.5, 0.95].some((share) => on(...at(share)))) wrong.push(`${name(e)} has the focus and cannot be seen`);
  return { stop: stops().indexOf(e), name: name(e), wrong };
}
