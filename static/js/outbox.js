// What a phone keeps of a client: the sessions that wait to be sent, and what the
// log must know of the person while there is no connection. Pages and the service
// worker share this. Everything carries the id of the account it belongs to.

let opened;

function base() {
  return opened ??= new Promise((done, failed) => {
    const asked = indexedDB.open("brae", 1);
    asked.onupgradeneeded = () => {
      asked.result.createObjectStore("queue", { keyPath: "id" });
      asked.result.createObjectStore("kept");
    };
    asked.onsuccess = () => {
      asked.result.onclose = asked.result.onversionchange = () => { asked.result.close(); opened = undefined; };
      done(asked.result);
    };
    asked.onerror = asked.onblocked = () => { opened = undefined; failed(asked.error); };
  });
}

// within does something in one transaction, and returns what its last question
// found once that is safely stored.
async function within(name, mode, what) {
  const t = (await base()).transaction(name, mode, { durability: "strict" });
  return new Promise((done, failed) => {
    const asked = what(t.objectStore(name));
    t.oncomplete = () => done(asked?.result);
    t.onabort = t.onerror = () => failed(t.error);
  });
}

const theKit = () => within("kept", "readonly", (s) => s.get("kit"));
const forget = () => within("kept", "readwrite", (s) => s.clear());
const keep = (entry) => within("queue", "readwrite", (s) => s.put(entry));
const drop = (id) => within("queue", "readwrite", (s) => s.delete(id));

// queue lists what an account has waiting, the oldest first.
async function queue(account) {
  const all = await within("queue", "readonly", (s) => s.getAll());
  return all.filter((e) => e.account === account).sort((a, b) => a.made - b.made);
}

// settle puts another entry, or none, in the place of one that was sent, unless
// the person has changed it since.
const settle = (sent, then) => within("queue", "readwrite", (s) => {
  s.get(sent.id).onsuccess = (found) => {
    if (found.target.result?.body !== sent.body) return;
    if (then) s.put(then); else s.delete(sent.id);
  };
});

// alone lets no two tabs or workers send at the same time.
let before = Promise.resolve();
const alone = (work) => navigator.locks ? navigator.locks.request("brae-outbox", work) : (before = before.then(work, work));

// stamp is an instant in this phone's own zone, as RFC 3339 writes it.
function stamp(at) {
  const east = -at.getTimezoneOffset();
  const two = (n) => String(Math.trunc(Math.abs(n))).padStart(2, "0");
  return new Date(+at + east * 60_000).toISOString().slice(0, 19) + (east < 0 ? "-" : "+") + two(east / 60) + ":" + two(east % 60);
}

// send sends an entry once, and returns the status and what was said. What did not
// get through, or must be tried again, has the status of a server that is away.
async function send(entry) {
  const body = new URLSearchParams(entry.body);
  body.set("sent_at", stamp(new Date()));
  try {
    const answer = await fetch("/log", {
      method: "POST", body, redirect: "manual", signal: AbortSignal.timeout?.(20_000),
      headers: { Accept: "application/json", "Brae-Account": entry.account },
    });
    const said = answer.headers.get("Content-Type")?.includes("json") ? await answer.json() : {};
    if (answer.ok && said.id || !answer.ok && ![408, 429].includes(answer.status)) return { status: answer.status, said };
  } catch { /* no network, or one in name only */ }
  return { status: 503, said: {} };
}

// flush sends what an account has waiting until one does not get through. It
// returns the answers by id, and whether it must be tried again.
const flush = (account) => alone(async () => {
  const done = { said: {}, again: false };
  for (const entry of await queue(account)) {
    if (entry.state) continue; // the person has to do something about it first
    const { status, said } = await send(entry);
    if (status === 0 || status === 401 || status === 403) {
      await settle(entry, { ...entry, out: true });
      break;
    }
    if (status >= 500) {
      done.again = true; // not now
      break;
    }
    if (status < 300) {
      done.said[entry.id] = said;
      const tell = ["ease", "stop", "emergency"].includes(said.level);
      await settle(entry, tell && { ...entry, state: "told", said });
    } else {
      await settle(entry, { ...entry, state: status === 409 ? "conflict" : "refused", said });
    }
  }
  return done;
});
