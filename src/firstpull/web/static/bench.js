/* Extras only: every page works without this file. Answers are sent in place, wait here while the line is down, and are
   sent once, because each form carries the id of its act. */
"use strict";

const OUTBOX = "firstpull-outbox";
const RETRY_MS = 3000;
const page = () => document.getElementById("page");
const waiting = () => { try { return JSON.parse(localStorage.getItem(OUTBOX)) || []; } catch { return []; } };
const keepWaiting = (acts) => localStorage.setItem(OUTBOX, JSON.stringify(acts));
const clock = () => new Date().toTimeString().slice(0, 5);

function say(words, busy) {
  const line = document.getElementById("outbox");
  line.textContent = words;
  line.hidden = !words;
  line.toggleAttribute("data-busy", Boolean(busy));
}

function sayWaiting() {
  const count = waiting().length;
  if (count) say(`Kept on this phone. ${count} ${count === 1 ? "waits" : "wait"} for the line.`);
}

/* Refused for now and not for good: what was entered stays on the phone. */
const NOT_NOW = [401, 429];
function sayNotNow(status) {
  say(status === 401 ? "Kept on this phone. Pair it again to send what waits." : "Kept on this phone. The bench asks to wait a little.");
}

async function post(act) {
  const token = document.querySelector("input[name=csrf]")?.value;
  const body = new URLSearchParams(act.body);
  if (token) body.set("csrf", token);
  return fetch(act.url, { method: "POST", body: body.toString(), redirect: "follow",
    headers: { "Content-Type": "application/x-www-form-urlencoded", "X-Part": "1" } });
}

function show(text, address, focus) {
  const found = new DOMParser().parseFromString(text, "text/html");
  if (!found.getElementById("page")) { location.assign(address); return; }
  page().replaceWith(found.getElementById("page"));
  document.title = found.title;
  if (address && new URL(address, location.href).href !== location.href) history.pushState({}, "", address);
  ready();
  const here = document.getElementById("errors") || document.querySelector("h1");
  if (focus && here) { here.tabIndex = -1; here.focus({ preventScroll: true }); scrollTo(0, 0); }
}

async function go(address) {
  const answer = await fetch(address);
  show(await answer.text(), answer.url, true);
}

/* The page shows what is known now. A first answer and the settled one follow, unless something was begun meanwhile. */
let following = null;
const begun = () => document.querySelector("form[data-sent], #page details[open]")
  || [...document.querySelectorAll("#page input:not([type=hidden]):not([type=radio]):not([type=checkbox])")].some((i) => i.value !== i.defaultValue);
async function followNews() {
  const mark = document.querySelector("[data-news]");
  if (!mark || following === mark) return;
  following = mark;
  const job = location.pathname.match(/^\/job\/[^/]+/);
  while (job && mark.isConnected) {
    try {
      const answer = await fetch(`${job[0]}/news?after=${encodeURIComponent(mark.dataset.news)}`);
      if (!mark.isConnected) return;
      if (answer.status === 204) continue;
      if (!answer.ok) return;
      const text = await answer.text();
      if (!mark.isConnected) return;
      if (begun()) {
        const line = mark.matches(".rough") ? mark : mark.querySelector("h1");
        line.textContent = "A better reckoning is ready: open the job again to see it.";
        return;
      }
      show(text, "", false);
    } catch {
      await new Promise((done) => setTimeout(done, RETRY_MS));
    }
  }
}

async function follow(answer) {
  if (answer.status === 204) {
    say(`Kept on the bench, ${clock()}. Reckoning the next step.`, true);
    await go(answer.headers.get("X-Next"));
    if (!waiting().length) say("");
  } else {
    show(await answer.text(), "", true);
  }
}

document.addEventListener("submit", async (event) => {
  const form = event.target;
  const by = event.submitter;
  if (form.method !== "post" || form.enctype !== "application/x-www-form-urlencoded" || !form.querySelector("[name=act]")) return;
  event.preventDefault();
  if (form.dataset.sent) return;
  form.dataset.sent = "yes";
  by?.setAttribute("aria-busy", "true");
  const fields = new URLSearchParams(new FormData(form, by));
  const act = { url: by?.getAttribute("formaction") || form.getAttribute("action"), body: fields.toString() };
  let answer = null;
  try {
    answer = await post(act);
  } catch {
    keepWaiting([...waiting(), act]);
    sayWaiting();
  }
  if (answer && NOT_NOW.includes(answer.status)) {
    keepWaiting([...waiting(), act]);
    sayNotNow(answer.status);
    answer = null;
  }
  try {
    if (answer) await follow(answer);
  } catch {
    say(`Kept on the bench, ${clock()}. The next page did not come: open the job again.`);
  }
  by?.removeAttribute("aria-busy");
});

let sending = false;
async function empty() {
  if (sending || !waiting().length) return;
  sending = true;
  try {
    while (waiting().length) {
      const [first, ...rest] = waiting();
      const answer = await post(first);
      if (NOT_NOW.includes(answer.status)) { sayNotNow(answer.status); return; }
      keepWaiting(rest);
      if (answer.status !== 204 && !answer.ok) {
        show(await answer.text(), "", true);
        say("One act that waited needs a look.");
        return;
      }
    }
    await go(location.href);
    say(`Kept on the bench, ${clock()}. Sent once.`);
    setTimeout(() => say(""), 6000);
  } catch {
    sayWaiting();
  } finally {
    sending = false;
  }
}

/* A strip is fetched only when it is asked for. */
document.addEventListener("toggle", async (event) => {
  const box = event.target;
  if (!box.matches?.("details[data-load]") || !box.open || box.dataset.loaded) return;
  box.dataset.loaded = "yes";
  try {
    const answer = await fetch(box.dataset.load);
    const found = new DOMParser().parseFromString(await answer.text(), "text/html").getElementById("strip-here");
    if (answer.ok && found) box.querySelector(".loaded").replaceChildren(...found.childNodes);
  } catch {
    delete box.dataset.loaded;
  }
}, true);

/* A picture is sent as soon as it is taken. */
document.addEventListener("change", (event) => {
  if (event.target.matches?.("input[data-send]") && event.target.files.length) event.target.form.requestSubmit();
});

/* The drawn keypad on a reading's own sheet; the field stays a field. */
function keypad() {
  const entry = document.querySelector(".large-entry");
  if (!entry || entry.querySelector(".keypad")) return;
  const field = entry.querySelector("input[name=value]");
  const pad = document.createElement("div");
  pad.className = "keypad";
  for (const key of ["1", "2", "3", "4", "5", "6", "7", "8", "9", ".", "0", "Rub out"]) {
    const button = document.createElement("button");
    button.type = "button";
    button.textContent = key;
    if (key === ".") button.setAttribute("aria-label", "point");
    button.addEventListener("click", () => {
      field.value = key === "Rub out" ? field.value.slice(0, -1) : (field.value + key).slice(0, 12);
    });
    pad.append(button);
  }
  entry.querySelector(".keep").before(pad);
  if (matchMedia("(pointer: coarse)").matches) field.inputMode = "none";
}

/* The phone stays awake while a step is open. */
let awake = null;
async function stayAwake() {
  if (!("wakeLock" in navigator) || document.hidden || !document.querySelector("form.card")) return;
  try { awake = awake && !awake.released ? awake : await navigator.wakeLock.request("screen"); } catch { awake = null; }
}

function ready() { keypad(); stayAwake(); sayWaiting(); followNews(); }

addEventListener("online", empty);
addEventListener("popstate", () => location.reload());
document.addEventListener("visibilitychange", stayAwake);
setInterval(empty, RETRY_MS);
ready();
empty();
