/* The table of all records: shows the rows that fit the choices above it, and keeps the choices in the address. */

(function () {
  "use strict";

  function start() {
    const controls = document.querySelector(".nb-filters[hidden]");
    if (!controls) return;
    const selects = Array.from(controls.querySelectorAll("select[data-filter]"));
    const rows = Array.from(document.querySelectorAll("table.nb-records tbody tr"));
    const count = controls.querySelector(".nb-count");

    /* Choices that the address names and that are there; all others are open. */
    function readAddress() {
      const named = new URLSearchParams(location.hash.slice(1));
      for (const select of selects) {
        const wanted = named.get(select.dataset.filter) || "";
        select.value = wanted;
        if (select.selectedIndex < 0) select.value = "";
      }
    }

    function writeAddress() {
      const named = new URLSearchParams();
      for (const select of selects) {
        if (select.value) named.set(select.dataset.filter, select.value);
      }
      // only the part behind # may change on a page that was opened from a disk
      const text = named.toString();
      history.replaceState(history.state, "", text ? "#" + text : location.pathname + location.search);
    }

    function show() {
      const chosen = selects.filter(select => select.value);
      let shown = 0;
      for (const row of rows) {
        const fits = chosen.every(select => row.dataset[select.dataset.filter] === select.value);
        row.hidden = !fits;
        if (fits) shown += 1;
      }
      const noun = rows.length === 1 ? " record" : " records";
      count.textContent = shown + " of " + rows.length + noun + (shown ? "" : ": none fits all choices");
    }

    controls.addEventListener("change", function () {
      writeAddress();
      show();
    });
    controls.querySelector("[data-filter-reset]").addEventListener("click", function () {
      for (const select of selects) select.value = "";
      writeAddress();
      show();
      selects[0].focus();
    });
    window.addEventListener("hashchange", function () {
      readAddress();
      show();
    });
    readAddress();
    show();
    controls.hidden = false;
  }

  // a theme that changes pages without loading them anew tells of each page here
  if (window.document$) window.document$.subscribe(start);
  else if (document.readyState === "loading") document.addEventListener("DOMContentLoaded", start);
  else start();
})();
