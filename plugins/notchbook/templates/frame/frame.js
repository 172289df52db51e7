/* Where there is room beside the text, the pages and the contents are unfolded for those who hear the page, too. */

(function () {
  "use strict";
  for (const [name, width] of [["nb-side", "76.25em"], ["nb-toc", "60em"]]) {
    const fold = document.querySelector("." + name + " > details");
    const wide = matchMedia("(min-width: " + width + ")");
    const isBeside = name === "nb-toc" || !document.body.classList.contains("nb-no-side");
    if (!fold || !isBeside) continue;
    fold.open = wide.matches;
    wide.addEventListener("change", () => { fold.open = wide.matches; });
  }
})();
