/* Keeps the handbook for when there is no network. The line above this one says which version it is and what it holds.

   What comes from the network is always shown before what is kept, so that nobody who is online reads an old procedure.
   What is kept is all of one version; a file that did not change is taken over from the version before it. */

"use strict";

const SCOPE = self.registration.scope;
const OWN = "notchbook " + SCOPE + " ";
const CACHE = OWN + SITE.version;
const VISITED = OWN + "visited";
const LIST = address("service-worker-kept.json");
const AT_ONCE = 6;
const PATIENCE_MS = 3000;
const SLOW_MS = 60000;
const LISTED = new Set([...Object.keys(SITE.first), ...Object.keys(SITE.later)].map(address));

const keptPages = new Set();
let slowUntil = 0;
let filling = null;

function address(path) {
  return new URL(path.split("/").map(encodeURIComponent).join("/"), SCOPE).href;
}

/* The caches of the versions before this one. */
async function namesBefore() {
  return (await caches.keys()).filter(name => name.startsWith(OWN) && name !== CACHE && name !== VISITED);
}

/* For each file of the versions before this one, by path and contents, where it is. */
async function filesBefore() {
  const found = new Map();
  for (const name of await namesBefore()) {
    const cache = await caches.open(name);
    const list = await cache.match(LIST);
    if (!list) continue;
    for (const [path, contents] of Object.entries((await list.json()).files)) found.set(path + " " + contents, cache);
  }
  return found;
}

/* A browser refuses to show a page whose answer was redirected. */
function direct(response) {
  if (!response.redirected) return response;
  return new Response(response.body, { status: response.status, headers: response.headers });
}

async function keep(cache, before, path, contents) {
  const there = before.get(path + " " + contents);
  const response = (there && (await there.match(address(path)))) || (await fetch(address(path), { cache: "no-cache" }));
  if (!response.ok) throw Object.assign(new Error(path + ": " + response.status), { refused: response.status < 500 });
  await cache.put(address(path), direct(response));
}

/* Fetch what is missing and say whether all is there; where all are needed, one that cannot be had now fails this. What
   a server refuses is not waited for: it would stand in the way of all the others for ever. */
async function fill(files, all) {
  const cache = await caches.open(CACHE);
  const have = new Set((await cache.keys()).map(each => each.url));
  const missing = Object.entries(files).filter(([path]) => !have.has(address(path)));
  let whole = true;
  const before = await filesBefore();
  for (let at = 0; at < missing.length; at += AT_ONCE) {
    const some = missing.slice(at, at + AT_ONCE).map(([path, contents]) => keep(cache, before, path, contents));
    const lost = (await Promise.allSettled(some)).find(each => each.reason && !each.reason.refused);
    if (lost && all) throw lost.reason;
    if (lost) whole = false;
  }
  return whole;
}

/* A page says when this version may take over: a page that is asked for between install and activation may be lost. */
async function install() {
  const before = await namesBefore();
  await fill(SITE.first, true);
  const list = { files: { ...SITE.first, ...SITE.later }, before };
  await (await caches.open(CACHE)).put(LIST, new Response(JSON.stringify(list)));
}

/* Only what was there before this version: a newer one may be filling its cache at this moment. */
async function forgetBefore() {
  const list = await (await caches.open(CACHE)).match(LIST);
  if (!list || self.registration.installing) return;
  for (const name of (await list.json()).before) await caches.delete(name);
}

/* The rest in the background, and what the browser may have dropped; when all is there, the versions before it go. */
function fillRest() {
  filling = filling || fill({ ...SITE.first, ...SITE.later }, false)
    .then(whole => whole && forgetBefore())
    .finally(() => { filling = null; });
  return filling;
}

/* The file behind an address; some servers leave the ending of a page's name away. */
function file(url) {
  const plain = new URL(url);
  plain.hash = plain.search = "";
  const path = plain.href;
  if (path.endsWith("/")) return path + "index.html";
  return [path, path + ".html", path + "/index.html"].find(each => LISTED.has(each)) || path;
}

/* Other sites may lie below this one: their files are neither answered nor kept. */
function isOwn(url) {
  const path = file(url);
  return LISTED.has(path) || SITE.folders.some(each => path.startsWith(SCOPE + each));
}

async function kept(url) {
  const path = file(url);
  const found = await (await caches.open(CACHE)).match(path);
  return found || (await (await caches.open(VISITED)).match(path));
}

function inTime(promise, limit) {
  if (!limit) return promise;
  return new Promise((resolve, reject) => {
    const timer = setTimeout(() => {
      slowUntil = Date.now() + SLOW_MS;
      reject(new Error("slow"));
    }, limit);
    promise.then(resolve, reject).finally(() => clearTimeout(timer));
  });
}

function notKept() {
  const words = "<!doctype html><html lang=\"en\"><meta charset=\"utf-8\"><meta name=\"viewport\" " +
    "content=\"width=device-width\"><title>Not kept</title><h1>This page is not kept on this device</h1>" +
    "<p>There is no network. <a href=\"" + SCOPE + "\">Go to the handbook's first page</a>.</p></html>";
  return new Response(words, { status: 503, headers: { "content-type": "text/html; charset=utf-8" } });
}

/* Servers may allow pages to be stored for a while, and a browser that starts this worker asks for the page beside it:
   only a request of its own is sure to bring what the server has now. */
function newest(request) {
  return fetch(request.url, { cache: "no-cache", credentials: request.credentials, redirect: request.redirect });
}

async function answer(event) {
  const page = event.request.mode === "navigate";
  const own = await kept(event.request.url);
  const take = () => {
    if (page) keptPages.add(event.resultingClientId);
    return own;
  };
  if (own && Date.now() < slowUntil) return take();
  try {
    const response = await inTime(newest(event.request), own ? PATIENCE_MS : 0);
    if (response.status >= 500 && own) return take();
    if (page) keptPages.delete(event.resultingClientId);
    if (response.ok && !own && response.type === "basic") {
      const copy = response.clone();
      event.waitUntil(caches.open(VISITED).then(cache => cache.put(file(event.request.url), copy)));
    }
    return response;
  } catch (error) {
    if (own) return take();
    if (page) return notKept();
    throw error;
  }
}

self.addEventListener("install", event => event.waitUntil(install()));

// nothing is answered before this is over, so that the rest is not waited for
self.addEventListener("activate", event => event.waitUntil(self.clients.claim()));

self.addEventListener("fetch", event => {
  if (event.request.method !== "GET" || !event.request.url.startsWith(SCOPE) || !isOwn(event.request.url)) return;
  event.respondWith(answer(event));
});

self.addEventListener("message", event => {
  if (!event.data) return;
  if (event.data.ask === "take over") self.skipWaiting();
  if (event.data.ask !== "kept") return;
  event.ports[0].postMessage({ kept: keptPages.has(event.source.id), version: SITE.version });
  event.waitUntil(fillRest());
});
