/* The theme asks for the search index with every page, and on a phone that is more than the page itself. Here it waits
   until somebody turns to the search; where a theme asks in another way, this changes nothing. */

(function () {
  "use strict";
  const SEARCH = "[data-md-component=search], [data-md-toggle=search], [for=__search]";
  const wanted = new Promise(resolve => {
    const turned = event => {
      if (event.target instanceof Element && event.target.closest(SEARCH)) resolve();
    };
    // the pointer is there a moment before the click; an address with words to search for sets the focus
    for (const type of ["focusin", "change", "pointerover"]) document.addEventListener(type, turned, true);
  });
  const { open, send } = XMLHttpRequest.prototype;
  XMLHttpRequest.prototype.open = function (method, address, ...others) {
    if (/\/search\/search_index\.json$/.test(String(address))) {
      this.send = body => { wanted.then(() => send.call(this, body)); };
    }
    return open.call(this, method, address, ...others);
  };
})();
