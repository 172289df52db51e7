/* Marks verifications that ended since the site was built: a page is read for longer than it is new. */

(function () {
  "use strict";

  /* The reader's own day, as dates are written in the pages. */
  function today() {
    const now = new Date();
    const two = number => String(number).padStart(2, "0");
    return now.getFullYear() + "-" + two(now.getMonth() + 1) + "-" + two(now.getDate());
  }

  function start() {
    for (const each of document.querySelectorAll("time.nb-until:not([data-ended])")) {
      if (each.dateTime >= today()) continue;
      each.dataset.ended = "";
      const mark = document.createElement("b");
      mark.className = "nb-warning";
      mark.textContent = " (ended)";
      each.after(mark);
    }
  }

  // a theme that changes pages without loading them anew tells of each page here
  if (window.document$) window.document$.subscribe(start);
  else if (document.readyState === "loading") document.addEventListener("DOMContentLoaded", start);
  else start();
})();
