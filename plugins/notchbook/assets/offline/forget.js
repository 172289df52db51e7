/* In a preview nothing is kept: what an earlier build of the same address left is forgotten. */

(function () {
  "use strict";
  if (!("serviceWorker" in navigator)) return;
  const scope = new URL("../../", document.currentScript.src).href;
  navigator.serviceWorker.getRegistrations().then(registrations => {
    for (const each of registrations) if (each.scope === scope) each.unregister();
  });
})();
