/* Search in a site that is opened from a disk: browsers start no worker there, so its script runs in a hidden frame. */

(function () {
  "use strict";
  if (location.protocol !== "file:") return;

  /* Stands for the browser's Worker, as far as the theme's search uses one. */
  class FrameWorker extends EventTarget {
    constructor(address) {
      super();
      const source = new URL(address, document.baseURI).href;
      const frame = document.createElement("iframe");
      frame.hidden = true;
      frame.title = "Search";
      frame.srcdoc = "<!doctype html><title>Search</title>";
      this.ready = new Promise((resolve, reject) => {
        frame.addEventListener("load", () => {
          const inside = frame.contentWindow;
          // what the script posts goes to the page, as from a worker
          inside.postMessage = data => this.dispatchEvent(new MessageEvent("message", { data }));
          inside.importScripts = (...sources) =>
            sources.reduce((before, each) => before.then(() => run(inside, each)), Promise.resolve());
          run(inside, source).then(() => resolve(inside), reject);
        }, { once: true });
      });
      this.ready.catch(error => this.dispatchEvent(new ErrorEvent("error", { message: error.message })));
      this.frame = frame;
      document.body.append(frame);
    }

    postMessage(data) {
      this.ready.then(inside => inside.dispatchEvent(new inside.MessageEvent("message", { data })), () => {});
    }

    terminate() {
      this.frame.remove();
    }
  }

  function run(inside, source) {
    return new Promise((resolve, reject) => {
      const script = inside.document.createElement("script");
      script.src = source;
      script.addEventListener("load", () => resolve());
      script.addEventListener("error", () => reject(new Error("cannot read " + source)));
      inside.document.head.append(script);
    });
  }

  window.Worker = FrameWorker;
  // the theme's search looks for this name where it loads the rules of other languages
  window.IFrameWorker = FrameWorker;
})();
