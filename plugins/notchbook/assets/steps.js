/* The steps of an exercise: ticks that stay on this device, and the hazards folded where a screen is narrow. */

(function () {
  "use strict";

  const NARROW = "(max-width: 45em)";
  const HALF_A_DAY_ms = 12 * 3600 * 1000;

  /* What this device remembers; nothing where it is told to remember nothing. */
  function remembered(key) {
    try {
      const found = JSON.parse(localStorage.getItem(key));
      return found && Array.isArray(found.ticked) ? found : null;
    } catch {
      return null;
    }
  }

  function remember(key, state) {
    try {
      localStorage.setItem(key, JSON.stringify(state));
      return true;
    } catch {
      return false;
    }
  }

  function startSteps(bar) {
    const boxes = Array.from(document.querySelectorAll(".nb-steps .nb-tick"));
    const status = bar.querySelector("[role=status]");
    const button = bar.querySelector("button");
    const clears = button.textContent;
    // handbooks of one host, or of one disk, do not share their ticks
    const site = new URL(bar.dataset.home, location.href).pathname.replace(/index\.html$/, "");
    const key = site + "#steps-" + bar.dataset.exercise;
    let cleared = null;

    function ticked() {
      return boxes.flatMap((box, place) => (box.checked ? [place] : []));
    }

    function show(words) {
      const count = ticked().length;
      status.textContent = count + " of " + boxes.length + " done" + (words ? ". " + words : "");
      button.textContent = cleared ? "Bring the ticks back" : clears;
      button.disabled = !cleared && count === 0;
    }

    function keep() {
      const state = { version: bar.dataset.version, ticked: ticked(), time_ms: Date.now() };
      show(remember(key, state) ? "" : "This browser keeps nothing: the ticks go when the page is left.");
    }

    function tick(places) {
      boxes.forEach((box, place) => { box.checked = places.includes(place); });
    }

    const before = remembered(key);
    let words = "";
    if (before && before.ticked.length && before.version !== bar.dataset.version) {
      words = "The procedure has changed since the steps were ticked: begin again.";
    } else if (before) {
      tick(before.ticked);
      if (before.ticked.length && Date.now() - before.time_ms > HALF_A_DAY_ms) {
        const day = new Date(before.time_ms).toLocaleDateString("en-GB", { day: "numeric", month: "long", year: "numeric" });
        words = "Ticked last on " + day + ".";
      }
    }
    for (const box of boxes) {
      box.hidden = false;
      box.addEventListener("change", function () {
        cleared = null;
        keep();
      });
    }
    button.addEventListener("click", function () {
      const back = cleared;
      cleared = back ? null : ticked();
      tick(back || []);
      keep();
    });
    bar.hidden = false;
    show(words);
  }

  /* A link to a hazard opens it; the name of the hazard and what it does stand there in any case. */
  function openNamed() {
    const named = document.getElementById(location.hash.slice(1));
    if (named && named.matches("details.nb-hazard")) named.open = true;
  }

  function start() {
    const bar = document.querySelector(".nb-progress[hidden]");
    if (!bar) return;
    startSteps(bar);
    if (matchMedia(NARROW).matches) {
      for (const each of document.querySelectorAll("details.nb-hazard")) each.open = false;
    }
    for (const link of document.querySelectorAll(".nb-bite a")) {
      // also where the address names that hazard already
      link.addEventListener("click", () => setTimeout(openNamed));
    }
    addEventListener("hashchange", openNamed);
    openNamed();
  }

  // a theme that changes pages without loading them anew tells of each page here
  if (window.document$) window.document$.subscribe(start);
  else if (document.readyState === "loading") document.addEventListener("DOMContentLoaded", start);
  else start();
})();
