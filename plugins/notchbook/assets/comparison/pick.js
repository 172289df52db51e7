/* The page on which a reader picks two sets: tells of them as soon as both are chosen, and keeps the choice in the
   address. */

(function (worksheet) {
  "use strict";

  function start() {
    const form = document.querySelector("form.nb-two-sets[hidden]");
    if (!form) return;
    const data = JSON.parse(form.querySelector("script").textContent);
    const selects = Array.from(form.querySelectorAll("select"));
    const parts = Array.from(form.querySelectorAll("[data-told]"));
    for (const select of selects) {
      data.sets.forEach((each, place) => select.append(new Option(each.title, String(place))));
    }

    function nameOf(each) {
      return `${each.record}:${each.letters}`;
    }

    function show() {
      const chosen = selects.map(select => data.sets[select.value]);
      const found = chosen.every(Boolean) ? worksheet.twoSets.told(...chosen, data) : null;
      for (const part of parts) {
        const text = found ? found[part.dataset.told] : "";
        part.textContent = text;
        part.parentElement.hidden = !text;
      }
      // only the part behind # may change on a page that was opened from a disk
      const named = chosen.every(Boolean) ? `#${chosen.map(nameOf).map(encodeURIComponent).join(",")}` : "";
      history.replaceState(history.state, "", named || location.pathname + location.search);
    }

    const named = location.hash.slice(1).split(",").map(decodeURIComponent);
    selects.forEach((select, place) => {
      const at = data.sets.findIndex(each => nameOf(each) === named[place]);
      if (at >= 0) select.value = String(at);
    });
    form.addEventListener("change", show);
    form.addEventListener("submit", event => event.preventDefault());
    show();
    form.hidden = false;
  }

  // a theme that changes pages without loading them anew runs the scripts of each page again
  if (document.readyState === "loading") document.addEventListener("DOMContentLoaded", start);
  else start();
})((globalThis.notchbookWorksheet = globalThis.notchbookWorksheet || {}));
