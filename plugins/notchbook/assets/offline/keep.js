/* Keeps the handbook on the device after one visit, and says when what is shown is not the newest. */

(function () {
  "use strict";
  const base = new URL("../../", document.currentScript.src);
  if (!/^https?:$/.test(location.protocol) || !("serviceWorker" in navigator)) return;
  const workers = navigator.serviceWorker;
  const SOON_MS = 30000;
  const OFTEN_MS = 600000;
  const QUIET_MS = 2000;
  const opened = Date.now();
  let controlled = Boolean(workers.controller);
  let fromKept = false;

  function builtOn() {
    const time = document.querySelector(".nb-build time");
    return time ? time.textContent : "an unknown day";
  }

  /* A line at the foot of the screen; the same words are not said twice. */
  function say(words, button) {
    let bar = document.querySelector(".nb-told");
    if (!bar) {
      bar = document.createElement("div");
      bar.className = "nb-told";
      bar.setAttribute("role", "status");
      document.body.append(bar);
    }
    if (bar.dataset.words === words) return;
    bar.dataset.words = words;
    bar.hidden = !words;
    bar.replaceChildren(words);
    if (button) bar.append(button);
  }

  function sayKept() {
    say("No network, or a slow one: this is the handbook of " + builtOn() + ", kept on this device.");
  }

  function sayNewer() {
    const button = document.createElement("button");
    button.type = "button";
    button.textContent = "Show it";
    button.addEventListener("click", () => location.reload());
    say("A newer handbook is there. What you see is that of " + builtOn() + ".", button);
  }

  /* Asks the worker whether it took this page from what it keeps. */
  function ask() {
    if (!workers.controller) return;
    const channel = new MessageChannel();
    channel.port1.onmessage = event => {
      // a newer worker does not know what the one before it did for this page
      if (event.data.kept !== true || fromKept) return;
      fromKept = true;
      sayKept();
    };
    workers.controller.postMessage({ ask: "kept" }, [channel.port2]);
  }

  /* Another worker took this page over: another version of the handbook is there. Until it is active it shows nothing,
     and a page that is opened meanwhile may wait for ever. */
  function changed() {
    const worker = workers.controller;
    if (worker && worker.state === "activating") {
      worker.addEventListener("statechange", changed, { once: true });
      return;
    }
    // a page that came from the network a moment ago is of that version itself
    const isNew = !fromKept && Date.now() - opened < SOON_MS;
    if (controlled && !isNew) sayNewer();
    controlled = true;
    ask();
  }

  /* A newer worker takes over when nothing has been opened for a while: browsers may lose a page that is asked for just
     then. */
  function takeOver(registration) {
    setTimeout(() => {
      if (registration.waiting) registration.waiting.postMessage({ ask: "take over" });
    }, QUIET_MS);
  }

  function watch(registration) {
    const installing = () => {
      if (registration.installing) registration.installing.addEventListener("statechange", () => takeOver(registration));
    };
    takeOver(registration);
    installing();
    registration.addEventListener("updatefound", installing);
    const look = () => {
      if (document.visibilityState === "visible" && navigator.onLine) registration.update().catch(() => {});
    };
    document.addEventListener("visibilitychange", look);
    window.addEventListener("online", look);
    // a page stays open at a rig for an afternoon
    setInterval(look, OFTEN_MS);
    // browsers look by themselves, but some time after a page is there
    if (workers.controller) look();
  }

  window.addEventListener("offline", sayKept);
  window.addEventListener("online", () => { if (!fromKept) say(""); });
  ask();
  workers.addEventListener("controllerchange", changed);
  // after the page is there: keeping the others must not slow this one down
  window.addEventListener("load", () => {
    workers.register(new URL("service-worker.js", base), { scope: base.pathname }).then(watch, () => {});
  });
})();
