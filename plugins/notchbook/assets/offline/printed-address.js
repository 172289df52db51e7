/* A site that was not told its address prints the one that it was opened from at the foot of each sheet. */

(function () {
  "use strict";
  // the theme names the address of a page that knows its own; a folder on a disk is nobody else's address
  if (!/^https?:$/.test(location.protocol) || document.querySelector("link[rel=canonical]")) return;
  const built = document.querySelector(".nb-build time");
  if (!built) return;
  const site = new URL("../../", document.currentScript.src).href;
  const words = site + "  ·  state of " + built.textContent;
  // CSS Syntax, 4.3.7: any character may stand as its number
  const escaped = words.replace(/[^A-Za-z0-9 .,:\/-]/gu, each => "\\" + each.codePointAt(0).toString(16) + " ");
  const style = document.createElement("style");
  style.textContent = '@page { @bottom-left { content: "' + escaped + '"; } }';
  document.head.append(style);
})();
