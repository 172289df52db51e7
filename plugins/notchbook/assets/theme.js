/* Names for what the theme leaves without one: its search, and the arrows that unfold its navigation. */

(function () {
  "use strict";

  function start() {
    const search = document.querySelector(".md-search[role=dialog]:not([aria-label])");
    if (search) search.setAttribute("aria-label", "Search");
    for (const arrow of document.querySelectorAll("label.md-nav__link[id]")) {
      const page = arrow.parentElement.querySelector("a.md-nav__link");
      if (!page || arrow.textContent.trim()) continue;
      const name = document.createElement("span");
      name.className = "nb-unseen";
      name.textContent = "Pages under " + page.textContent.trim();
      arrow.append(name);
    }
  }

  // a theme that changes pages without loading them anew tells of each page here
  if (window.document$) window.document$.subscribe(start);
  else if (document.readyState === "loading") document.addEventListener("DOMContentLoaded", start);
  else start();
})();
