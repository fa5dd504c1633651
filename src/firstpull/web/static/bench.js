/* Extras only: every page works without this file. Answers are sent in place, wait here while the line is down, and are
   sent once, because each form carries the id of its act. */
"use strict";

const OUTBOX = "firstpull-outbox";
const RETRY_MS = 3000;
const page = () => document.getElementById("page");
const waiting = () => { try { return JSON.parse(localStorage.getItem(OUTBOX)) || []; } catch { return []; } };
const keepWaiting = (acts) => localStorage.setItem(OUTBOX, JSON.stringify(acts));
const clock = () => new Date().toTimeString().slice(0, 5);

/* What `stays` makes room for itself: it must not lie over the machine's number or what is dangerous about it. */
function say(words, busy, stays) {
  const line = document.getElementById("outbox");
  line.textContent = words;
  line.hidden = !words;
  line.toggleAttribute("data-busy", Boolean(busy));
  document.documentElement.style.setProperty("--told", words && stays ? `${Math.ceil(line.getBoundingClientRect().height)}px` : "0px");
}

function sayWaiting() {
  const acts = waiting();
  const count = acts.length;
  if (!count) return;
  const what = acts.every((act) => act.picture) ? (count === 1 ? " picture" : " pictures") : "";
  say(`Kept on this phone. ${count}${what} ${count === 1 ? "waits" : "wait"} for the line.`, false, true);
}

/* A picture is made small before it is sent or waits: large enough to read a part number, small enough for paper. */
const LONGEST_SIDE = 1600;
const SMALL_BYTES = 700_000;
const LARGEST_BYTES = 15_000_000;
const MOST_PICTURES = 20;
async function small(file) {
  try {
    const drawn = await createImageBitmap(file);
    const scale = Math.min(1, LONGEST_SIDE / Math.max(drawn.width, drawn.height));
    if (scale === 1 && file.type === "image/jpeg" && file.size <= SMALL_BYTES) return file;
    const sheet = document.createElement("canvas");
    sheet.width = Math.round(drawn.width * scale);
    sheet.height = Math.round(drawn.height * scale);
    const pen = sheet.getContext("2d");
    pen.fillStyle = "white";
    pen.fillRect(0, 0, sheet.width, sheet.height);
    pen.drawImage(drawn, 0, 0, sheet.width, sheet.height);
    let made = null;
    for (const quality of [0.8, 0.6, 0.4]) {
      made = await new Promise((done) => sheet.toBlob(done, "image/jpeg", quality));
      if (made && made.size <= SMALL_BYTES) break;
    }
    return made || file;
  } catch {
    return file; /* what this phone cannot draw goes as it is, and the bench says what it makes of it */
  }
}

/* The bytes of pictures that wait; the act in the outbox names them. */
function album(mode, ask) {
  return new Promise((done, failed) => {
    const opened = indexedDB.open("firstpull-pictures", 1);
    opened.onupgradeneeded = () => opened.result.createObjectStore("pictures");
    opened.onerror = () => failed(opened.error);
    opened.onsuccess = () => {
      const book = opened.result;
      const change = book.transaction("pictures", mode);
      const asked = ask(change.objectStore("pictures"));
      change.oncomplete = () => { book.close(); done(asked.result); };
      change.onabort = () => { book.close(); failed(change.error); };
    };
  });
}

/* Keeps an act on this phone until the line is back; whether it could. */
async function keep(act) {
  try {
    if (act.picture) {
      if (waiting().filter((one) => one.picture).length >= MOST_PICTURES) throw new Error("full");
      const name = new URLSearchParams(act.body).get("act");
      await album("readwrite", (pictures) => pictures.put(act.picture, name));
      act = { ...act, picture: name };
    }
    keepWaiting([...waiting(), act]);
    return true;
  } catch {
    say("Not kept: this phone has no room for more. Do it again when the line is back.");
    return false;
  }
}

/* Refused for now and not for good: what was entered stays on the phone. */
const NOT_NOW = [401, 429];
function sayNotNow(status) {
  const why = status === 401 ? "Pair it again to send what waits." : "The bench asks to wait a little.";
  say(`Kept on this phone. ${why}`, false, true);
}

async function post(act) {
  const token = document.querySelector("input[name=csrf]")?.value;
  const body = new URLSearchParams(act.body);
  if (token) body.set("csrf", token);
  if (act.picture) return postPicture(act, body);
  return fetch(act.url, { method: "POST", body: body.toString(), redirect: "follow",
    headers: { "Content-Type": "application/x-www-form-urlencoded", "X-Part": "1" } });
}

async function postPicture(act, fields) {
  const bytes = act.picture instanceof Blob ? act.picture : await album("readonly", (pictures) => pictures.get(act.picture));
  const body = new FormData();
  fields.forEach((value, name) => body.append(name, value));
  if (bytes) body.append("picture", bytes, "picture");
  return fetch(act.url, { method: "POST", body, redirect: "follow", headers: { "X-Part": "1" } });
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

/* A sheet that takes long is looked for until it is there. */
async function awaitSheet() {
  const mark = document.querySelector("[data-wait]");
  if (!mark || mark.dataset.waits) return;
  mark.dataset.waits = "yes";
  while (mark.isConnected) {
    await new Promise((done) => setTimeout(done, 1000));
    try {
      const answer = await fetch(location.href);
      if (!mark.isConnected || answer.status === 202) continue;
      const words = (answer.headers.get("Content-Type") || "").startsWith("text/html");
      if (words) show(await answer.text(), answer.url, true);
      else location.reload();  // a sheet for the printer
      return;
    } catch { /* the line is down: look again */ }
  }
}

async function follow(answer) {
  if (answer.status === 204) {
    say(`Kept on the bench, ${clock()}. Reckoning the next step.`, true);
    await go(answer.headers.get("X-Next"));
    if (!waiting().length) say("");
  } else {
    if (answer.status === 422 && !waiting().length) say("");
    show(await answer.text(), "", true);
  }
}

/* What a form says, or nothing where the form is not for this script. */
function actOf(form, by) {
  const picture = form.querySelector("input[type=file]")?.files[0];
  if (form.method !== "post" || !form.querySelector("[name=act]")) return null;
  if (form.enctype !== "application/x-www-form-urlencoded" && !picture) return null;
  const fields = [...new FormData(form, by)].filter(([, value]) => typeof value === "string");
  return { url: by?.getAttribute("formaction") || form.getAttribute("action"), body: new URLSearchParams(fields).toString(), picture };
}

document.addEventListener("submit", async (event) => {
  const form = event.target;
  const by = event.submitter;
  const act = actOf(form, by);
  if (!act) return;
  event.preventDefault();
  if (form.dataset.sent) return;
  form.dataset.sent = "yes";
  by?.setAttribute("aria-busy", "true");
  if (act.picture) {
    say("Sending the picture.", true);
    act.picture = await small(act.picture);
    if (act.picture.size > LARGEST_BYTES) {
      say(`Not kept: this picture has more than ${LARGEST_BYTES / 1e6} MB.`);
      by?.removeAttribute("aria-busy");
      anew(form);
      return;
    }
  }
  let answer = null;
  try {
    answer = await post(act);
  } catch {
    if (await keep(act)) sayWaiting();
    else delete form.dataset.sent;
    if (act.picture) anew(form);
  }
  if (answer && NOT_NOW.includes(answer.status)) {
    if (await keep(act)) sayNotNow(answer.status);
    if (act.picture) anew(form);
    answer = null;
  }
  try {
    if (answer) await follow(answer);
  } catch {
    say(`Kept on the bench, ${clock()}. The next page did not come: open the job again.`);
  }
  by?.removeAttribute("aria-busy");
});

/* The page stays, and so does its form: the next picture is an act of its own. */
function anew(form) {
  form.reset();
  const act = form.querySelector("[name=act]");
  act.value = `${act.value.split("~")[0]}~${Date.now().toString(36)}`;
  delete form.dataset.sent;
}

let sending = false;
async function empty() {
  if (sending || !waiting().length) return;
  sending = true;
  try {
    while (waiting().length) {
      const [first] = waiting();
      const answer = await post(first);
      if (NOT_NOW.includes(answer.status)) { sayNotNow(answer.status); return; }
      keepWaiting(waiting().slice(1)); /* what came meanwhile stays */
      if (first.picture) await album("readwrite", (pictures) => pictures.delete(first.picture));
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

function ready() { keypad(); stayAwake(); sayWaiting(); followNews(); awaitSheet(); }

addEventListener("online", empty);
addEventListener("popstate", () => location.reload());
document.addEventListener("visibilitychange", stayAwake);
setInterval(empty, RETRY_MS);
ready();
empty();
