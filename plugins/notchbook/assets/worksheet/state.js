/* What was typed, kept on the device between two visits: it survives a reload, a closed browser and a lost network. */

(function (worksheet) {
  "use strict";

  const VERSION = 1;

  /* Only texts under names come back, whatever stands in the store. */
  function texts(value) {
    const found = {};
    for (const [name, text] of Object.entries(value && typeof value === "object" ? value : {})) {
      if (typeof text === "string") found[name] = text;
    }
    return found;
  }

  function parsed(text) {
    try {
      const value = JSON.parse(text || "null");
      if (!value || value.version !== VERSION || !Array.isArray(value.bars)) return null;
      return { fields: texts(value.fields), bars: value.bars.map(texts) };
    } catch {
      return null;
    }
  }

  /* The store of one exercise of one site: another handbook on the same host keeps its own. Where a browser refuses to
     keep anything, `save` says so by giving false. */
  function open(exercise, siteAddress) {
    const key = `notchbook-worksheet ${new URL(siteAddress, location.href).pathname} ${exercise}`;
    return Object.freeze({
      key,
      parsed,
      load() {
        try {
          return parsed(localStorage.getItem(key));
        } catch {
          return null;
        }
      },
      save(raw) {
        try {
          localStorage.setItem(key, JSON.stringify({ version: VERSION, ...raw }));
          return true;
        } catch {
          return false;
        }
      },
      clear() {
        try {
          localStorage.removeItem(key);
        } catch {
          // nothing was kept, so that there is nothing to clear
        }
      },
    });
  }

  worksheet.state = Object.freeze({ open });
})((globalThis.notchbookWorksheet = globalThis.notchbookWorksheet || {}));
