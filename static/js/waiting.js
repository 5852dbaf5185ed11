// The log with no signal. What is saved goes into the outbox first and is sent
// from there; what waits is shown. Where the browser cannot keep anything, it is
// sent at once, and the page stays as it is until that has got through.

const main = document.getElementById("main");
const shell = document.getElementById("shell");
const idField = document.getElementById("id");
const form = document.querySelector('form[action="/log"]:has(#id)');
const out = document.querySelector('form[action="/sign-out"]');
let account = document.body.dataset.account;
const unkept = document.getElementById("unkept");
let kit;   // what is kept of the person, or lies in this page alone; without it little here works
let panel; // what waits

const make = (tag, properties, ...children) => {
  const e = Object.assign(document.createElement(tag), properties);
  e.append(...children);
  return e;
};
const press = (text, act, kind = "quiet") => make("button", { type: "button", className: `button ${kind}`, textContent: text, onclick: act });
const release = (f) => f.dispatchEvent(new Event("kept"));
const count = (n) => n === 1 ? kit.words.one : kit.words.many.replace("{n}", n);

const said = sessionStorage.getItem("brae-said");
if (said && account) {
  sessionStorage.removeItem("brae-said");
  main.prepend(make("p", { className: "flash", role: "status", textContent: said }));
}

const ready = begin().catch(() => { kit = undefined; });

async function begin() {
  if (!account && !shell) return;
  kit = await theKit().catch(() => undefined);
  if (shell) {
    account = kit?.account;
    if (!kit) return nobody();
    fill();
  } else {
    if (kit?.account !== account) { // somebody else had this phone: theirs stays in their queue
      kit = undefined;
      await forget().catch(() => {});
    }
    const renewed = renew();
    if (!kit) await renewed;
    else renewed.catch(() => {});
  }
  if (!kit) return;
  await draw().catch(() => {});
  go();
}

function nobody() {
  shell.hidden = true;
  document.getElementById("nobody").hidden = false;
}

// renew asks for what the phone keeps if it is an hour old, or in another
// language.
async function renew() {
  if (kit && kit.lang === document.documentElement.lang && Date.now() - kit.at < 3600_000) return;
  const headers = { Accept: "application/json", "Brae-Account": account };
  if (kit) headers["If-None-Match"] = kit.tag;
  const answer = await fetch("/phone", { headers, redirect: "manual" });
  if (answer.status !== 200 && answer.status !== 304) throw new Error(answer.status);
  const fresh = answer.status === 304 ? kit : { ...await answer.json(), tag: answer.headers.get("ETag") };
  if (fresh.account !== account) throw new Error("somebody else");
  const shellChanged = fresh.shell !== kit?.shell;
  kit = { ...fresh, at: Date.now() };
  await within("kept", "readwrite", (s) => s.put(kit, "kit")).catch(() => {});
  if (shellChanged) navigator.serviceWorker?.controller?.postMessage("shell");
}

// Sending: now, when the signal comes back, when the person looks again, and more
// and more seldom in between.
let wait = 4000, timer;
const answers = {}; // by the id of the session
async function go() {
  clearTimeout(timer);
  if (!kit) return;
  const done = await flush(account).catch(() => ({ said: {}, again: true }));
  if (done.again) {
    timer = setTimeout(go, wait = Math.min(2 * wait, 300_000));
    navigator.serviceWorker?.ready.then((r) => r.sync?.register("brae-outbox")).catch(() => {}); // also when the page is closed
  } else wait = 4000;
  Object.assign(answers, done.said);
  if (Object.keys(done.said).length) {
    kit.at = 0; // what was done last has changed
    await within("kept", "readwrite", (s) => s.put(kit, "kit")).catch(() => {});
  }
  if (!saving) await draw().catch(() => {});
}
addEventListener("online", () => { wait = 4000; ready.then(go); });
document.addEventListener("visibilitychange", () => { if (!document.hidden) ready.then(go); });
addEventListener("pageshow", (event) => { if (event.persisted) ready.then(go); });
navigator.serviceWorker?.addEventListener("message", () => ready.then(() => kit && draw()));
if (account && navigator.serviceWorker) {
  addEventListener("load", () => navigator.serviceWorker.register("/sw.js").catch(() => {}));
}

// draw shows what waits, and tells what was answered while nobody looked.
async function draw() {
  const all = await queue(account);
  const told = all.find((e) => e.state === "told");
  if (told && told.id !== saving) return screen(told.said, told);
  const list = all.filter((e) => !e.state || e.id !== idField?.value && e.state !== "told");
  if (!list.length) return panel?.remove();
  const words = kit.words;
  const open = list.filter((e) => !e.state);
  const notes = [];
  if (open.some((e) => e.out)) notes.push(make("p", {}, make("a", { href: "/sign-in", textContent: words.signIn })));
  else if (open.length) notes.push(make("p", { textContent: words.unsent }));
  const fresh = make("section", { className: "notice", id: "waiting" },
    make("p", { className: "title", role: "status", textContent: count(list.length) }), ...notes,
    make("ul", {}, ...list.map(row)));
  if (open.length) fresh.append(press(words.send, go));
  if (panel?.isConnected) panel.replaceWith(fresh);
  else if (screened) screened.after(fresh); // nothing stands before what is told
  else main.prepend(fresh);
  panel = fresh;
}

function row(entry) {
  const item = make("li", {}, make("p", { textContent: entry.what }));
  if (!entry.state) return item;
  const { problems, doubts, conflict } = entry.said;
  const sentences = Object.values({ ...problems, ...doubts });
  item.append(make("p", { className: "problem", textContent: conflict ?? (sentences.join(" ") || kit.words.look) }),
    navigator.onLine ? press(kit.words.correct, () => correct(entry)) : "",
    press(kit.words.discard, async () => {
      if (!confirm(kit.words.sure)) return;
      await drop(entry.id);
      draw();
    }));
  return item;
}

// correct opens the form with what stands in the entry: the server shows what is
// wrong with it. The entry stays until it is saved.
async function correct(entry) {
  const body = new URLSearchParams(entry.body);
  const id = entry.state === "conflict" ? crypto.randomUUID() : entry.id; // the old one is used up
  body.set("id", id);
  await keep({ ...entry, id, body: String(body), state: undefined, said: undefined });
  if (id !== entry.id) await drop(entry.id);
  post(body);
}

function post(body) {
  const f = make("form", { method: "post", action: "/log", hidden: true });
  for (const [name, value] of body) f.append(make("input", { type: "hidden", name, value }));
  document.body.append(f);
  f.submit();
}

// screen says what a log came to, before anything else.
let screened;
function screen(answer, entry) {
  const emergency = answer.level === "emergency";
  const on = make("a", { className: "button quiet", href: answer.next ?? "/week", textContent: entry.said ? kit.words.read : kit.words.on });
  if (entry.said) on.addEventListener("click", (event) => {
    event.preventDefault();
    drop(entry.id).finally(() => location.assign(on.href));
  });
  const section = screened = make("section", { className: emergency ? "emergency" : "hold", role: "alert", tabIndex: -1 },
    make("h1", { textContent: answer.title }),
    emergency ? make("a", { className: "button dial", href: kit.tel, textContent: kit.words.call }) : "",
    make("ul", {}, ...answer.lines.map((textContent) => make("li", { textContent }))));
  section.append(make("p", { id: "sent", textContent: answer.saved ?? kit.words.kept }), make("p", {}, on));
  if (entry.loose) { // what was typed stands on this page only: it comes back after what is told
    const rest = [...main.children].filter((e) => !e.hidden);
    const show = (shown) => rest.forEach((e) => { e.hidden = !shown; });
    show(false);
    on.addEventListener("click", (event) => {
      event.preventDefault();
      section.remove();
      screened = undefined;
      show(true);
      if (entry.failed) plain();
    });
    main.prepend(section);
  } else main.replaceChildren(section);
  panel = undefined;
  document.title = answer.title;
  section.focus();
}

let saving; // the entry that this page is sending
form?.addEventListener("submit", async (event) => {
  if (event.defaultPrevented || event.submitter?.name === "do") return;
  event.preventDefault();
  const data = new FormData(form);
  await ready;
  const words = kit?.words, reports = data.getAll("reports");
  const body = new URLSearchParams(data);
  body.set("logged_at", stamp(new Date()));
  const entry = { id: data.get("id"), account, body: String(body), what: summary(data), made: Date.now() };
  const here = kit ? look(kit.table, reports) : { level: "fine", lines: [] };
  try {
    if (!kit) throw new Error("nothing is kept here");
    saving = entry.id;
    await keep(entry);
  } catch { // no database in this browser, or a full disk
    saving = undefined;
    return atOnce(entry, here, reports);
  }
  navigator.storage?.persist?.().catch(() => {});
  if (here.level === "emergency") screen(here, entry); // at once: the answer comes later
  await go();
  const answer = answers[entry.id];
  const left = (await queue(account)).find((e) => e.id === entry.id);
  saving = undefined;
  if (!left || left.state === "told") {
    if (left) await drop(entry.id); // it is told now
    const told = answer ?? left?.said;
    if (told) return lead(told, left, reports);
    location.assign("/week");
  } else if (left.state) {
    if (left.state === "conflict") return correct(left);
    post(new URLSearchParams(left.body)); // the server shows what is wrong
  } else if (here.level === "emergency") {
    release(form);
    await draw();
  } else if (here.level === "stop" || here.level === "ease") {
    screen(here, entry);
  } else {
    main.querySelector(".flash")?.remove();
    again();
    await draw();
    panel.before(make("p", { className: "flash", role: "status", textContent: [words.kept, ...reports.length ? here.lines : []].join(" ") }));
    scrollTo(0, 0);
  }
});

// lead goes on to what a saved session came to.
function lead(told, more, reports) {
  if (more || told.questions) return location.assign(told.next);
  sessionStorage.setItem("brae-said", [told.saved, ...told.level !== "fine" || reports.length ? told.lines : []].join(" "));
  location.assign("/week");
}

// atOnce sends what this phone cannot keep. If that does not get through, the page
// says so, and everything that was typed is still there.
async function atOnce(entry, here, reports) {
  entry.loose = true;
  unkept.hidden = true;
  if (here.level === "emergency") screen({ ...here, saved: "" }, entry);
  const { status, said } = await send(entry);
  if (status >= 200 && status < 300) {
    form.dispatchEvent(new Event("saved"));
    return lead(said, ["ease", "stop", "emergency"].includes(said.level), reports);
  }
  const out = status === 0 || status === 401 || status === 403;
  if (!out && status < 500) return form.submit(); // the server says what is wrong
  release(form);
  form.dispatchEvent(new Event("input")); // still saved nowhere
  entry.failed = true;
  const [first, later, signIn] = unkept.querySelectorAll("p");
  later.hidden = out;
  signIn.hidden = !out;
  unkept.querySelector("ul").hidden = !here.lines.length;
  unkept.querySelector("ul").replaceChildren(...here.lines.map((textContent) => make("li", { textContent })));
  const saved = `${first.textContent} ${(out ? signIn : later).textContent}`;
  if (screened) screened.querySelector("#sent").textContent = saved;
  else if (here.level === "stop" || here.level === "ease") screen({ ...here, saved }, entry);
  else plain();
}

// plain says that nothing is kept.
function plain() {
  unkept.hidden = false;
  main.prepend(unkept);
  unkept.focus();
  scrollTo(0, 0);
}

// tongue is the language of the page, with the day before the month as on all pages.
const tongue = () => document.documentElement.lang.replace(/^en$/, "en-GB");

// summary is a session in a line.
function summary(data) {
  const parts = [];
  for (let i = 0; data.has(`parts[${i}].activity`); i++) {
    const chosen = form.elements[`parts[${i}].activity`].selectedOptions?.[0].text;
    parts.push(chosen ? `${chosen}, ${kit?.words.min.replace("{n}", data.get(`parts[${i}].minutes`))}` : document.querySelectorAll(".what li")[i]?.innerText);
  }
  const day = new Date(`${data.get("day")}T12:00`);
  const when = isNaN(day) ? data.get("day") : day.toLocaleDateString(tongue(), { weekday: "short", day: "numeric", month: "short" });
  return `${when}: ${parts.join("; ")}`;
}

// again makes the form ready for another session.
function again() {
  release(form);
  form.reset();
  while (parts().length > 1) parts().at(-1).remove();
  idField.value = crypto.randomUUID();
  if (shell) days();
}

const parts = () => [...form.querySelectorAll('fieldset[id^="part-"]')];

// add puts another part after the last, as the server does where it can be asked.
function add() {
  const last = parts().at(-1), n = parts().length;
  if (n >= 8) return;
  const box = make("div", { innerHTML: last.outerHTML.replaceAll(`parts[${n - 1}]`, `parts[${n}]`).replaceAll(`part-${n}`, `part-${n + 1}`) });
  const next = box.firstElementChild;
  next.querySelector("[type=search]")?.closest(".field").remove(); // it listens to nothing
  next.querySelector("legend").textContent = kit.words.part.replace("{n}", n + 1);
  last.after(next);
  return next;
}

form?.addEventListener("click", (event) => {
  const button = event.target.closest("button[name=do]");
  if (!button || !kit || !shell && navigator.onLine) return;
  event.preventDefault();
  if (button.value === "remove") parts().at(-1).remove();
  else add()?.scrollIntoView({ behavior: "instant" });
});

// days sets the day to today in the practice's zone.
function days() {
  const day = (ago) => new Intl.DateTimeFormat("en-CA", { timeZone: kit.zone, dateStyle: "short" }).format(Date.now() - ago * 86400_000);
  const field = document.getElementById("day");
  [field.value, field.max, field.min] = [day(0), day(0), day(kit.log_days)];
}

// fill puts what the phone knows of the person into the page that it keeps.
function fill() {
  days();
  const list = form.elements["parts[0].activity"];
  const lately = [...new Set((kit.again ?? []).flatMap((s) => s.parts.map((p) => p.activity)))];
  const group = make("optgroup", { label: kit.words.lately });
  for (const code of lately) {
    const option = [...list.options].find((o) => o.value === code);
    if (option) group.append(option);
  }
  if (group.children.length) list.options[0].after(group);
  if (kit.lines?.length) { // with the moment they are of: a new hold may not be among them
    const old = kit.words.asOf?.replace("{t}", new Date(kit.at).toLocaleString(tongue(), { dateStyle: "medium", timeStyle: "short", timeZone: kit.zone }));
    form.before(make("section", { className: "notice" }, ...[...kit.lines, old ?? ""].map((textContent) => make("p", { textContent }))));
  }
  if (!kit.again?.length) return;
  form.before(make("p", { className: "title", textContent: kit.words.same }), make("ul", { className: "again" }, ...kit.again.map((s) =>
    make("li", {}, press(s.what, () => same(s))))));
}

// same fills the form in like an earlier session.
function same(session) {
  while (parts().length > 1) parts().at(-1).remove();
  session.parts.forEach((p, i) => {
    if (i && !add()) return;
    form.elements[`parts[${i}].activity`].value = p.activity;
    form.elements[`parts[${i}].minutes`].value = p.minutes;
    form.elements[`parts[${i}].talk`].value = p.talk;
  });
  form.querySelector("[name=symptoms]")?.focus();
}

// Signing out: first what was not sent yet, then what the phone knows.
out?.addEventListener("submit", async (event) => {
  if (event.defaultPrevented) return;
  event.preventDefault();
  await ready;
  const list = kit ? await queue(account).catch(() => []) : [];
  if (!list.length) return leave();
  const words = kit.words;
  const dialog = make("dialog", { className: "notice" },
    make("p", { className: "title", textContent: `${words.outTitle} ${count(list.length)}.` }), make("p", { textContent: words.outText }),
    make("div", { className: "buttons" },
      press(words.outStay, () => dialog.close(), ""), press(words.outKeep, leave),
      press(words.outDrop, async () => {
        for (const e of list) await drop(e.id);
        leave();
      }, "danger")));
  dialog.addEventListener("close", () => { dialog.remove(); release(out); });
  document.body.append(dialog);
  dialog.showModal();
});

async function leave() {
  try {
    await fetch("/sign-out", { method: "POST", redirect: "manual" });
  } catch {
    release(out);
    document.querySelector("dialog")?.close();
    alert(kit?.words.outSignal ?? "No signal");
    return;
  }
  await forget().catch(() => {});
  location.assign("/sign-in");
}
