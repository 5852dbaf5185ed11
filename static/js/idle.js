// Warns staff before the sign-in ends for want of use, so that what was typed is
// not lost. Other windows of the same browser keep it alive, too: they share the
// time of the last request, and nothing else.

const idle = Number(document.body.dataset.idle) * 60_000;
const early = 3 * 60_000; // two to read it, one since the server counts in minutes
const key = "brae-last-request";
const touch = () => { try { localStorage.setItem(key, Date.now()); } catch { own = Date.now(); } };
const last = () => { try { return Number(localStorage.getItem(key)) || own; } catch { return own; } };

let own = Date.now();
let notice;

touch();
setInterval(look, 10_000);
addEventListener("focus", look);

function look() {
  const rest = last() + idle - Date.now();
  if (rest > early) {
    notice?.remove();
    notice = undefined;
  } else if (!notice) {
    show();
  }
  if (notice && rest <= 0) notice.firstChild.textContent = "You are signed out. Copy what you have typed before you go on.";
}

function show() {
  notice = document.createElement("div");
  notice.className = "idle";
  notice.role = "alert";
  const text = document.createElement("p");
  text.textContent = "You will be signed out in two minutes, because this page was not used. What you have typed is still here.";
  const stay = document.createElement("button");
  stay.type = "button";
  stay.className = "button";
  stay.textContent = "Stay signed in";
  stay.addEventListener("click", keep);
  notice.append(text, stay);
  document.body.append(notice);
}

async function keep() {
  try {
    const answer = await fetch("/account", { redirect: "manual" });
    if (!answer.ok) throw new Error();
    own = Date.now();
    touch();
    look();
  } catch {
    notice.firstChild.textContent = "This did not work. Copy what you have typed, then load the page again.";
  }
}
